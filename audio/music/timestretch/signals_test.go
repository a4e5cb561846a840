package timestretch_test

import (
	"math"
	"math/cmplx"
	"math/rand/v2"

	"dance.example/slowquick/audio/music/timestretch"
)

// The constants of this package were set on the signals of tuningSeeds alone.
// The tests judge by those of judgingSeeds.
var (
	tuningSeeds  = []uint64{1, 2, 3, 4, 5, 6}
	judgingSeeds = []uint64{8101, 8102, 8103, 8104, 8105, 8106}
)

const rate = 48000

// sound is a sound under construction, in two channels.
type sound [2][]float64

func newSound(seconds float64) sound {
	n := int(seconds * rate)
	return sound{make([]float64, n), make([]float64, n)}
}

// add mixes in a mono sound at a second, panned between left (-1) and right (1).
func (s sound) add(at float64, pan float64, wave []float64) {
	first := int(math.Round(at * rate))
	for i, v := range wave {
		if k := first + i; k >= 0 && k < len(s[0]) {
			s[0][k] += v * min(1, 1-pan)
			s[1][k] += v * min(1, 1+pan)
		}
	}
}

// recorded returns the sound scaled so that its largest sample is peak, or
// unscaled if peak is 0.
func (s sound) recorded(peak float64) timestretch.Sound {
	factor := 1.0
	if peak > 0 {
		largest := 1e-9
		for i := range s[0] {
			largest = max(largest, math.Abs(s[0][i]), math.Abs(s[1][i]))
		}
		factor = peak / largest
	}
	frames := make([][2]int16, len(s[0]))
	for i := range frames {
		for c := range s {
			frames[i][c] = int16(math.Round(32767 * min(max(factor*s[c][i], -1), 1)))
		}
	}
	return timestretch.Sound{Rate: rate, Frames: frames}
}

func random(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0x5eed)) }

// uniform returns a number between a and b.
func uniform(r *rand.Rand, a, b float64) float64 { return a + (b-a)*r.Float64() }

// clickTrain returns clicks of 1.5 ms that vary in pitch and loudness, 150 to
// 600 ms apart, and the seconds at which they begin.
func clickTrain(r *rand.Rand, seconds float64) (s sound, at []float64) {
	s = newSound(seconds)
	for t := 0.5; t < seconds-0.5; t += uniform(r, 0.15, 0.6) {
		begin := math.Round(t*rate) / rate
		s.add(begin, uniform(r, -0.5, 0.5), click(uniform(r, 1000, 5000), uniform(r, 0.3, 0.8)))
		at = append(at, begin)
	}
	return s, at
}

func click(pitch, level float64) []float64 {
	wave := make([]float64, rate*8/1000)
	for i := range wave {
		t := float64(i) / rate
		wave[i] = level * math.Exp(-t/0.0015) * math.Cos(2*math.Pi*pitch*t)
	}
	return wave
}

// bed adds a held chord to a sound, each note at a twentieth of full scale.
func (s sound) bed(notes []float64) {
	for i := range s[0] {
		t := float64(i) / rate
		for k, f := range notes {
			v := 0.05 * math.Sin(2*math.Pi*f*t+float64(k))
			s[0][i] += v
			s[1][i] += v
		}
	}
}

// chord returns the partials of a few notes without a common period, each with
// two overtones.
func chord(r *rand.Rand) (partials []float64) {
	root := uniform(r, 90, 220)
	for _, semitones := range [][]float64{{0, 4, 7}, {0, 3, 7}, {0, 4, 7, 10}, {0, 5, 9}}[r.IntN(4)] {
		f := root * math.Pow(2, (semitones+uniform(r, -0.05, 0.05))/12)
		partials = append(partials, f, 2*f, 3*f)
	}
	return partials
}

// plucked returns a decaying note whose overtones decay faster.
func plucked(pitch, seconds, level, half float64) []float64 {
	wave := make([]float64, int(seconds*rate))
	for h := 1; h <= 10 && float64(h)*pitch < rate/2.5; h++ {
		stiff := float64(h) * pitch * math.Sqrt(1+4e-4*float64(h*h))
		v := complex(level/float64(h), 0)
		turn := cmplx.Rect(math.Exp2(-(0.7+0.3*float64(h))/half/rate), 2*math.Pi*stiff/rate)
		for i := range wave {
			wave[i] += imag(v)
			v *= turn
		}
	}
	return shaped(wave, 0.002, 0.03)
}

// held returns a note of strings: three players, each with vibrato.
func held(r *rand.Rand, pitch, seconds, level float64) []float64 {
	wave := make([]float64, int(seconds*rate))
	for range 3 {
		tuned := pitch * math.Exp2(uniform(r, -6, 6)/1200)
		speed, phase := uniform(r, 4.5, 6), uniform(r, 0, 6)
		angle := uniform(r, 0, 6)
		for i := range wave {
			t := float64(i) / rate
			angle += 2 * math.Pi * tuned * (1 + 0.004*math.Sin(2*math.Pi*speed*t+phase)) / rate
			turn := cmplx.Rect(1, angle)
			overtone := turn
			for h := 1.0; h <= 8; h++ {
				wave[i] += level / 3 / h * imag(overtone)
				overtone *= turn
			}
		}
	}
	return shaped(wave, 0.08, 0.12)
}

