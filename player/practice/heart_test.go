package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player/practice"
)

func TestWhatIsHidden(t *testing.T) {
	type seen struct{ ownFirst, own, other, name bool }
	for h, want := range map[practice.Hidden]seen{
		practice.HiddenNothing:   {true, true, true, true},
		practice.HiddenButFirst:  {true, false, true, true},
		practice.HiddenSteps:     {false, false, true, true},
		practice.HiddenNames:     {false, false, true, false},
		practice.HiddenButCounts: {false, false, false, false},
	} {
		assert.Equal(t, want, seen{h.Step(true, true), h.Step(true, false), h.Step(false, false), h.Name()}, h)
	}
}

// TestCleanPassesHideAndMistakesShow, one by one, within what there is.
func TestCleanPassesHideAndMistakesShow(t *testing.T) {
	h := practice.HiddenNothing.After(false)
	assert.Equal(t, practice.HiddenNothing, h)
	var seen []practice.Hidden
	for range 6 {
		h = h.After(true)
		seen = append(seen, h)
	}
	assert.Equal(t, []practice.Hidden{1, 2, 3, 4, 4, 4}, seen)
	assert.Equal(t, practice.HiddenNames, h.After(false))
	assert.Equal(t, practice.HiddenNothing, practice.HiddenButCounts.Next())
}
