package practice

import "slices"

// Hidden is how much of a sheet is hidden from dancers who learn it by heart, while the count goes on.
// The zero value hides nothing.
type Hidden uint8

// What is hidden.
const (
	HiddenNothing       Hidden = iota
	HiddenButFirst             // the partner's own steps, except the first of each figure
	HiddenSteps                // the partner's own steps
	HiddenNames                // the names of the figures
	HiddenStepsAndNames        // both
	HiddenButCounts            // everything but the count
)

// String says what can still be seen, in the dancer's words.
func (h Hidden) String() string {
	return [...]string{"everything is shown", "only the first steps are shown", "your steps are hidden", "the names are hidden",
		"your steps and the names are hidden", "only the count is shown"}[h]
}

// growing is what clean run-throughs hide, one after the other.
var growing = [...]Hidden{HiddenNothing, HiddenButFirst, HiddenSteps, HiddenStepsAndNames, HiddenButCounts}

// After returns what is hidden after a run-through: more if it was clean, less if it was not. A way of
// hiding that is not one of growing counts as the first.
func (h Hidden) After(clean bool) Hidden {
	i := max(slices.Index(growing[:], h), 0)
	if clean {
		return growing[min(i+1, len(growing)-1)]
	}
	return growing[max(i-1, 0)]
}

// chosen are the ways of hiding that a dancer chooses from.
var chosen = [...]Hidden{HiddenNothing, HiddenSteps, HiddenNames, HiddenButFirst, HiddenButCounts}

// Along returns the way of hiding that comes so many places after h among those to choose from, round and
// round; by may be negative.
func (h Hidden) Along(by int) Hidden {
	n := len(chosen)
	return chosen[((slices.Index(chosen[:], h)+by)%n+n)%n]
}

// Step reports whether a step is shown. Own is for the dancer's own steps, not the other partner's;
// first for the first of a figure.
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
