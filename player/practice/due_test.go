package practice_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// TestWhatIsDue of a routine, by what was danced and marked of it.
func TestWhatIsDue(t *testing.T) {
	timeline := sheet(t, "lantern-night-waltz")
	due := func(day int, passes ...practice.Kept) practice.Due {
		return practice.DueOf(timeline.Score, practice.NewHistory(timeline.Score, passes, time.UTC), practice.DayOf(evening(day)))
	}
	all := danced(timeline, evening(0), whole(timeline), 100)
	all.Dancers = routine.LeaderAlone
	part := danced(timeline, evening(0), timeline.Passage(0), 100)
	wrong := danced(timeline, evening(0), timeline.Passage(0), 100, bothMark(0, false)...)

	assert.Equal(t, "not danced yet", due(0).String())
	assert.Equal(t, "nothing due until Mon 7 Sep", due(0, all).String())
	assert.Equal(t, "8 figures due, 7 days overdue", due(10, all).String(), "what one partner never danced is not due for that one")
	assert.Equal(t, "1 figure due, 7 days overdue, 7 new figures", due(10, part).String())
	assert.Equal(t, "1 mark, 1 figure due, 9 days overdue, 7 new figures", due(10, wrong).String(), "both partners' marks on one figure are one thing to practise")

	watched := all
	watched.Judged = [2]bool{}
	assert.Equal(t, "8 new figures", due(10, watched).String(), "what nobody judged is not known, whenever that was")
	again := danced(timeline, evening(1), timeline.Passage(0), 80)
	assert.Equal(t, "1 mark", strings.Split(due(1, wrong, again).String(), ",")[0], "danced clean at a slower tempo, the mark stays")

	order := []practice.Due{due(10, wrong), due(10, part), due(0, part), due(0), due(0, all)}
	for i := range order {
		for k := range order {
			if i < k && !(i == 2 && k == 3) {
				assert.True(t, order[i].Before(order[k]), "%s comes before %s", order[i], order[k])
			}
			assert.False(t, order[i].Before(order[k]) && order[k].Before(order[i]))
		}
	}
}
