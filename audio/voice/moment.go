package voice

import (
	"math"
	"slices"

	"dance.example/slowquick/audio"
)

// These constants say how the moment of a word is measured.
const (
	lowest   = 300.0  // Hz: the lower edge of the band that carries a voice
	highest  = 3000.0 // Hz: the upper edge
	smoothed = 0.008  // seconds over which energy is averaged, twice
	onset    = 0.6    // of the peak: where two ways of measuring it agree best
)

// moment returns the frame of a word on which the ear hears the beat: the onset
// of its vowel, where the level in the band of a voice first reaches three
// fifths of its peak. For "six" that is long after its s begins.
//
// Morton, Marcus and Frankish, Psychological Review 83 (1976), 405–8, show that
// digits whose sounds begin evenly do not sound even, and that each has its own
// moment. That the moment is the vowel's onset is an estimate.
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

// bandEnergy returns the level in the band of a voice around each frame: filtered by two
// first-order filters, squared, averaged twice, and its root taken.
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
		energy[i] = math.Sqrt(max(energy[i], 0)) // rounding may go a hair below 0
	}
	return energy
}

// mean returns, for each number in list, the mean of those up to width/2 to either side.
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
