package claps

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
)

// The search for our own sound.
const (
	block   = 8192  // samples worked on at a time; also the longest delay, half a second
	early   = 0.050 // s by which it may come before its time
	echo    = 4096  // samples of the room's impulse response, a quarter of a second
	before  = 0.004 // s of the response before its loudest sample
	heardAt = 0.1   // the fraction of the recording, without claps, that it must explain to count as heard
	rounds  = 60    // of the solver in the last pass; a third as many before
	passes  = 3     // of the fit, as claps disturb the first ones
	strays  = 3     // a sample that is this many spreads off the fit is a clap's
)

// own is a recording, separated into our own sound and the rest.
type own struct {
	rest  []float64 // the recording without our own sound
	known []float64 // what was taken out; nil if nothing
	found bool
	delay float64 // samples
}

// takeOut removes what was played, x, from a recording, y.
func takeOut(y, x []float64, rate float64) own {
	none := own{rest: y}
	if len(x) == 0 || energy(x) == 0 || energy(y) == 0 {
		return none
	}
	b := newBlocks()
	shift := int(early * rate)
	// y is moved later by shift, so that no lag is negative.
	lagged := append(make([]float64, shift), y...)
	self := b.correlate(x, x)
	peak := loudest(b.sharpened(x, lagged))
	start := max(0, peak-int(before*rate)) - shift
	var from []float64 // y from the first sample that the way can begin with
	if start >= 0 {
		from = y[min(start, len(y)):]
	} else {
		from = append(make([]float64, -start), y...)
	}
	target := from
	var way, known []float64
	for pass := range passes {
		effort := rounds / 3
		if pass == passes-1 {
			effort = rounds
		}
		way = solve(b, self[:echo], b.correlate(x, target)[:echo], effort)
		known = b.convolve(x, way, len(from))
		target = tamed(from, known)
	}
	rest := make([]float64, len(from))
	for i := range from {
		rest[i] = from[i] - known[i]
	}
	if energy(known) < heardAt*energy(target) {
		return none
	}
	return own{rest: shifted(rest, start, len(y)), known: shifted(known, start, len(y)), found: true, delay: float64(start + first(way))}
}

// shifted returns a signal delayed by n samples and cut or padded to a length.
func shifted(signal []float64, n, length int) []float64 {
	out := make([]float64, length)
	for i := range out {
		if j := i - n; j >= 0 && j < len(signal) {
			out[i] = signal[j]
		}
	}
	return out
}

// tamed returns y with samples that are far off the fit brought closer to it, so that claps don't
// distort the next fit.
func tamed(y, fit []float64) []float64 {
	const part = 256 // samples from which each usual distance is taken
	out := slices.Clone(y)
	var levels []float64
	for i := 0; i+part <= len(y); i += part {
		sum := 0.0
		for k := i; k < i+part; k++ {
			sum += (y[k] - fit[k]) * (y[k] - fit[k])
		}
		levels = append(levels, math.Sqrt(sum/part))
	}
	if len(levels) == 0 {
		return out
	}
	slices.Sort(levels)
	most := strays * levels[len(levels)/2]
	for i := range out {
		out[i] = fit[i] + min(max(y[i]-fit[i], -most), most)
	}
	return out
}

// first returns where an impulse response begins: its first sample nearly as loud as its loudest.
func first(way []float64) int {
	most := 0.0
	for _, w := range way {
		most = max(most, math.Abs(w))
	}
	return slices.IndexFunc(way, func(w float64) bool { return math.Abs(w) > most/2 })
}

func loudest(list []float64) int {
	at := 0
	for i, x := range list {
		if math.Abs(x) > math.Abs(list[at]) {
			at = i
		}
	}
	return at
}

func energy(signal []float64) float64 {
	sum := 0.0
	for _, s := range signal {
		sum += s * s
	}
	return sum
}

