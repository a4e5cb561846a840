package player

import (
	"math"
	"slices"
)

// Lateness is how much later the sound comes than the screen, in seconds.
type Lateness struct {
	Late   float64
	Spread float64 // the larger median distance of the taps from their median
	Unsure float64 // by how much Late may be wrong; by more once in twenty times
}

// MeasureLateness returns how late the sound comes from what somebody tapped along with
// clicks and then with flashes. Each number is the time in seconds from the click or flash,
// as the program believes it to be, to the tap.
//
// People tap early or late by habit, which the difference takes out; medians ignore stray
// taps. Ok is false if there are fewer than eight taps with either, or if they are too uneven.
func MeasureLateness(clicks, flashes []float64) (l Lateness, ok bool) {
	if len(clicks) < leastTaps*2 || len(flashes) < leastTaps*2 {
		return l, false
	}
	heard, unevenHeard := medianOf(clicks)
	seen, unevenSeen := medianOf(flashes)
	l = Lateness{Late: heard - seen, Spread: max(unevenHeard, unevenSeen)}
	l.Unsure = 2 * math.Hypot(medianError(unevenHeard, len(clicks)), medianError(unevenSeen, len(flashes)))
	return l, l.Spread <= mostUneven
}

// medianError returns the standard error of a median of n numbers, from their median distance from it,
// as if they were normally distributed: 1.4826 of these distances are a standard deviation, and the error of
// a median is 1.2533 times that of a mean.
func medianError(distance float64, n int) float64 {
	return 1.2533 * 1.4826 * distance / math.Sqrt(float64(n))
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
