package timestretch_test

import (
	"math"
	"math/cmplx"
	"slices"
	"sync"
	"testing"

	"dance.example/slowquick/audio/music/timestretch"
)

// newSong finds the attacks of a sound.
func newSong(t testing.TB, s timestretch.Sound) *timestretch.Source {
	t.Helper()
	source, err := timestretch.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return source
}

// atSpeed returns the song at a speed, planned to its end.
func atSpeed(t testing.TB, source *timestretch.Source, speed float64) *timestretch.Stretched {
	t.Helper()
	return planned(t, source, steady(timestretch.Anchor{}, speed))
}

// steady returns the tempo that begins at an anchor and has one speed.
func steady(from timestretch.Anchor, speed float64) timestretch.Tempo {
	const far = 1 << 32
	return timestretch.Tempo{from, {In: from.In + int64(math.Round(speed*far)), Out: from.Out + far}}
}

func planned(t testing.TB, source *timestretch.Source, tempo timestretch.Tempo) *timestretch.Stretched {
	t.Helper()
	s, err := source.Stretch(tempo)
	if err != nil {
		t.Fatal(err)
	}
	if !s.Plan(math.MaxInt64) {
		t.Fatal("not planned to its end")
	}
	return s
}

// rendered returns the whole of a stretched sound.
func rendered(s *timestretch.Stretched) [][2]float64 {
	frames := make([][2]float64, s.End())
	s.Render(frames, 0)
	return frames
}

// wave returns a recorded sound as Render would at speed 1.
func wave(s timestretch.Sound) [][2]float64 {
	frames := make([][2]float64, len(s.Frames))
	for i, f := range s.Frames {
		frames[i] = [2]float64{float64(f[0]) / 32768, float64(f[1]) / 32768}
	}
	return frames
}

// clicks says how the clicks of a train came out. Errors are in ms.
type clicks struct {
	n, lost, doubled int
	errors           []float64
}

func (c clicks) mean() (m float64) {
	for _, e := range c.errors {
		m += math.Abs(e) / float64(len(c.errors))
	}
	return m
}

func (c clicks) most() (m float64) {
	for _, e := range c.errors {
		m = max(m, math.Abs(e))
	}
	return m
}

func (c *clicks) add(d clicks) {
	c.n, c.lost, c.doubled = c.n+d.n, c.lost+d.lost, c.doubled+d.doubled
	c.errors = append(c.errors, d.errors...)
}

// centred returns c without its median error, for programs that start late.
func (c clicks) centred() clicks {
	sorted := slices.Sorted(slices.Values(c.errors))
	c.errors = slices.Clone(c.errors)
	for i := range c.errors {
		c.errors[i] -= sorted[len(sorted)/2]
	}
	return c
}

// sharp returns the treble of a sound, smoothed over 0.5 ms; clicks stand out
// in it.
func sharp(frames [][2]float64) []float64 {
	out := make([]float64, len(frames))
	for i := 2; i < len(frames); i++ {
		for c := range 2 {
			d := frames[i][c] - 2*frames[i-1][c] + frames[i-2][c]
			out[i] += d * d
		}
	}
	const width = rate / 2000
	sum := 0.0
	smooth := make([]float64, len(out))
	for i := range out {
		sum += out[i]
		if i >= width {
			sum -= out[i-width]
		}
		smooth[max(0, i-width/2)] = math.Sqrt(max(sum, 0))
	}
	return smooth
}

// measureClicks looks for each click within 45 ms of its place in the stretched
// sound. It is lost if less than half its level is there, and doubled if there
// is a second peak of over a quarter of it within 70 ms.
func measureClicks(original, stretched [][2]float64, at []float64, place func(second float64) float64) clicks {
	was, is := sharp(original), sharp(stretched)
	const ms = rate / 1000
	var c clicks
	for _, second := range at {
		c.n++
		before, _ := peak(was, int(second*rate)-2*ms, int(second*rate)+8*ms)
		want := place(float64(before)/rate) * rate
		i, level := peak(is, int(want)-45*ms, int(want)+45*ms)
		if level < was[before]/2 {
			c.lost++
			continue
		}
		_, second := peak(is, i-70*ms, i-6*ms)
		_, third := peak(is, i+8*ms, i+70*ms)
		if max(second, third) > level/4 {
			c.doubled++
		}
		c.errors = append(c.errors, (float64(i)-want)/ms)
	}
	return c
}

