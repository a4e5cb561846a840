package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player/practice"
)

func TestWhatIsHidden(t *testing.T) {
	type seen struct{ ownFirst, own, other, name bool }
	for h, want := range map[practice.Hidden]seen{
		practice.HiddenNothing:       {true, true, true, true},
		practice.HiddenButFirst:      {true, false, true, true},
		practice.HiddenSteps:         {false, false, true, true},
		practice.HiddenNames:         {true, true, true, false},
		practice.HiddenStepsAndNames: {false, false, true, false},
		practice.HiddenButCounts:     {false, false, false, false},
	} {
		assert.Equal(t, want, seen{h.Step(true, true), h.Step(true, false), h.Step(false, false), h.Name()}, h)
	}
}

// TestCleanRunThroughsHideAndMistakesShow, one step at a time, and stop at both ends.
func TestCleanRunThroughsHideAndMistakesShow(t *testing.T) {
	h := practice.HiddenNothing.After(false)
	assert.Equal(t, practice.HiddenNothing, h)
	var seen []practice.Hidden
	for range 6 {
		h = h.After(true)
		seen = append(seen, h)
	}
	most := practice.HiddenButCounts
	assert.Equal(t, []practice.Hidden{practice.HiddenButFirst, practice.HiddenSteps, practice.HiddenStepsAndNames, most, most, most}, seen)
	assert.Equal(t, practice.HiddenStepsAndNames, h.After(false))
	assert.Equal(t, practice.HiddenButFirst, practice.HiddenNames.After(true), "which no clean pass leads to")
	assert.Equal(t, practice.HiddenNothing, practice.HiddenNames.After(false))
}

// TestEachWayOfHidingCanBeHadAlone, one after the other.
func TestEachWayOfHidingCanBeHadAlone(t *testing.T) {
	h := practice.HiddenNothing
	var seen []practice.Hidden
	for range 5 {
		h = h.Along(1)
		seen = append(seen, h)
	}
	assert.Equal(t, []practice.Hidden{practice.HiddenSteps, practice.HiddenNames, practice.HiddenButFirst, practice.HiddenButCounts, practice.HiddenNothing}, seen)
}
