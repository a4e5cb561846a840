package practice

import (
	"fmt"
	"slices"

	"dance.example/slowquick/routine"
)

// Hidden is what is hidden from dancers who learn by heart, while the count goes on. The zero value hides
// nothing. Values are comparable.
type Hidden struct {
	Stage Stage
	Of    routine.Dancers // whose steps
	In    Within
}

// Stage is how much is hidden.
type Stage uint8

// The stages.
const (
	HiddenNothing       Stage = iota
	HiddenButFirst            // the steps, except the first of each figure
	HiddenSteps               // the steps
	HiddenNames               // the names of the figures
	HiddenStepsAndNames       // both
	HiddenButCounts           // everything but the count
	HiddenEveryOther          // every other step, from the second of each figure on
)

// String says what can still be seen, in the dancer's words.
func (s Stage) String() string {
	return [...]string{"everything is shown", "only the first steps are shown", "your steps are hidden", "the names are hidden",
		"your steps and the names are hidden", "only the count is shown", "every other step is hidden"}[s]
}

// Within is where something is hidden: everywhere if it is zero.
type Within struct {
	Figure string // only in the figure of this name, whenever it is danced; "" in all
	Line   int    // only in this line of the order, from 1; 0 in all
}

// String says where.
func (w Within) String() string {
	switch {
	case w.Line > 0:
		return fmt.Sprintf("only in figure %d, %s", w.Line, w.Figure)
	case w.Figure != "":
		return "in each " + w.Figure
	}
	return "everywhere"
}

// Along returns the place that comes so many places after w, round and round: everywhere, in a figure and in
// a line of the order with that figure.
func (w Within) Along(by int, figure string, line int) Within {
	all := []Within{{}, {Figure: figure}, {Figure: figure, Line: line}}
	at := 0
	switch {
	case w.Line > 0:
		at = 2
	case w.Figure != "":
		at = 1
	}
	return all[((at+by)%len(all)+len(all))%len(all)]
}

// includes reports whether a line of the order, which has a figure, lies within w.
func (w Within) includes(figure string, line int) bool {
	return (w.Figure == "" || w.Figure == figure) && (w.Line == 0 || w.Line == line)
}

// growing is what run-throughs without a mark hide, one after the other.
var growing = [...]Stage{HiddenNothing, HiddenButFirst, HiddenSteps, HiddenStepsAndNames, HiddenButCounts}

// After returns what is hidden after a run-through: more if nothing was marked, else less. A stage that
// is not one of growing counts as the first.
func (h Hidden) After(unmarked bool) Hidden {
	i := max(slices.Index(growing[:], h.Stage), 0)
	if unmarked {
		h.Stage = growing[min(i+1, len(growing)-1)]
	} else {
		h.Stage = growing[max(i-1, 0)]
	}
	return h
}

// chosen are the stages that a dancer chooses from.
var chosen = [...]Stage{HiddenNothing, HiddenSteps, HiddenNames, HiddenButFirst, HiddenButCounts, HiddenEveryOther}

// Along returns the stage that comes so many places after s among those to choose from, round and
// round; by may be negative.
func (s Stage) Along(by int) Stage {
	n := len(chosen)
	return chosen[((slices.Index(chosen[:], s)+by)%n+n)%n]
}

// Cell is one partner's step on one count of a routine.
type Cell struct {
	Figure  string // its name
	Line    int    // of the order, from 1
	Row     int    // of what is danced of the figure, from 0
	Partner routine.Partner
}

// Step reports whether a step is shown.
func (h Hidden) Step(c Cell) bool {
	if !h.Of.Include(c.Partner) || !h.In.includes(c.Figure, c.Line) {
		return true
	}
	switch h.Stage {
	case HiddenNothing, HiddenNames:
		return true
	case HiddenButFirst:
		return c.Row == 0
	case HiddenEveryOther:
		return c.Row%2 == 0
	}
	return false
}

// AllSteps reports whether every step is shown.
func (h Hidden) AllSteps() bool { return h.Stage == HiddenNothing || h.Stage == HiddenNames }

// Name reports whether the name of a figure in a line of the order, from 1, is shown.
func (h Hidden) Name(figure string, line int) bool {
	switch h.Stage {
	case HiddenNames, HiddenStepsAndNames, HiddenButCounts:
		return !h.In.includes(figure, line)
	}
	return true
}
