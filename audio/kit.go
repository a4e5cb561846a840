package audio

import (
	"math"
	"math/rand/v2"
)

// Kit is a set of short sounds, named after what they sound like, that the ear
// can tell apart by pitch and timbre. Each is shorter than 80 ms, loudest on
// its very first sample, so that its onset is exact to the frame, and ends in
// silence.
//
// Their peaks leave headroom: a bell, a tick, a thump and a brush on the same
// frame stay below 1.
type Kit struct {
	Bell  Sound // metal, high and clear
	Block Sound // wood, middle
	Tick  Sound // a dry point, very high and short
	Thump Sound // a low drum
	Brush Sound // a swish without pitch
}

// NewKit synthesises a kit for rate frames a second.
func NewKit(rate int) Kit {
	r := float64(rate)
	return Kit{
		// The first three modes of a free bar lie at 1 : 2.757 : 5.404
		// (Fletcher and Rossing, The Physics of Musical Instruments, on
		// the vibration of bars).
		Bell: strike(r, 0.36, 0.078, []mode{
			{1480, 1, 0.030}, {1480 * 2.757, 0.5, 0.014}, {1480 * 5.404, 0.2, 0.006},
		}),
		Block: strike(r, 0.30, 0.045, []mode{
			{780, 1, 0.008}, {1230, 0.4, 0.005},
		}),
		Tick: strike(r, 0.18, 0.016, []mode{
			{5200, 1, 0.002}, {7900, 0.3, 0.001},
		}),
		Thump: strike(r, 0.24, 0.078, []mode{
			{165, 1, 0.022}, {262, 0.5, 0.012},
		}),
		Brush: swish(r, 0.16, 0.060, 0.016),
	}
}

// mode is one way in which a struck body vibrates: a frequency in Hz, an
// amplitude, and the time in seconds in which that falls to 1/e.
type mode struct{ freq, amp, decay float64 }

// strike starts all modes at their crests, so that the first sample is the
// peak.
func strike(rate, peak, seconds float64, modes []mode) Sound {
	s := make([]float64, int(rate*seconds))
	for i := range s {
		t := float64(i) / rate
		for _, m := range modes {
			s[i] += m.amp * math.Exp(-t/m.decay) * math.Cos(2*math.Pi*m.freq*t)
		}
	}
	return levelled(s, peak)
}

// swish returns noise without its lower half: white noise minus the mean of
// neighbouring samples.
func swish(rate, peak, seconds, decay float64) Sound {
	random := rand.New(rand.NewPCG(1, 2))
	s := make([]float64, int(rate*seconds))
	s[0] = 2
	before := -1.0
	for i := 1; i < len(s); i++ {
		now := 2*random.Float64() - 1
		s[i] = (now - before) / 2 * math.Exp(-float64(i)/(rate*decay))
		before = now
	}
	return levelled(s, peak)
}

// levelled fades s linearly to exactly 0 and scales it so that its largest
// sample is peak.
func levelled(s []float64, peak float64) Sound {
	largest := 0.0
	for i := range s {
		s[i] *= 1 - float64(i)/float64(len(s)-1)
		largest = max(largest, math.Abs(s[i]))
	}
	out := make(Sound, len(s))
	for i, x := range s {
		out[i] = float32(x * peak / largest)
	}
	return out
}
