package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

func TestWhatIsHidden(t *testing.T) {
	type seen struct{ first, second, third, name bool }
	for stage, want := range map[practice.Stage]seen{
		practice.HiddenNothing:       {true, true, true, true},
		practice.HiddenButFirst:      {true, false, false, true},
		practice.HiddenEveryOther:    {true, false, true, true},
		practice.HiddenSteps:         {false, false, false, true},
		practice.HiddenNames:         {true, true, true, false},
		practice.HiddenStepsAndNames: {false, false, false, false},
		practice.HiddenButCounts:     {false, false, false, false},
	} {
		h := practice.Hidden{Stage: stage}
		step := func(row int) bool {
			return h.Step(practice.Cell{Figure: "Fan", Line: 2, Row: row, Partner: routine.Follower})
		}
		assert.Equal(t, want, seen{step(0), step(1), step(2), h.Name("Fan", 2)}, stage)
		assert.Equal(t, want.first && want.second && want.third, h.AllSteps(), stage)
	}
}

// TestHidingByPartnerFigureAndLine hides nothing else.
func TestHidingByPartnerFigureAndLine(t *testing.T) {
	cells := []practice.Cell{
		{Figure: "Fan", Line: 2, Row: 1, Partner: routine.Leader}, {Figure: "Fan", Line: 2, Row: 1, Partner: routine.Follower},
		{Figure: "Fan", Line: 5, Row: 1, Partner: routine.Leader}, {Figure: "Spot turn", Line: 3, Row: 1, Partner: routine.Leader},
	}
	fan := practice.Within{Figure: "Fan"}
	second := practice.Within{Figure: "Fan", Line: 2}
	tests := []struct {
		name  string
		of    routine.Dancers
		in    practice.Within
		cells [4]bool // which are hidden
		names [4]bool
	}{
		{"everything", routine.Both, practice.Within{}, [4]bool{true, true, true, true}, [4]bool{true, true, true, true}},
		{"the leader's", routine.LeaderAlone, practice.Within{}, [4]bool{true, false, true, true}, [4]bool{true, true, true, true}},
		{"a figure", routine.Both, fan, [4]bool{true, true, true, false}, [4]bool{true, true, true, false}},
		{"a line", routine.Both, second, [4]bool{true, true, false, false}, [4]bool{true, true, false, false}},
		{"the follower's of a line", routine.FollowerAlone, second, [4]bool{false, true, false, false}, [4]bool{true, true, false, false}},
	}
	for _, tt := range tests {
		for i, c := range cells {
			h := practice.Hidden{Stage: practice.HiddenStepsAndNames, Of: tt.of, In: tt.in}
			assert.Equal(t, !tt.cells[i], h.Step(c), "%s: %v", tt.name, c)
			assert.Equal(t, !tt.names[i], h.Name(c.Figure, c.Line), "%s: %v", tt.name, c)
			assert.Equal(t, practice.Hidden{Stage: practice.HiddenButCounts, Of: tt.of, In: tt.in}, h.After(true), "what grows stays there")
		}
	}
	assert.Equal(t, []practice.Within{fan, second, {}}, []practice.Within{
		practice.Within{}.Along(1, "Fan", 2), fan.Along(1, "Fan", 2), second.Along(1, "Fan", 2)})
	assert.Equal(t, second, practice.Within{}.Along(-1, "Fan", 2))
	assert.Equal(t, []string{"everywhere", "in each Fan", "only in figure 2, Fan"}, []string{practice.Within{}.String(), fan.String(), second.String()})
}

// TestCleanRunThroughsHideAndMistakesShow, one step at a time, and stop at both ends.
func TestCleanRunThroughsHideAndMistakesShow(t *testing.T) {
	after := func(s practice.Stage, clean bool) practice.Stage { return practice.Hidden{Stage: s}.After(clean).Stage }
	s := after(practice.HiddenNothing, false)
	assert.Equal(t, practice.HiddenNothing, s)
	var seen []practice.Stage
	for range 6 {
		s = after(s, true)
		seen = append(seen, s)
	}
	most := practice.HiddenButCounts
	assert.Equal(t, []practice.Stage{practice.HiddenButFirst, practice.HiddenSteps, practice.HiddenStepsAndNames, most, most, most}, seen)
	assert.Equal(t, practice.HiddenStepsAndNames, after(s, false))
	assert.Equal(t, practice.HiddenButFirst, after(practice.HiddenNames, true), "which no run-through leads to")
	assert.Equal(t, practice.HiddenNothing, after(practice.HiddenNames, false))
}

// TestEachWayOfHidingCanBeHadAlone, one after the other.
func TestEachWayOfHidingCanBeHadAlone(t *testing.T) {
	s := practice.HiddenNothing
	var seen []practice.Stage
	for range 6 {
		s = s.Along(1)
		seen = append(seen, s)
	}
	assert.Equal(t, []practice.Stage{practice.HiddenSteps, practice.HiddenNames, practice.HiddenButFirst, practice.HiddenButCounts,
		practice.HiddenEveryOther, practice.HiddenNothing}, seen)
}