// solve returns the impulse response that best explains cross, the correlation of what was recorded
// with what was played, in the sense of least squares. Self is the autocorrelation of what was played.
// It uses conjugate gradients, and adds a little to self's energy so that frequencies that were hardly
// played explain nothing.
func solve(b *blocks, self, cross []float64, rounds int) []float64 {
	const little = 1e-3
	n := len(cross)
	// The Toeplitz matrix is extended to a circulant one of twice the size.
	ring := make([]float64, 2*block)
	for i, r := range self {
		ring[i] = r
		if i > 0 {
			ring[len(ring)-i] = r
		}
	}
	ring[0] *= 1 + little
	spectrum := b.fft.Coefficients(nil, ring)
	times := func(v []float64) []float64 {
		padded := make([]float64, 2*block)
		copy(padded, v)
		c := b.fft.Coefficients(nil, padded)
		for i := range c {
			c[i] *= spectrum[i]
		}
		return b.inverse(c)[:n]
	}
	way := make([]float64, n)
	left := slices.Clone(cross)
	step := slices.Clone(cross)
	size := energy(left)
	end := size * 1e-8
	for i := 0; i < rounds && size > end; i++ {
		moved := times(step)
		along := 0.0
		for i := range step {
			along += step[i] * moved[i]
		}
		if along <= 0 {
			break
		}
		a := size / along
		for i := range way {
			way[i] += a * step[i]
			left[i] -= a * moved[i]
		}
		last := size
		size = energy(left)
		for i := range step {
			step[i] = left[i] + size/last*step[i]
		}
	}
	return way
}

// blocks works on long signals block by block, with one transform for all.
type blocks struct{ fft *fourier.FFT }

func newBlocks() *blocks { return &blocks{fourier.NewFFT(2 * block)} }

func (b *blocks) inverse(c []complex128) []float64 {
	out := b.fft.Sequence(nil, c)
	for i := range out {
		out[i] /= 2 * block
	}
	return out
}

// spectra calls f for each block of x, with the block's spectrum and that of y from the block's start to
// one block after its end.
func (b *blocks) spectra(x, y []float64, f func(x, y []complex128)) {
	for at := 0; at < len(x); at += block {
		px, py := make([]float64, 2*block), make([]float64, 2*block)
		copy(px, x[at:min(at+block, len(x))])
		if at < len(y) {
			copy(py, y[at:min(at+2*block, len(y))])
		}
		f(b.fft.Coefficients(nil, px), b.fft.Coefficients(nil, py))
	}
}

// correlate returns, for each lag below block, how well y at that lag agrees with x.
func (b *blocks) correlate(x, y []float64) []float64 {
	sum := make([]complex128, block+1)
	b.spectra(x, y, func(x, y []complex128) {
		for i := range sum {
			sum[i] += conj(x[i]) * y[i]
		}
	})
	return b.inverse(sum)[:block]
}

// sharpened is like correlate, but weights frequencies as if all had been played equally loud, except for
// those that hardly were.
func (b *blocks) sharpened(x, y []float64) []float64 {
	sum := make([]complex128, block+1)
	power := make([]float64, block+1)
	b.spectra(x, y, func(x, y []complex128) {
		for i := range sum {
			sum[i] += conj(x[i]) * y[i]
			power[i] += real(x[i])*real(x[i]) + imag(x[i])*imag(x[i])
		}
	})
	usual := 0.0
	for _, p := range power {
		usual += p / float64(len(power))
	}
	for i := range sum {
		sum[i] /= complex(power[i]+usual/100, 0)
	}
	return b.inverse(sum)[:block]
}

// convolve returns the first n samples of x as it arrives by an impulse response.
func (b *blocks) convolve(x, way []float64, n int) []float64 {
	padded := make([]float64, 2*block)
	copy(padded, way)
	w := b.fft.Coefficients(nil, padded)
	out := make([]float64, n)
	for at := 0; at < len(x); at += block {
		part := make([]float64, 2*block)
		copy(part, x[at:min(at+block, len(x))])
		c := b.fft.Coefficients(nil, part)
		for i := range c {
			c[i] *= w[i]
		}
		for i, s := range b.inverse(c) {
			if at+i < n {
				out[at+i] += s
			}
		}
	}
	return out
}

func conj(c complex128) complex128 { return complex(real(c), -imag(c)) }
