// Package timing judges how well somebody taps or claps the rhythm of the steps.
//
// A [Plan] says which steps of a course are to be tapped, and which bars are silent. [Judge] matches
// taps to steps and returns how early or late each count comes, how steadily, and whether the tempo
// drifts in silence, each with its uncertainty. [Result.Words] puts that into words, and leaves out
// what is too small to be heard or to be certain.
//
// The package doesn't know how a tap was made or noticed: times are in seconds on the clock of what
// is heard, with known delays already subtracted. Begin with [NewPlan].
package timing