// sung returns a syllable: pulses of the voice through three formants.
func sung(r *rand.Rand, pitch, seconds, level float64) []float64 {
	vowels := [][3]float64{{730, 1090, 2440}, {530, 1840, 2480}, {270, 2290, 3010}, {570, 840, 2410}, {300, 870, 2240}}
	// Peterson and Barney, "Control Methods Used in a Study of the Vowels",
	// JASA 24 (1952) 175: formants of men's voices.
	vowel := vowels[r.IntN(len(vowels))]
	pulses := make([]float64, int(seconds*rate))
	angle, speed := 0.0, uniform(r, 5, 6)
	for i := range pulses {
		t := float64(i) / rate
		angle += pitch * (1 + 0.01*math.Sin(2*math.Pi*speed*t)*min(1, t/0.3)) / rate
		if angle >= 1 {
			angle--
			pulses[i] = 1
		}
		pulses[i] += 0.01 * (r.Float64() - 0.5)
	}
	wave := make([]float64, len(pulses))
	for k, f := range vowel {
		width := []float64{80, 100, 140}[k]
		decay := math.Exp(-math.Pi * width / rate)
		a1, a2 := 2*decay*math.Cos(2*math.Pi*f/rate), -decay*decay
		y1, y2 := 0.0, 0.0
		for i, x := range pulses {
			y := x + a1*y1 + a2*y2
			y1, y2 = y, y1
			wave[i] += level * y / []float64{4, 8, 14}[k]
		}
	}
	return shaped(wave, 0.03, 0.06)
}

// struck returns a drum: a falling tone, and noise.
func struck(r *rand.Rand, from, to, tone, noise, half float64) []float64 {
	wave := make([]float64, int(min(12*half, 0.6)*rate))
	angle, last := 0.0, 0.0
	for i := range wave {
		t := float64(i) / rate
		angle += 2 * math.Pi * (to + (from-to)*math.Exp(-t/0.02)) / rate
		white := 2*r.Float64() - 1
		wave[i] = math.Exp2(-t/half) * (tone*math.Sin(angle) + noise*(white-0.6*last))
		last = white
	}
	return shaped(wave, 0.0005, 0.005)
}

// shaped fades a wave in and out.
func shaped(wave []float64, in, out float64) []float64 {
	n := len(wave)
	for i := range wave {
		t, rest := float64(i)/rate, float64(n-i)/rate
		wave[i] *= min(1, t/in) * min(1, rest/out)
	}
	return wave
}

// music returns a piece with bass, chords, a plucked or sung tune, strings and
// drums. Which of them play, and how, depends on the seed.
func music(seed uint64, seconds float64) timestretch.Sound {
	r := random(seed)
	s := newSound(seconds)
	beat := 60 / uniform(r, 84, 150)
	metre := 3 + r.IntN(2)
	root := uniform(r, 45, 70)
	sings, strings := seed%2 == 0, r.IntN(3) > 0
	drums := uniform(r, 0.3, 0.8)
	steps := [][]float64{{0, 9, 5, 7}, {0, 5, 7, 0}, {9, 5, 0, 7}}[r.IntN(3)]
	scale := []float64{0, 2, 4, 7, 9, 12}
	pitch := func(semitones float64) float64 { return root * math.Exp2(semitones/12) }
	t := 0.2
	for bar := 0; t < seconds-0.5; bar++ {
		base := steps[bar%len(steps)]
		third := 4.0
		if base == 9 {
			third = 3
		}
		if strings {
			for _, n := range []float64{12, 12 + third, 19} {
				s.add(t, 0.3, held(r, pitch(base+n), float64(metre)*beat, 0.05))
			}
		}
		for b := range metre {
			at := t + float64(b)*beat + uniform(r, -0.006, 0.006)
			if b == 0 || b == 2 {
				s.add(at, 0, plucked(pitch(base), 1.8*beat, 0.35, 0.25))
			}
			if b > 0 {
				for i, n := range []float64{24, 24 + third, 31} {
					s.add(at+0.004*float64(i), -0.4, plucked(pitch(base+n), 1.2*beat, 0.09, 0.2))
				}
			}
			if b%2 == 0 {
				s.add(at, 0, struck(r, 140, 50, drums, 0.05, 0.06))
			} else {
				s.add(at, 0.1, struck(r, 220, 180, 0.2*drums, 0.4*drums, 0.04))
			}
			for half := range 2 {
				s.add(at+float64(half)*beat/2, 0.5, struck(r, 1, 1, 0, 0.12*drums, 0.02))
			}
			for half := range 2 {
				if r.IntN(3) == 0 {
					continue
				}
				when, note := at+float64(half)*beat/2, pitch(24+scale[r.IntN(len(scale))])
				if sings {
					s.add(when, 0, sung(r, note, beat*uniform(r, 0.4, 0.9), 0.5))
				} else {
					s.add(when, 0.2, plucked(note*2, beat, 0.15, 0.15))
				}
			}
		}
		t += float64(metre) * beat
	}
	return s.recorded(0.8)
}
