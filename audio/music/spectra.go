package music

import (
	"context"
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/dsp/window"
)

// spectra takes perSec spectra a second, of windows of size frames, until the sound or
// ctx ends. It calls with for each, n = 0, 1, 2 …, with the strengths of the frequencies
// and the windowed frames; both slices are reused.
func spectra(ctx context.Context, mono []float32, rate, size int, perSec float64, with func(n int, strengths, frames []float64)) {
	fft := fourier.NewFFT(size)
	shape := window.NewValues(window.Hann, size)
	in, out, strengths := make([]float64, size), make([]complex128, size/2+1), make([]float64, size/2+1)
	for n := 0; ; n++ {
		middle := int(math.Round(float64(n) * float64(rate) / perSec))
		if middle >= len(mono) || ctx.Err() != nil {
			return
		}
		for i := range in {
			in[i] = 0
			if at := middle - size/2 + i; at >= 0 && at < len(mono) {
				in[i] = float64(mono[at]) * shape[i]
			}
		}
		fft.Coefficients(out, in)
		for i, c := range out {
			strengths[i] = math.Sqrt(real(c)*real(c) + imag(c)*imag(c)) // no sound is too loud to be squared
		}
		with(n, strengths, in)
	}
}
