package audio

import (
	"math"
	"math/rand/v2"
)

// Band holds the sounds of a rhythm section by name: "claves", "conga open",
// "guiro long". Each lasts at most 0.6 s, peaks at 0.35 at most, and ends in
// silence. It is loudest within its first 5 ms (the guiro's long scrape within
// 15 ms), so that it sounds on its beat. Five of them together stay below full
// scale in any usual rhythm.
type Band map[string]Sound

// NewBand synthesises a band for rate frames a second. It sounds the same at
// any rate and every time.
func NewBand(rate int) Band {
	b := make(Band, len(bandVoices))
	for name, v := range bandVoices {
		b[name] = v.sound(float64(rate))
	}
	return b
}

// voice describes how an instrument sounds: a body that rings in its modes, and
// bands of noise.
type voice struct {
	peak    float64
	seconds float64
	modes   []mode
	hiss    []band
	scrape  *scrape // shapes the hiss; nil for a single stroke
}

// band is noise around freq, in Hz, with a width of freq/q. It rises in rise
// seconds and falls to 1/e in decay seconds. Its largest amplitude is amp, on
// the scale of the modes' amplitudes.
type band struct{ freq, q, amp, rise, decay float64 }

// scrape is a stick drawn over ridges, first a second at the start and last a
// second at the end. Each ridge clicks for decay seconds.
type scrape struct{ first, last, decay float64 }

// attack is the time in seconds in which a body responds to a stroke. It is
// short enough that the first crest of its modes stays the largest.
const attack = 0.0001

// stroke returns how strong a stroke still is after t seconds. Its first
// milliseconds stand out, so that the ear takes them for the beat.
func stroke(t, rise, decay float64) float64 {
	x := math.Exp(-t/decay) * (1 + 0.4*math.Exp(-t/0.003))
	if rise > 0 {
		x *= 1 - math.Exp(-t/rise)
	}
	return x
}

// The modes of an ideal round membrane lie at 1 : 1.594 : 2.136 : 2.296 :
// 2.653, those of a free bar at 1 : 2.757 : 5.404 (Fletcher and Rossing, The
// Physics of Musical Instruments). Pitches, strengths and decays are from
// memory: what the ear tells each instrument by.
var bandVoices = map[string]voice{
	"claves": {0.18, 0.14, []mode{
		{2450, 1, 0.024}, {2450 * 2.757, 0.25, 0.006}, {2450 * 5.404, 0.06, 0.002},
	}, nil, nil},
	"cowbell": {0.16, 0.30, []mode{
		{587, 1, 0.060}, {845, 0.9, 0.075}, {1520, 0.4, 0.030}, {2410, 0.3, 0.020}, {3650, 0.2, 0.012},
	}, nil, nil},
	"castanets": {0.20, 0.08, []mode{
		{1900, 1, 0.007}, {3100, 0.7, 0.005}, {4700, 0.3, 0.003},
	}, []band{{3500, 1, 0.2, 0, 0.004}}, nil},
	"maracas":     {0.12, 0.09, nil, []band{{6500, 1.5, 1, 0.001, 0.016}}, nil},
	"guiro short": {0.16, 0.09, nil, []band{{3200, 1.5, 1, 0, 0.028}}, &scrape{130, 150, 0.0025}},
	"guiro long":  {0.17, 0.34, nil, []band{{2700, 1.5, 1, 0.0008, 0.16}}, &scrape{90, 140, 0.0035}},
	"conga open": {0.22, 0.40, []mode{
		{205, 1, 0.090}, {205 * 1.594, 0.5, 0.045}, {205 * 2.136, 0.25, 0.030}, {205 * 2.653, 0.15, 0.020},
	}, []band{{1100, 0.8, 0.10, 0, 0.006}}, nil},
	"conga slap": {0.20, 0.16, []mode{
		{215, 0.5, 0.020}, {215 * 2.296, 0.5, 0.018}, {980, 0.8, 0.016}, {1460, 0.6, 0.012},
	}, []band{{2600, 0.8, 0.35, 0, 0.010}}, nil},
	"conga muted": {0.14, 0.12, []mode{
		{185, 1, 0.020}, {185 * 1.594, 0.5, 0.014}, {185 * 2.653, 0.25, 0.008},
	}, []band{{700, 0.8, 0.12, 0, 0.005}}, nil},
	"bongo high": {0.20, 0.20, []mode{
		{410, 1, 0.040}, {410 * 1.594, 0.5, 0.025}, {410 * 2.136, 0.3, 0.016},
	}, []band{{2000, 0.8, 0.12, 0, 0.004}}, nil},
	"bongo low": {0.20, 0.24, []mode{
		{290, 1, 0.050}, {290 * 1.594, 0.5, 0.030}, {290 * 2.136, 0.3, 0.018},
	}, []band{{1500, 0.8, 0.12, 0, 0.004}}, nil},
	"surdo open": {0.30, 0.55, []mode{
		{68, 1, 0.160}, {68 * 1.594, 0.6, 0.080}, {68 * 2.136, 0.4, 0.045}, {68 * 2.653, 0.3, 0.030},
	}, []band{{400, 0.7, 0.10, 0, 0.008}}, nil},
	"surdo muted": {0.20, 0.16, []mode{
		{72, 1, 0.030}, {72 * 1.594, 0.7, 0.022}, {72 * 2.136, 0.5, 0.016}, {72 * 2.653, 0.4, 0.012},
	}, []band{{500, 0.7, 0.12, 0, 0.006}}, nil},
	"snare": {0.22, 0.22, []mode{
		{190, 0.6, 0.030}, {190 * 1.594, 0.5, 0.022}, {190 * 2.296, 0.3, 0.012},
	}, []band{{2400, 0.6, 0.35, 0, 0.045}, {5200, 0.8, 0.25, 0, 0.035}}, nil},
	"brush snare": {0.14, 0.20, []mode{
		{200, 0.12, 0.020},
	}, []band{{3000, 0.6, 0.8, 0.001, 0.040}}, nil},
	"side stick": {0.20, 0.08, []mode{
		{480, 0.5, 0.010}, {1650, 1, 0.008}, {2700, 0.4, 0.005},
	}, []band{{3000, 1, 0.15, 0, 0.003}}, nil},
	"hat closed": {0.11, 0.07, nil, []band{{9500, 1.2, 1, 0, 0.012}}, nil},
	"hat open":   {0.11, 0.36, nil, []band{{8800, 1.2, 1, 0, 0.090}}, nil},
	"bass drum": {0.26, 0.28, []mode{
		{62, 1, 0.070}, {62 * 1.594, 0.6, 0.040}, {62 * 2.136, 0.4, 0.022}, {62 * 2.653, 0.3, 0.014},
	}, []band{{900, 0.7, 0.06, 0, 0.003}}, nil},
	// A plucked string rings at whole multiples of its pitch, here E2. On small
	// loudspeakers the pitch is heard by its overtones.
	"bass": {0.22, 0.45, []mode{
		{82.4, 1, 0.160}, {164.8, 0.7, 0.110}, {247.2, 0.5, 0.070}, {329.6, 0.3, 0.050}, {412, 0.2, 0.035}, {494.4, 0.1, 0.025},
	}, nil, nil},
}

