// Package timing judges how well somebody taps or claps the rhythm of the steps.
//
// A [Plan] says which steps of a course are to be tapped, and which bars are silent. [Judge] gives
// each tap its step, and returns how early or late each count comes, how steadily, and whether the
// tempo drifts in silence, each with its uncertainty. [Result.Words] says it in words, and nothing
// that is too small to be heard or to be certain.
//
// Nothing here knows how a tap was made or when it was noticed: times are seconds on the clock of
// what is heard, and known delays are already taken off.
package timing
