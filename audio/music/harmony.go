package music

import (
	"context"
	"math"
	"slices"
)

// harmony is how strong each of the twelve pitch classes is, harmonyPerSecond times a
// second. It holds cube roots of amplitudes, so that a loud tune does not drown the chord.
type harmony [][12]float64

const (
	harmonyWindow    = 4096 // frames
	harmonyPerSecond = 20.0
	lowestTone       = 80.0   // Hz
	highestTone      = 1800.0 // Hz
)

// hearHarmony hears the tones from 80 to 1800 Hz, all octaves together.
func hearHarmony(ctx context.Context, mono []float32, rate int) (h harmony) {
	tones := make([]int, harmonyWindow/2+1) // of each frequency; -1 for none
	for i := range tones {
		f := float64(i) * float64(rate) / harmonyWindow
		tones[i] = -1
		if f >= lowestTone && f <= highestTone {
			const a = 440
			tones[i] = (int(math.Round(12*math.Log2(f/a))) + 120) % 12
		}
	}
	spectra(ctx, mono, rate, harmonyWindow, harmonyPerSecond, func(_ int, strengths, _ []float64) {
		var sum [12]float64
		for i, s := range strengths {
			if tones[i] >= 0 {
				sum[tones[i]] += s
			}
		}
		for t, s := range sum {
			sum[t] = math.Cbrt(s)
		}
		h = append(h, sum)
	})
	return h
}

// changes returns how much the harmony changes at each beat: the distance
// between the reach beats before it and the reach beats after it, from 0 to 1.
// It is 0 where the row does not reach that far. Beats are in seconds.
func (h harmony) changes(beats []float64, reach int) []float64 {
	out := make([]float64, len(beats))
	for i := reach; i+reach < len(beats); i++ {
		out[i] = distance(h.between(beats[i-reach], beats[i]), h.between(beats[i], beats[i+reach]))
	}
	return out
}

// barStarts returns, for each row of beats, how likely bars begin at each place
// in the bar. That is how much the harmony changes there over a beat, two beats
// and a bar, in standard deviations of the changes in all rows.
func (h harmony) barStarts(metre int, rows ...[]float64) [][]float64 {
	starts := make([][]float64, len(rows))
	for i := range starts {
		starts[i] = make([]float64, metre)
	}
	for _, reach := range []int{1, 2, metre} {
		var changes []float64
		for _, beats := range rows {
			changes = append(changes, h.changes(beats, reach)...)
		}
		changes = standard(changes)
		for i, beats := range rows {
			for place, x := range byPlace(changes[:len(beats)], metre) {
				starts[i][place] += x / 3
			}
			changes = changes[len(beats):]
		}
	}
	return starts
}

// between returns the summed strength of each pitch class from one time to
// another, in seconds.
func (h harmony) between(from, to float64) (sum [12]float64) {
	first := max(int(math.Ceil(from*harmonyPerSecond)), 0)
	last := min(int(math.Ceil(to*harmonyPerSecond)), len(h))
	for i := first; i < last; i++ {
		for t, s := range h[i] {
			sum[t] += s
		}
	}
	return sum
}

// distance returns 1 minus the cosine of the angle between two chords, or 0 if
// one is silent.
func distance(a, b [12]float64) float64 {
	ab, aa, bb := 0.0, 0.0, 0.0
	for i := range a {
		ab += a[i] * b[i]
		aa += a[i] * a[i]
		bb += b[i] * b[i]
	}
	if aa == 0 || bb == 0 {
		return 0
	}
	return 1 - ab/math.Sqrt(aa*bb)
}

// byPlace returns the mean of the values at each place in a bar of metre beats.
func byPlace(values []float64, metre int) []float64 {
	sums, counts := make([]float64, metre), make([]float64, metre)
	for i, v := range values {
		sums[i%metre] += v
		counts[i%metre]++
	}
	for i := range sums {
		sums[i] /= max(counts[i], 1)
	}
	return sums
}

// standard returns how many standard deviations each value is above the mean.
func standard(values []float64) []float64 {
	n, mean, square := float64(max(len(values), 1)), 0.0, 0.0
	for _, v := range values {
		mean += v
	}
	mean /= n
	for _, v := range values {
		square += (v - mean) * (v - mean)
	}
	deviation := math.Sqrt(square/n) + 1e-12
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = (v - mean) / deviation
	}
	return out
}

// lead returns the index of the largest value, and how far it is ahead of the next.
func lead(values []float64) (largest int, by float64) {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	if n < 2 {
		return 0, 0
	}
	return slices.Index(values, sorted[n-1]), sorted[n-1] - sorted[n-2]
}