// sound renders v.
func (v *voice) sound(rate float64) Sound {
	s := make([]float64, int(rate*v.seconds))
	for _, m := range v.modes {
		m.ring(s, rate)
	}
	for i, b := range v.hiss {
		b.blow(s, rate, v.scrape.strokes(len(s), rate), uint64(i))
	}
	return levelled(s, v.peak)
}

// ring adds m to s, struck on the first sample.
func (m *mode) ring(s []float64, rate float64) {
	for i := range s {
		t := float64(i) / rate
		s[i] += m.amp * stroke(t, attack, m.decay) * math.Cos(2*math.Pi*m.freq*t)
	}
}

// blow adds b to s, shaped by envelope unless that is nil.
func (b *band) blow(s []float64, rate float64, envelope []float64, seed uint64) {
	noise := b.noise(len(s), rate, seed)
	for i := range s {
		t := float64(i) / rate
		x := b.amp * stroke(t, b.rise, b.decay) * noise[i]
		if envelope != nil {
			x *= envelope[i]
		}
		s[i] += x
	}
}

// noise returns n samples of white noise through a band-pass (Bristow-Johnson's
// cookbook, constant peak gain), compressed so that none is beyond ±1. The
// envelope alone then decides where it is loudest.
func (b *band) noise(n int, rate float64, seed uint64) []float64 {
	random := rand.New(rand.NewPCG(1, seed))
	sin, cos := math.Sincos(2 * math.Pi * b.freq / rate)
	alpha := sin / (2 * b.q)
	gain, a1, a2 := alpha/(1+alpha), -2*cos/(1+alpha), (1-alpha)/(1+alpha)
	settling := int(rate / 100)
	out := make([]float64, n)
	var x1, x2, y1, y2 float64 // earlier inputs and outputs
	for i := -settling; i < n; i++ {
		x := 2*random.Float64() - 1
		y := gain*(x-x2) - a1*y1 - a2*y2
		x1, x2, y1, y2 = x, x1, y, y1
		if i >= 0 {
			out[i] = y
		}
	}
	sum := 0.0
	for _, x := range out {
		sum += x * x
	}
	loudness := math.Sqrt(sum / float64(n))
	for i, x := range out {
		out[i] = math.Tanh(1.5 * x / loudness)
	}
	return out
}

// strokes returns the envelope of n samples in which the ridges click one after
// another, the first at once. It is nil if c is.
func (c *scrape) strokes(n int, rate float64) []float64 {
	if c == nil {
		return nil
	}
	out := make([]float64, n)
	ridges, next, click := 0.0, 0.0, 0.0
	for i := range out {
		if ridges >= next {
			click = 1
			if i == 0 {
				click = 1.3 // the stick lands
			}
			next++
		}
		out[i] = click
		click *= math.Exp(-1 / (rate * c.decay))
		ridges += (c.first + (c.last-c.first)*float64(i)/float64(n)) / rate
	}
	return out
}
