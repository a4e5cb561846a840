package practice

import "slices"

// Hidden is how much of a sheet is hidden from who dances it by heart, while the
// count goes on. The zero value hides nothing.
type Hidden uint8

// What is hidden.
const (
	HiddenNothing       Hidden = iota
	HiddenButFirst             // the own side's steps, but for the first of each figure
	HiddenSteps                // the own side's steps
	HiddenNames                // the names of the figures
	HiddenStepsAndNames        // both
	HiddenButCounts            // everything but the count
)

// String says what is still to be seen, in the dancer's words.
func (h Hidden) String() string {
	return [...]string{"everything is shown", "only the first steps are shown", "your steps are hidden", "the names are hidden",
		"your steps and the names are hidden", "only the count is shown"}[h]
}

// growing is what clean passes hide, each step more than the one before.
var growing = [...]Hidden{HiddenNothing, HiddenButFirst, HiddenSteps, HiddenStepsAndNames, HiddenButCounts}

// After is what is hidden after a pass: more if it was clean, less if it was not.
// From a way that clean passes do not lead to, they begin anew.
func (h Hidden) After(clean bool) Hidden {
	i := max(slices.Index(growing[:], h), 0)
	if clean {
		return growing[min(i+1, len(growing)-1)]
	}
	return growing[max(i-1, 0)]
}

// chosen are the ways of hiding among which a dancer chooses.
var chosen = [...]Hidden{HiddenNothing, HiddenSteps, HiddenNames, HiddenButFirst, HiddenButCounts}

// Next is the next way of hiding to choose, each alone; after the last nothing is
// hidden again.
func (h Hidden) Next() Hidden { return chosen[(slices.Index(chosen[:], h)+1)%len(chosen)] }

// Step reports whether a step is shown: one of the own side or of the partner's,
// the first of its figure or not.
func (h Hidden) Step(own, first bool) bool {
	switch h {
	case HiddenNothing, HiddenNames:
		return true
	case HiddenButFirst:
		return !own || first
	case HiddenSteps, HiddenStepsAndNames:
		return !own
	}
	return false
}

// AllSteps reports whether every step is shown.
func (h Hidden) AllSteps() bool { return h == HiddenNothing || h == HiddenNames }

// Name reports whether the names of figures are shown.
func (h Hidden) Name() bool { return h == HiddenNothing || h == HiddenButFirst || h == HiddenSteps }
