package timestretch

import (
	"math"
	"math/bits"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Most partials have another phase after a jump than before it. With a plain fade,
// one that is half a turn off would vanish in the middle, and its return would
// sound like a new attack. So the fade goes through intermediate sounds, in each of
// which every partial is turned part of the way from its old phase to its new one.

// joinSteps is the number of fades in a row that make one. In each, a partial
// turns by an eighth of a turn at most.
const joinSteps = 4

// joiner makes the fades. It reuses its slices from fade to fade.
type joiner struct {
	sounds        [joinSteps + 1][]complex128 // from the old sound to the new; left is real, right imaginary
	going, coming []complex128                // the spectra of the first and last of them
	power         []float64                   // of both, by spectral line
}

// join returns the sound over the fade of splice sp. Before is the splice by
// which the sound was read up to then.
func (j *joiner) join(source *Source, before, sp *splice) [][2]int16 {
	n := transformLength(int(sp.fade) * 4 / 3)
	j.load(n)
	source.round(j.sounds[0], before, sp)
	source.round(j.sounds[joinSteps], sp, sp)
	copy(j.going, j.sounds[0])
	copy(j.coming, j.sounds[joinSteps])
	coefficients(j.going)
	coefficients(j.coming)
	j.turn()
	for _, sound := range j.sounds[1:joinSteps] {
		sequence(sound)
	}
	frames := make([][2]int16, sp.fade)
	first := (n - len(frames)) / 2
	for k := range frames {
		along := (float64(k) + 0.5) / float64(len(frames)) * joinSteps
		step := int(along)
		part := complex(along-float64(step), 0)
		v := j.sounds[step][first+k]*(1-part) + j.sounds[step+1][first+k]*part
		frames[k] = [2]int16{sample(real(v)), sample(imag(v))}
	}
	return frames
}

// transformLength returns the smallest power of two that is at least n and at
// least 4.
func transformLength(n int) int { return max(4, 1<<bits.Len(uint(n-1))) }

// coefficients replaces a sound by its spectrum.
func coefficients(sound []complex128) {
	if powerOfFour(len(sound)) {
		fourier.CoefficientsRadix4(sound)
	} else {
		fourier.CoefficientsRadix2(sound)
	}
}

// sequence replaces a spectrum by its sound, multiplied by its length.
func sequence(spectrum []complex128) {
	if powerOfFour(len(spectrum)) {
		fourier.SequenceRadix4(spectrum)
	} else {
		fourier.SequenceRadix2(spectrum)
	}
}

// powerOfFour reports whether n, a power of two, is also a power of four.
func powerOfFour(n int) bool { return bits.TrailingZeros(uint(n))%2 == 0 }

// load makes room for transforms of length n.
func (j *joiner) load(n int) {
	for i := range j.sounds {
		j.sounds[i] = sized(j.sounds[i], n)
	}
	j.going, j.coming = sized(j.going, n), sized(j.coming, n)
	j.power = sized(j.power, n/2+1)
}

// round fills sound with what splice sp reads around the fade of splice fade,
// itself fading in and out outside that fade.
func (s *Source) round(sound []complex128, sp, fade *splice) {
	beside := (int64(len(sound)) - fade.fade) / 2
	first := max(0, fade.out-beside)
	clear(sound)
	r := s.evened(first, sp, fade)
	for k := first - (fade.out - beside); k < int64(len(sound)); k++ {
		left, right := r.next()
		w := min(1, float64(k+1)/float64(beside+1), float64(int64(len(sound))-k)/float64(beside+1))
		w = w * w * (3 - 2*w)
		sound[k] = complex(w*left, w*right)
	}
}

// turn makes the spectra of the intermediate sounds. The lines of a partial lie
// between two minima of the power and are turned together.
func (j *joiner) turn() {
	n := len(j.going)
	for k := range j.power {
		j.power[k] = square(j.going[k]) + square(j.coming[k])
		if k > 0 {
			j.power[k] += square(j.going[n-k]) + square(j.coming[n-k])
		}
	}
	power := func(k int) float64 { return j.power[k-1] + 2*j.power[k] + j.power[k+1] }
	from := 1
	for k := 2; k+1 < n/2; k++ {
		if power(k) < power(k-1) && power(k) <= power(k+1) {
			j.turnLines(from, k)
			from = k
		}
	}
	j.turnLines(from, n/2)
	for i := 1; i < joinSteps; i++ {
		part := complex(float64(i)/joinSteps, 0)
		for _, k := range []int{0, n / 2} { // these lines are real
			j.sounds[i][k] = (j.going[k]*(1-part) + j.coming[k]*part) / complex(float64(n), 0)
		}
	}
}

// turnLines turns the lines [from, to), which belong to one partial.
func (j *joiner) turnLines(from, to int) {
	n := len(j.going)
	// Left is the real part and right the imaginary part, so what the channels
	// have in common is the sum over a line and its mirror.
	var alike complex128
	for k := from; k < to; k++ {
		alike += j.coming[k]*cmplx.Conj(j.going[k]) + cmplx.Conj(j.coming[n-k])*j.going[n-k]
	}
	angle := cmplx.Phase(alike)
	for i := 1; i < joinSteps; i++ {
		sound, part := j.sounds[i], float64(i)/joinSteps
		going, coming := cmplx.Rect((1-part)/float64(n), part*angle), cmplx.Rect(part/float64(n), (part-1)*angle)
		back, forth := cmplx.Conj(going), cmplx.Conj(coming)
		for k := from; k < to; k++ {
			sound[k] = going*j.going[k] + coming*j.coming[k]
			sound[n-k] = back*j.going[n-k] + forth*j.coming[n-k]
		}
	}
}

func square(v complex128) float64 { return real(v)*real(v) + imag(v)*imag(v) }

// sample converts a value from -1 to 1 to a recorded sample.
func sample(v float64) int16 {
	return int16(math.Round(min(max(v*32768, math.MinInt16), math.MaxInt16)))
}
