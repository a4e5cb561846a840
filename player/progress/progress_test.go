package progress_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/progress"
	"dance.example/slowquick/routine"
)

// evening returns when the Lantern Night class of a week begins; that of week 0 is on Friday, 4 September 2026.
func evening(week int) time.Time { return time.Date(2026, 9, 4+7*week, 19, 30, 0, 0, time.UTC) }

// pass is a run-through that both partners judged, at a tempo in beats a minute.
func pass(at time.Time, beats int, marks []practice.Mark, names ...string) practice.Kept {
	k := practice.Kept{At: at, Took: 90 * time.Second, Tempo: routine.Tempo(beats) * routine.BeatPerMinute, Finished: true, Judged: [2]bool{true, true}, Marks: marks}
	for _, name := range names {
		k.Danced = append(k.Danced, practice.Danced{Figure: practice.Figure{Dance: "Rumba", Name: name, Steps: name}, Whole: true})
	}
	return k
}

func TestProgressOverWeeks(t *testing.T) {
	both := []practice.Mark{{Place: 0, Partner: routine.Leader}, {Place: 0, Partner: routine.Follower}}
	watched := pass(evening(2), 200, nil, "Fan")
	watched.Judged = [2]bool{}
	part := pass(evening(2), 200, nil, "Fan")
	part.Danced[0].Whole = false
	kept := []practice.Kept{
		pass(evening(-9), 60, nil, "Alemana"), // too long ago
		pass(evening(0), 80, nil, "Fan", "Spot turn"),
		pass(evening(0).Add(time.Hour), 90, both, "Fan", "Spot turn"),
		pass(evening(0).Add(2*time.Hour), 99, both, "Fan", "Fan"), // well only the second time
		watched, part,
		pass(time.Date(2026, 9, 20, 23, 59, 0, 0, time.UTC), 96, nil, "Fan"), // a Sunday
		pass(time.Date(2026, 9, 21, 0, 0, 0, 0, time.UTC), 100, nil, "fan"),
	}
	now := time.Date(2026, 9, 22, 12, 0, 0, 0, time.UTC)
	p := progress.Over(kept, 4, now)
	require.Len(t, p.Mondays, 4)
	assert.Equal(t, time.Date(2026, 8, 31, 0, 0, 0, 0, time.UTC), p.Mondays[0])
	assert.Equal(t, []int{4, 0, 0, 0}, p.Marks)
	require.Len(t, p.Figures, 2)

	fan, turn := p.Figures[0], p.Figures[1]
	bpm := routine.BeatPerMinute
	assert.Equal(t, "fan", fan.Name, "as it was danced last")
	assert.Equal(t, []routine.Tempo{80 * bpm, 0, 96 * bpm, 100 * bpm}, fan.Clean)
	first, last, best := fan.Span()
	assert.Equal(t, []routine.Tempo{80 * bpm, 100 * bpm, 100 * bpm}, []routine.Tempo{first, last, best})
	assert.Zero(t, fan.Open, "danced clean since, and faster")
	assert.Equal(t, []routine.Tempo{90 * bpm, 0, 0, 0}, turn.Clean, "what was not marked went well")
	assert.Less(t, turn.Known, fan.Known, "what was not danced for long is forgotten sooner")
	assert.InDelta(t, 0.95, fan.Known, 0.05)

	p = progress.Over([]practice.Kept{watched}, 4, now)
	require.Len(t, p.Figures, 1)
	assert.Equal(t, -1.0, p.Figures[0].Known, "nobody said how it went")
	assert.Equal(t, make([]routine.Tempo, 4), p.Figures[0].Clean)
	p = progress.Over([]practice.Kept{pass(evening(2), 90, both, "Fan")}, 1, evening(2))
	assert.Equal(t, 2, p.Figures[0].Open)
	assert.Empty(t, progress.Over(nil, 3, now).Figures)
}
