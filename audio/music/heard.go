package music

import (
	"context"
	"math"
)

// perSecond is the number of strength values a second.
const perSecond = 100

// Heard is what the beat finder hears in a song. It is immutable.
type Heard struct {
	songRate int
	frames   int64     // the length of the song, at its rate
	sharp    []float64 // the strengths of onsets
	strength []float64 // sharp smoothed to the resolution of the search for beats
	loud     []float64 // the root mean square around each value, 1 for full scale
	harmony  harmony
}

// The spectra in which onsets are found.
const (
	onsetWindow = 1024 // frames
	bands       = 40
	lowBands    = 5
	lowestBand  = 40.0    // Hz
	highestBand = 10000.0 // Hz
	compression = 10
	lowShare    = 0.25 // weight of the lowest bands in the strength
	flightTime  = 2    // how many values earlier the spectrum to compare with is: 20 ms
)

// Listen hears a song. It fails only if ctx ends, with the error of ctx.
//
// An onset is where the spectrum grows: in each of 40 mel bands, the logarithm of the
// strength minus the largest 20 ms before in the band and its neighbours, so that
// vibrato is not an onset. The strength of onsets is relative to the second around
// them and the root mean square of eight seconds, so that soft passages count as much
// as loud ones.
func Listen(ctx context.Context, s *Audio) (*Heard, error) {
	h := &Heard{songRate: s.Rate, frames: s.Length}
	var low []float64
	h.sharp, low, h.loud = onsets(ctx, s.mono, s.monoRate)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	level(h.sharp)
	level(low)
	for i, x := range low {
		h.sharp[i] += lowShare * x
	}
	h.strength = smooth(h.sharp)
	h.harmony = hearHarmony(ctx, s.mono, s.monoRate)
	return h, ctx.Err()
}

// onsets returns the strength of onsets in all bands and in the lowest, and the loudness.
func onsets(ctx context.Context, mono []float32, rate int) (all, low, loud []float64) {
	filters := melBands(rate)
	gain := compression / (1e-9 + meanStrength(mono))
	var ring [flightTime + 1][bands]float64
	spectra(ctx, mono, rate, onsetWindow, perSecond, func(n int, strengths, frames []float64) {
		now, before := &ring[n%len(ring)], &ring[(n+1)%len(ring)]
		sum, sumLow, square := 0.0, 0.0, 0.0
		for b, f := range filters {
			x := 0.0
			for i, w := range f.weights {
				x += w * strengths[f.first+i]
			}
			now[b] = math.Log1p(gain * x)
			was := before[b]
			if b > 0 {
				was = max(was, before[b-1])
			}
			if b < bands-1 {
				was = max(was, before[b+1])
			}
			if rise := now[b] - was; rise > 0 && n >= flightTime {
				sum += rise
				if b < lowBands {
					sumLow += rise
				}
			}
		}
		for _, x := range frames {
			square += x * x
		}
		all, low = append(all, sum), append(low, sumLow)
		loud = append(loud, math.Sqrt(square/float64(len(frames))*8/3)) // a Hann window keeps 3/8
	})
	return all, low, loud
}

// meanStrength returns about the mean strength of a band over the whole song.
func meanStrength(mono []float32) float64 {
	sum := 0.0
	for _, x := range mono {
		sum += float64(x) * float64(x)
	}
	if len(mono) == 0 {
		return 0
	}
	return math.Sqrt(sum / float64(len(mono)) * onsetWindow * 3 / 8)
}

// band is a triangle of weights on the frequencies of a spectrum, beginning at
// first. They sum to 1.
type band struct {
	first   int
	weights []float64
}

// melBands returns bands that are equally wide to the ear (O'Shaughnessy 1987,
// 2595 log10(1 + f/700)).
func melBands(rate int) []band {
	mel := func(f float64) float64 { return 2595 * math.Log10(1+f/700) }
	hertz := func(m float64) float64 { return 700 * (math.Pow(10, m/2595) - 1) }
	from, to := mel(lowestBand), mel(min(highestBand, float64(rate)/2))
	edge := func(i int) float64 {
		return hertz(from+(to-from)*float64(i)/(bands+1)) * onsetWindow / float64(rate)
	}
	filters := make([]band, bands)
	for b := range filters {
		left, middle, right := edge(b), edge(b+1), edge(b+2)
		f := band{first: int(math.Ceil(left))}
		sum := 0.0
		for i := f.first; float64(i) < right && i <= onsetWindow/2; i++ {
			w := min((float64(i)-left)/(middle-left), (right-float64(i))/(right-middle))
			f.weights = append(f.weights, w)
			sum += w
		}
		if sum < 0.5 { // too narrow for the spectrum: use the nearest frequency
			f, sum = band{min(int(math.Round(middle)), onsetWindow/2), []float64{1}}, 1
		}
		for i := range f.weights {
			f.weights[i] /= sum
		}
		filters[b] = f
	}
	return filters
}

// level subtracts from each value the mean of the second around it, and divides
// by the root mean square of the eight seconds around it.
func level(x []float64) {
	means := around(x, perSecond/2)
	squares := make([]float64, len(x))
	whole := 0.0
	for i := range x {
		x[i] -= means[i]
		squares[i] = x[i] * x[i]
		whole += squares[i]
	}
	squares = around(squares, 4*perSecond)
	floor := 0.01 * whole / float64(max(len(x), 1)) // 20 dB below the song counts as silence
	for i := range x {
		x[i] /= math.Sqrt(max(squares[i], floor)) + 1e-12
	}
}

// around returns the means of x over reach values to either side.
func around(x []float64, reach int) []float64 {
	sums := make([]float64, len(x)+1)
	for i, v := range x {
		sums[i+1] = sums[i] + v
	}
	means := make([]float64, len(x))
	for i := range x {
		from, to := max(i-reach, 0), min(i+reach+1, len(x))
		means[i] = (sums[to] - sums[from]) / float64(to-from)
	}
	return means
}

// smooth widens each value to 50 ms.
func smooth(x []float64) []float64 {
	weights := []float64{1, 2, 3, 2, 1}
	out := make([]float64, len(x))
	for i := range x {
		for j, w := range weights {
			if k := i + j - len(weights)/2; k >= 0 && k < len(x) {
				out[i] += w / 6 * x[k] // the weights sum to more than 1, so that an onset keeps its strength
			}
		}
	}
	return out
}

// at interpolates x at place, counted in values. It returns 0 beyond the ends.
func at(x []float64, place float64) float64 {
	i := int(math.Floor(place))
	if i < 0 || i+1 >= len(x) {
		return 0
	}
	part := place - float64(i)
	return x[i]*(1-part) + x[i+1]*part
}
