package claps

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
)

// The search for our own sound.
const (
	block   = 8192  // samples at a time: the longest delay, half a second
	early   = 0.050 // s by which it may come before its time
	echo    = 4096  // samples of the way from loudspeaker to microphone, a quarter of a second
	before  = 0.004 // s of that which come before the loudest
	heardAt = 0.1   // the part of the recording, without claps, that it must explain to count as heard
	rounds  = 60    // of the solver, but a third of that until the last pass
	passes  = 3     // of the fit, as claps disturb the first
	strays  = 3     // spreads from which on a sample is a clap's, not the fit's
)

// own is a recording and what of it is our own sound.
type own struct {
	rest  []float64 // the recording without it
	known []float64 // what was taken out; nil if nothing
	found bool
	delay float64 // samples
}

// takeOut takes what was played, x, out of a recording, y.
func takeOut(y, x []float64, rate float64) own {
	none := own{rest: y}
	if len(x) == 0 || energy(x) == 0 || energy(y) == 0 {
		return none
	}
	b := newBlocks()
	shift := int(early * rate)
	// y is looked at from shift earlier on, so that no lag is negative.
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

// shifted returns a signal n samples later, in a given length.
func shifted(signal []float64, n, length int) []float64 {
	out := make([]float64, length)
	for i := range out {
		if j := i - n; j >= 0 && j < len(signal) {
			out[i] = signal[j]
		}
	}
	return out
}

// tamed returns y with what is far off the fit cut down to what is usual, so that claps don't pull at
// the fit.
func tamed(y, fit []float64) []float64 {
	const part = 256 // samples in which the usual is looked for
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

// first returns where a way begins: the first sample nearly as loud as the loudest.
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

// solve returns the way that explains a correlation with least squares, given the autocorrelation of
// what was played, by conjugate gradients. A little is added to the latter's energy, so that
// frequencies that were hardly played explain nothing.
func solve(b *blocks, self, cross []float64, rounds int) []float64 {
	const little = 1e-3
	n := len(cross)
	// The Toeplitz matrix, as a circulant one of twice the size.
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

// blocks works on long signals in blocks, with one transform.
type blocks struct{ fft *fourier.FFT }

func newBlocks() *blocks { return &blocks{fourier.NewFFT(2 * block)} }

func (b *blocks) inverse(c []complex128) []float64 {
	out := b.fft.Sequence(nil, c)
	for i := range out {
		out[i] /= 2 * block
	}
	return out
}

// spectra calls f with the spectrum of each block of x, and of y from the block's beginning to a block
// after its end.
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

// sharpened is correlate as if all frequencies had been played equally loud, but those that hardly were.
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

// convolve returns the first n samples of x after a way.
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
