package practice

// Hidden is how much of a sheet is hidden from who dances it by heart, while the
// count goes on. The zero value hides nothing.
type Hidden uint8

// What is hidden, each hiding more than the one before.
const (
	HiddenNothing   Hidden = iota
	HiddenButFirst         // the own side's steps, but for the first of each figure
	HiddenSteps            // the own side's steps
	HiddenNames            // and the names of the figures
	HiddenButCounts        // everything but the count
)

// String says what is still to be seen, in the dancer's words.
func (h Hidden) String() string {
	return [...]string{"everything is shown", "only the first steps are shown", "your steps are hidden", "your steps and the names are hidden", "only the count is shown"}[h]
}

// After is what is hidden after a pass: more if it was clean, less if it was not.
func (h Hidden) After(clean bool) Hidden {
	switch {
	case clean && h < HiddenButCounts:
		return h + 1
	case !clean && h > HiddenNothing:
		return h - 1
	}
	return h
}

// Next is the next of all, and after the last nothing is hidden again.
func (h Hidden) Next() Hidden { return (h + 1) % (HiddenButCounts + 1) }

// Step reports whether a step is shown: one of the own side or of the partner's,
// the first of its figure or not.
func (h Hidden) Step(own, first bool) bool {
	switch h {
	case HiddenNothing:
		return true
	case HiddenButFirst:
		return !own || first
	case HiddenSteps, HiddenNames:
		return !own
	}
	return false
}

// Name reports whether the names of figures are shown.
func (h Hidden) Name() bool { return h < HiddenNames }
