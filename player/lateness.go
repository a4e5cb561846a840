package player

import (
	"math"
	"slices"
)

// Lateness is how much later than the screen the sound comes, in seconds, found
// by someone who taps with clicks and then with flashes. Offsets are in seconds,
// from the click or flash, as the program believes it to be, to the tap.
//
// Who taps with either is early or late by a habit of their own, which the
// difference takes out; medians pass over taps that went astray. Spread is the
// greater median distance from the median. Ok is false for fewer than eight taps
// with either, or if they are too uneven to tell.
func Lateness(clicks, flashes []float64) (late, spread float64, ok bool) {
	if len(clicks) < leastTaps*2 || len(flashes) < leastTaps*2 {
		return 0, 0, false
	}
	heard, unevenHeard := medianOf(clicks)
	seen, unevenSeen := medianOf(flashes)
	spread = max(unevenHeard, unevenSeen)
	return heard - seen, spread, spread <= mostUneven
}

// mostUneven is the median distance of taps from their median, in seconds, up to
// which they are steady. Practised people tap within about 0.03 s: from memory.
const mostUneven = 0.06

// medianOf is the median of some numbers, and their median distance from it.
func medianOf(numbers []float64) (middle, distance float64) {
	median := func(list []float64) float64 {
		list = slices.Sorted(slices.Values(list))
		n := len(list)
		return (list[(n-1)/2] + list[n/2]) / 2
	}
	middle = median(numbers)
	away := make([]float64, len(numbers))
	for i, x := range numbers {
		away[i] = math.Abs(x - middle)
	}
	return middle, median(away)
}
