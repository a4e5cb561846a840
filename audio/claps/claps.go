// Package claps finds claps and audible steps in a recording, even while the program's own sound is
// playing. It doesn't record: package device does. Begin with [Find].
//
// Find takes what was recorded and what was played meanwhile. From both it estimates by least squares
// how the room carries sound from the loudspeaker to the microphone, subtracts what came that way
// (own.go), and takes sudden rises in the rest for claps (onsets.go). Where the subtraction leaves
// something, such as the end of a long echo, the search is only less sensitive.
//
// # How well it does
//
// The tests clap with short bursts of noise that Find knows nothing about: alone, over clicks and chords
// from a loudspeaker as loud as the claps, and in rooms whose echo takes up to 1.2 s to fall by 60 dB.
// All are found within 1.3 ms and none is invented, even if there are none. They are synthetic: real
// claps, rooms and loudspeakers may be harder.
package claps

import "math"

// Found is what was found.
type Found struct {
	At    []float64 // where claps begin, in frames of the recording
	Own   bool      // whether the recording has what was played
	Delay float64   // if so, how many frames later
}

// inner is about how many samples a second are looked at: enough for the onset of a clap.
const inner = 16000

// Find returns the claps in heard, a recording of rate frames a second. Played is what was played from
// the recording's first frame on; nil if nothing was, or if the microphone can't hear it, as with
// headphones. It may be heard from 50 ms before its time to 450 ms after. While something is played,
// no claps are found in the first quarter of a second and the last 50 ms.
func Find(heard, played []float32, rate int) Found {
	factor := max(1, rate/inner)
	y := highPassed(thinned(heard, factor), float64(rate)/float64(factor))
	x := highPassed(thinned(played, factor), float64(rate)/float64(factor))
	r := float64(rate) / float64(factor)

	own := takeOut(y, x, r)
	f := Found{Own: own.found, Delay: own.delay * float64(factor)}
	for _, at := range onsets(own.rest, own.known, r) {
		// At the edges the microphone may hear what was played before and is played after, which isn't known.
		if own.found && (at < echo || at > float64(len(own.rest))-early*r) {
			continue
		}
		f.At = append(f.At, at*float64(factor))
	}
	return f
}

// thinned returns every nth sample of a signal, after filtering out what would then be aliased.
func thinned(signal []float32, n int) []float64 {
	out := make([]float64, len(signal)/n)
	if n == 1 {
		for i := range out {
			out[i] = float64(signal[i])
		}
		return out
	}
	const lobes = 6
	half := lobes * n
	weights := make([]float64, 2*half+1)
	sum := 0.0
	for i := range weights {
		t := float64(i-half) / float64(n)
		window := 0.5 + 0.5*math.Cos(math.Pi*float64(i-half)/float64(half+1))
		weights[i] = window * sinc(t*0.9)
		sum += weights[i]
	}
	for i := range out {
		at := i * n
		for k, w := range weights {
			if j := at + k - half; j >= 0 && j < len(signal) {
				out[i] += w / sum * float64(signal[j])
			}
		}
	}
	return out
}

func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(math.Pi*x) / (math.Pi * x)
}

// lowest is the frequency below which everything is ignored, as it is rumble and mains hum.
const lowest = 250 // Hz

// highPassed returns a signal without what lies below lowest; it runs a first-order filter twice.
func highPassed(signal []float64, rate float64) []float64 {
	a := math.Exp(-2 * math.Pi * lowest / rate)
	for range 2 {
		var in, out float64
		for i, s := range signal {
			out = a * (out + s - in)
			in, signal[i] = s, out
		}
	}
	return signal
}
