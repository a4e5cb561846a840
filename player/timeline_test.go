package player_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

func TestLabels(t *testing.T) {
	// Counts and how they are said: common practice.
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	var counts, slowQuick, words []string
	for _, e := range timeline.Events[20:] {
		counts = append(counts, e.Labels.In(routine.AsCounted))
		slowQuick = append(slowQuick, e.Labels.In(routine.SlowQuick))
		words = append(words, e.Labels.In(routine.InWords))
	}
	assert.Equal(t, []string{"2", "3", "4", "1"}, counts)
	assert.Equal(t, []string{"slow", "slow", "slow", ""}, slowQuick, "a held count is said once")
	assert.Equal(t, []string{"two", "three", "four", "one"}, words)
	var said []string
	for _, e := range timeline.Events[:5] {
		said = append(said, e.Labels.In(routine.InWords))
	}
	assert.Equal(t, []string{"two", "three", "cha", "cha", "cha"}, said)
}

func TestBarsPhrasesAndHeldSteps(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	first, last := timeline.Events[0], timeline.Events[len(timeline.Events)-1]
	assert.Equal(t, [3]int{1, 2, 1}, [3]int{first.Bar, first.Beat, first.Phrase})
	// Five bars that begin on 2 end on the 1 of the sixth, where the step of 4 is held.
	assert.Equal(t, [3]int{6, 1, 1}, [3]int{last.Bar, last.Beat, last.Phrase})
	assert.Equal(t, -1, last.Row)
	assert.Nil(t, last.Steps[routine.Leader])
	assert.Equal(t, 5*4*routine.Beat, timeline.End-timeline.Start)
}

func TestRejoins(t *testing.T) {
	timeline := player.NewTimeline(score(t, lanternSheet("")))
	assert.True(t, timeline.Rejoins(timeline.Passage(0)), "ten steps: the foot that began is free")
	assert.True(t, timeline.Rejoins(player.Interval{From: timeline.Start, To: timeline.End}))
	bar := player.Interval{From: timeline.Start, To: timeline.Start + 4*routine.Beat}
	assert.False(t, timeline.Rejoins(bar), "five steps: the foot that began bears the weight")
	assert.True(t, timeline.Rejoins(timeline.Passage(2)), "two steps and a tap")
}

// TestFollow finds a place again after a change to an earlier part of the sheet.
func TestFollow(t *testing.T) {
	old := player.NewTimeline(score(t, lanternSheet("")))
	longer := player.NewTimeline(score(t, `---
dance: cha-cha
---

## Order

1. Closed basic
`+lanternSheet("")[len("---\ndance: cha-cha\ntempo: 30 bars/min\n---\n\n## Order\n\n"):]))
	at := old.Passage(2).From + routine.Beat
	found := longer.Follow(old, at)
	assert.Equal(t, longer.Passage(3).From+routine.Beat, found)
	assert.Equal(t, "Quay step", longer.Score.Passages[3].Figure.Name)
	assert.Equal(t, old.End-1, old.Follow(longer, longer.End+99), "what is gone ends at the end")
}