// peak returns where the largest of the values in [a, b) is, and its level.
func peak(values []float64, a, b int) (at int, level float64) {
	at = max(0, a)
	for i := max(0, a); i < min(b, len(values)); i++ {
		if values[i] > level {
			at, level = i, values[i]
		}
	}
	return at, level
}

// fluxRise is how far an onset must stand out. With 0.10, about as many are
// found in the pieces of tuningSeeds as they have (280, of which 266 are in
// their places).
const fluxRise = 0.10

// onsets returns the seconds at which a note begins: peaks of the flux of 40
// log mel bands.
func onsets(frames [][2]float64) []float64 {
	const size, hop, bands = 1024, 240, 40
	n := (len(frames) - size) / hop
	if n < 1 {
		return nil
	}
	filters := melFilters(size, bands)
	levels := make([][bands]float64, n)
	buffer := make([]complex128, size)
	for i := range n {
		for k := range buffer {
			f := frames[i*hop+k]
			w := 0.5 - 0.5*math.Cos(2*math.Pi*float64(k)/size)
			buffer[k] = complex(w*(f[0]+f[1])/2, 0)
		}
		fft(buffer)
		for b, filter := range filters {
			sum := 0.0
			for _, p := range filter {
				sum += p.weight * cmplx.Abs(buffer[p.bin])
			}
			levels[i][b] = math.Log1p(20 * sum)
		}
	}
	flux := make([]float64, n)
	for i := 2; i < n; i++ {
		for b := range bands {
			flux[i] += max(0, levels[i][b]-levels[i-2][b]) / bands
		}
	}
	var out []float64
	for i := 12; i < n-12; i++ {
		around := flux[i-12 : i+13]
		mean := 0.0
		for _, v := range around {
			mean += v / 25
		}
		if flux[i] >= slices.Max(flux[i-6:i+7]) && flux[i] > mean+fluxRise {
			out = append(out, (float64(i-1)*hop+size/2)/rate)
		}
	}
	return out
}

type melBin struct {
	bin    int
	weight float64
}

func melFilters(size, bands int) [][]melBin {
	mel := func(f float64) float64 { return 1127 * math.Log1p(f/700) }
	hertz := func(m float64) float64 { return 700 * math.Expm1(m/1127) }
	low, high := mel(60), mel(15000)
	edge := func(i int) float64 {
		return hertz(low+(high-low)*float64(i)/float64(bands+1)) * float64(size) / rate
	}
	filters := make([][]melBin, bands)
	for b := range filters {
		from, mid, to := edge(b), edge(b+1), edge(b+2)
		if to-from < 2 { // at least one bin
			from, to = mid-1, mid+1
		}
		for k := int(math.Ceil(from)); float64(k) < to && k < size/2; k++ {
			w := min((float64(k)-from)/(mid-from), (to-float64(k))/(to-mid))
			filters[b] = append(filters[b], melBin{k, max(w, 0) / (to - from)})
		}
	}
	return filters
}

// fft transforms x in place. Its length must be a power of two.
func fft(x []complex128) {
	n := len(x)
	for i, j := 1, 0; i < n; i++ {
		bit := n >> 1
		for ; j&bit != 0; bit >>= 1 {
			j ^= bit
		}
		j ^= bit
		if i < j {
			x[i], x[j] = x[j], x[i]
		}
	}
	turns := turnsOf(n)
	for size := 2; size <= n; size *= 2 {
		for start := 0; start < n; start += size {
			for k := range size / 2 {
				a, b := x[start+k], turns[k*(n/size)]*x[start+k+size/2]
				x[start+k], x[start+k+size/2] = a+b, a-b
			}
		}
	}
}

// turnsOf returns the twiddle factors of a transform of length n, and keeps the
// last ones.
var turnsOf = func() func(n int) []complex128 {
	var mu sync.Mutex
	var turns []complex128
	return func(n int) []complex128 {
		mu.Lock()
		defer mu.Unlock()
		if len(turns) != n/2 {
			turns = make([]complex128, n/2)
			for k := range turns {
				turns[k] = cmplx.Rect(1, -2*math.Pi*float64(k)/float64(n))
			}
		}
		return turns
	}
}()

