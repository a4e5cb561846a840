package practice_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// TestASummary says what the session made better, and what comes next, soonest first.
func TestASummary(t *testing.T) {
	timeline := read(t, boathouse)
	before := danced(timeline, evening(0), whole(timeline), 70, bothMark(1, false)...)
	past := []practice.Kept{before}
	s := practice.NewSession(timeline, practice.NewHistory(timeline.Score, past, time.UTC), practice.Wish{Now: evening(1), Minutes: 15})
	s = s.After(true).After(false)
	first, second := timeline.Passage(0), timeline.Passage(1)
	kept := append(past, danced(timeline, evening(1).Add(time.Minute), first, 80),
		danced(timeline, evening(1).Add(2*time.Minute), second, 80))
	sum := s.Summary(timeline.Score, kept, routine.FollowerAlone, time.UTC)

	assert.Equal(t, "Boathouse evening", sum.Title)
	assert.Equal(t, 1, sum.Exercises)
	assert.Equal(t, len(slices.DeleteFunc(kinds(s), func(k practice.Kind) bool { return k == practice.Breather })), sum.Planned)
	assert.Equal(t, 2, sum.RunThroughs)
	assert.Equal(t, 2*time.Minute, sum.Dancing)
	var names []string
	for _, p := range sum.Danced {
		names = append(names, p.Figure.Name)
	}
	assert.Equal(t, []string{"Closed basic", "Boathouse step"}, names)
	own := timeline.Score.Tempo
	assert.Equal(t, []practice.Better{
		{Piece: sum.Danced[0], Partner: routine.Follower, Was: own.Scaled(70), Now: own.Scaled(80)},
		{Piece: sum.Danced[1], Partner: routine.Follower, Now: own.Scaled(80), Mended: true},
	}, sum.Better)
	assert.Len(t, sum.Next, len(practice.PlacesOf(timeline.Score)))
	tomorrow := practice.DayOf(evening(2))
	for i, n := range sum.Next {
		assert.GreaterOrEqual(t, n.Day, tomorrow)
		if i > 0 {
			assert.GreaterOrEqual(t, n.Day, sum.Next[i-1].Day)
		}
	}
}
