package voice

import (
	"math"
	"slices"

	"dance.example/slowquick/audio"
)

// Measures of the ear's moment.
const (
	lowest   = 300.0  // Hz, of the band in which a voice carries
	highest  = 3000.0 // Hz
	smoothed = 0.008  // seconds of which the mean is taken, twice
	onset    = 0.6    // of the most energy: where two ways to measure it agree best
)

// moment is the frame of a word on which the ear hears the beat: the onset of its
// vowel, where the energy in the band of a voice first comes to three fifths of its most.
// So "six" has it long after its s begins.
//
// That digits whose sounds begin evenly do not sound even, and that each has a
// moment of its own: Morton, Marcus and Frankish, Psychological Review 83 (1976),
// 405–8. That the moment is the vowel's onset is an estimate.
func moment(s audio.Sound, rate int) int {
	if len(s) == 0 {
		return 0
	}
	energy := bandEnergy(s, float64(rate))
	most := slices.Max(energy)
	for i, e := range energy {
		if e >= onset*most {
			return i
		}
	}
	return 0
}

// bandEnergy is the loudness in the band of a voice around each frame: what two
// filters of the first order leave, squared, its mean of means, and the root.
func bandEnergy(s audio.Sound, rate float64) []float64 {
	low := 1 - math.Exp(-2*math.Pi*lowest/rate)
	high := 1 - math.Exp(-2*math.Pi*highest/rate)
	squares := make([]float64, len(s))
	var slow, fast float64
	for i, x := range s {
		fast += high * (float64(x) - fast)
		slow += low * (fast - slow)
		squares[i] = (fast - slow) * (fast - slow)
	}
	width := max(int(smoothed*rate), 1)
	energy := mean(mean(squares, width), width)
	for i := range energy {
		energy[i] = math.Sqrt(max(energy[i], 0)) // rounding may leave a hair less than nothing
	}
	return energy
}

// mean is, for each number of a list, the mean of those up to width/2 beside it.
func mean(list []float64, width int) []float64 {
	out := make([]float64, len(list))
	sum := 0.0
	half := width / 2
	for i := range min(half, len(list)) {
		sum += list[i]
	}
	for i := range out {
		if j := i + half; j < len(list) {
			sum += list[j]
		}
		if j := i - half - 1; j >= 0 {
			sum -= list[j]
		}
		out[i] = sum / float64(2*half+1)
	}
	return out
}