// compared says how n onsets came out: how many were lost, and how many extra
// ones there are. An onset may be 50 ms off.
type compared struct {
	n, lost, extra int
	errors         []float64 // ms, without their median
}

func (c compared) lostPart() float64  { return float64(c.lost) / float64(c.n) }
func (c compared) extraPart() float64 { return float64(c.extra) / float64(c.n) }

// within returns the error in ms that 95 % do not exceed.
func (c compared) within() float64 {
	abs := make([]float64, len(c.errors))
	for i, e := range c.errors {
		abs[i] = math.Abs(e)
	}
	slices.Sort(abs)
	if len(abs) == 0 {
		return 0
	}
	return abs[len(abs)*95/100]
}

func (c *compared) add(d compared) {
	c.n, c.lost, c.extra = c.n+d.n, c.lost+d.lost, c.extra+d.extra
	c.errors = append(c.errors, d.errors...)
}

// compareOnsets pairs the onsets of a sound with the nearest ones of the
// stretched sound.
func compareOnsets(was, is []float64, place func(float64) float64) compared {
	// First find out how late the program starts.
	offset := 0.0
	for range 2 {
		c := pair(was, is, place, offset)
		slices.Sort(c.errors)
		if len(c.errors) > 0 {
			offset += c.errors[len(c.errors)/2]
		}
	}
	return pair(was, is, place, offset)
}

func pair(was, is []float64, place func(float64) float64, offset float64) compared {
	c := compared{n: len(was)}
	taken := make([]bool, len(is))
	for _, w := range was {
		want := place(w) + offset/1000
		best, least := -1, 0.05
		for i, s := range is {
			if d := math.Abs(s - want); d <= least && !taken[i] {
				best, least = i, d
			}
		}
		if best < 0 {
			c.lost++
			continue
		}
		taken[best] = true
		c.errors = append(c.errors, (is[best]-want)*1000)
	}
	c.extra = len(is) - len(c.errors)
	return c
}

// cents returns how many cents the pitch of a tone is off, measured by how far
// its phase turns between the ends of the sound.
func cents(frames [][2]float64, pitch float64) float64 {
	const step = rate / 20
	var last complex128
	turn, steps := 0.0, 0
	for from := step; from+step < len(frames)-step; from += step / 4 {
		var sum complex128
		for i := range step {
			w := 0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/step)
			sum += complex(w*frames[from+i][0], 0) * cmplx.Rect(1, -2*math.Pi*pitch*float64(from+i)/rate)
		}
		if steps > 0 {
			turn += cmplx.Phase(sum * cmplx.Conj(last))
		}
		last = sum
		steps++
	}
	hertz := turn / (2 * math.Pi) / (float64(steps-1) * step / 4 / rate)
	return 1200 * math.Log2((pitch+hertz)/pitch)
}

// impurity returns the energy of a sound that is not within 12 Hz of a partial,
// in dB relative to all its energy.
func impurity(frames [][2]float64, partials []float64) float64 {
	const size = 1 << 15
	buffer := make([]complex128, size)
	all, other := 0.0, 0.0
	for from := rate / 2; from+size < len(frames)-rate/2; from += size / 2 {
		for k := range buffer {
			x := 2 * math.Pi * float64(k) / size
			// Blackman and Harris's window, whose side lobes are below -92 dB.
			w := 0.35875 - 0.48829*math.Cos(x) + 0.14128*math.Cos(2*x) - 0.01168*math.Cos(3*x)
			buffer[k] = complex(w*frames[from+k][0], 0)
		}
		fft(buffer)
		for k := 1; k < size/2; k++ {
			e := real(buffer[k])*real(buffer[k]) + imag(buffer[k])*imag(buffer[k])
			all += e
			f := float64(k) * rate / size
			if !slices.ContainsFunc(partials, func(p float64) bool { return math.Abs(p-f) < 12 }) {
				other += e
			}
		}
	}
	return 10 * math.Log10(other/all+1e-12)
}
