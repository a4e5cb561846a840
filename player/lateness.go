package player

import (
	"math"
	"slices"
)

// Lateness returns how much later the sound comes than the screen, in seconds, from what
// somebody tapped along with clicks and then with flashes. Each number is the time in
// seconds from the click or flash, as the program believes it to be, to the tap.
//
// People tap early or late by habit, which the difference takes out; medians ignore stray
// taps. Spread is the larger median distance from the median. Ok is false if there are
// fewer than eight taps with either, or if they are too uneven.
func Lateness(clicks, flashes []float64) (late, spread float64, ok bool) {
	if len(clicks) < leastTaps*2 || len(flashes) < leastTaps*2 {
		return 0, 0, false
	}
	heard, unevenHeard := medianOf(clicks)
	seen, unevenSeen := medianOf(flashes)
	spread = max(unevenHeard, unevenSeen)
	return heard - seen, spread, spread <= mostUneven
}

// mostUneven is the largest spread, in seconds, of taps that count as steady. Practised
// people tap within about 0.03 s: from memory.
const mostUneven = 0.06

// medianOf returns the median of numbers, and their median distance from it.
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
