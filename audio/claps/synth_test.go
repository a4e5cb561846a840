package claps_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"dance.example/slowquick/audio"
)

const rate = 48000

// clap returns a clap: noise about a resonance, loudest at once. Hand claps have their energy between
// some 500 Hz and 4 kHz, and fall by 60 dB in some hundredths of a second: from memory of Repp, "The
// sound of two hands clapping", Journal of the Acoustical Society of America 81 (1987).
func clap(random *rand.Rand, centre float64) []float64 {
	out := make([]float64, rate*6/100)
	r := math.Exp(-math.Pi * 900 / rate) // a resonance 900 Hz wide
	a, b := 2*r*math.Cos(2*math.Pi*centre/rate), -r*r
	var one, two float64
	for i := range out {
		noise := (2*random.Float64() - 1) * math.Exp(-float64(i)/(0.006*rate))
		now := noise + a*one + b*two
		one, two = now, one
		out[i] = now
	}
	return levelled(out, 0.5)
}

// stamp returns a heavy step on a wooden floor: lower and longer than a clap.
func stamp(random *rand.Rand) []float64 {
	out := make([]float64, rate*15/100)
	for i := range out {
		t := float64(i) / rate
		out[i] = math.Exp(-t/0.025)*math.Sin(2*math.Pi*310*t) + 0.4*math.Exp(-t/0.004)*(2*random.Float64()-1)
	}
	return levelled(out, 0.5)
}

func levelled(signal []float64, peak float64) []float64 {
	most := 0.0
	for _, s := range signal {
		most = max(most, math.Abs(s))
	}
	for i := range signal {
		signal[i] *= peak / most
	}
	return signal
}

// room returns the impulse response of a room: the direct sound, and an echo of noise that dies away.
//
// Living rooms' echoes take 0.69 s at 125 Hz to 0.4 s at 8 kHz to fall by 60 dB: Jackson and Leventhall,
// "The acoustics of domestic rooms", Applied Acoustics 5 (1972). 1.2 s is a small hall: from memory.
func room(seed uint64, seconds, echo float64) []float64 {
	if seconds == 0 { // in the open
		return []float64{1}
	}
	random := rand.New(rand.NewPCG(seed, 3))
	out := make([]float64, int(seconds*rate))
	sum := 0.0
	for i := range out {
		if i > rate*4/1000 { // the first wall
			out[i] = random.NormFloat64() * math.Exp(-6.9*float64(i)/(seconds*rate))
		}
		sum += out[i] * out[i]
	}
	for i := range out {
		out[i] *= math.Sqrt(echo / sum)
	}
	out[0] = 1
	return out
}

// score is a schedule of what a loudspeaker plays: clicks on each beat, and other strokes.
type score struct {
	every int64
	kit   audio.Kit
	band  []audio.Sound
}

func (s score) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	for k := max(from, 0) / (s.every / 2); k*s.every/2 < to; k++ {
		at := k * s.every / 2
		if at < from {
			continue
		}
		switch {
		case k%8 == 0:
			dst = append(dst, audio.Hit{Frame: at, Sound: s.kit.Bell, Gain: 1})
		case k%2 == 0:
			dst = append(dst, audio.Hit{Frame: at, Sound: s.kit.Block, Gain: 1})
		default:
			dst = append(dst, audio.Hit{Frame: at, Sound: s.kit.Tick, Gain: 1})
		}
		if len(s.band) > 0 {
			dst = append(dst, audio.Hit{Frame: at, Sound: s.band[k%int64(len(s.band))], Layer: 1, Gain: 1})
		}
	}
	return dst
}

// clicks returns some seconds of clicks as the engine plays them.
func clicks(t testing.TB, seconds int) []float32 {
	t.Helper()
	e := audio.NewEngine(rate)
	e.Play(score{every: rate / 2, kit: audio.NewKit(rate)})
	return mono(e, seconds)
}

// music returns clicks, the strokes of a band, and chords that change with each bar.
func music(t testing.TB, seconds int) []float32 {
	t.Helper()
	e := audio.NewEngine(rate)
	var band []audio.Sound
	all := audio.NewBand(rate)
	for _, name := range sortedNames(all) {
		band = append(band, all[name])
	}
	e.Play(score{every: rate / 2, kit: audio.NewKit(rate), band: band})
	out := mono(e, seconds)
	for i := range out {
		t := float64(i) / rate
		in := math.Mod(t, 2)
		root := 110 * math.Pow(2, float64(int(t/2)%4*5%12)/12)
		for k, note := range []float64{1, 1.25, 1.5, 2, 3, 4, 5} {
			out[i] += float32(0.12 / float64(k+2) * min(1, in*50) * math.Exp(-in) * math.Sin(2*math.Pi*root*2*note*t))
		}
	}
	return out
}

func mono(e *audio.Engine, seconds int) []float32 {
	frames := make([][2]float64, seconds*rate)
	e.Stream(frames)
	out := make([]float32, len(frames))
	for i, f := range frames {
		out[i] = float32(f[0]+f[1]) / 2
	}
	return out
}

// take is a recording in the making.
type take struct {
	heard []float32
	claps []float64 // frames
}

// newTake returns a take that holds only the noise of a microphone, at -65 dB of full scale.
func newTake(seed uint64, seconds int) *take {
	random := rand.New(rand.NewPCG(seed, 4))
	t := &take{heard: make([]float32, seconds*rate)}
	for i := range t.heard {
		t.heard[i] = float32(0.0005 * random.NormFloat64())
	}
	return t
}

// clap adds claps, in a room, near the beats and half beats of the clicks.
func (t *take) clap(seed uint64, way []float64, gain float64, sound func(*rand.Rand) []float64) {
	random := rand.New(rand.NewPCG(seed, 5))
	dry := make([]float64, len(t.heard))
	for at := 1.0; at < float64(len(t.heard))/rate-1; at += []float64{0.5, 0.5, 0.5, 0.25, 0.25}[len(t.claps)%5] {
		frame := int((at + 0.025*random.NormFloat64()) * rate)
		loud := 0.6 + 0.4*random.Float64()
		for i, s := range sound(random) {
			dry[frame+i] += loud * s
		}
		t.claps = append(t.claps, float64(frame))
	}
	convolved(t.heard, dry, way, 0, gain)
}

// play adds what a loudspeaker plays, as the microphone hears it.
func (t *take) play(played []float32, way []float64, late int, gain float64) {
	signal := make([]float64, len(played))
	for i, s := range played {
		signal[i] = float64(s)
	}
	convolved(t.heard, signal, way, late, gain)
}
