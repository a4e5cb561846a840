package timestretch

import "math"

// When part of a decaying note is repeated, it sounds like a new attack, and the
// treble of most sounds decays faster. So where something is repeated or skipped,
// each band is made as loud as at the place in the song that the map gives. The
// loudness then follows the map, as if the sound were stretched evenly.

const (
	// leastGain and mostGain bound the gain of a band.
	leastGain = 0.25
	mostGain  = 2
)

// The triangle filters that separate the bands, and the window over which the
// loudness of each is measured.
var (
	splitHertz  = [bands - 1]float64{1500, 6000} // a triangle's first null
	loudWindows = [bands]float64{40, 30, 20}     // ms
)

// hearBands measures the loudness of the bands.
func (s *Source) hearBands() {
	for b, f := range splitHertz {
		s.split[b] = max(1, int64(math.Round(float64(s.lengths.rate)/f)))
	}
	hop := s.lengths.hop
	n := (len(s.frames) + hop - 1) / hop
	var energy [bands][]float32
	for b := range energy {
		energy[b] = make([]float32, n)
	}
	r := s.reader(0)
	for i := range n {
		var low, mid, high float32
		for range min(hop, len(s.frames)-i*hop) {
			now := s.frames[r.in]
			wl, wr, nl, nr := r.next()
			low += wl*wl + wr*wr
			mid += (nl-wl)*(nl-wl) + (nr-wr)*(nr-wr)
			hl, hr := float32(now[0])-nl, float32(now[1])-nr
			high += hl*hl + hr*hr
		}
		energy[0][i], energy[1][i], energy[2][i] = low, mid, high
	}
	s.loud = make([][bands]float32, n+1)
	for b := range energy {
		sum := sums(energy[b])
		window := s.hops(loudWindows[b])
		for i := range s.loud {
			from, to := max(0, i-window/2), min(n, i+(window+1)/2)
			mean := (sum[to] - sum[from]) / float64(max(to-from, 1)*hop)
			s.loud[i][b] = float32(math.Sqrt(mean + 1)) // in units of a sample
		}
	}
}

// loudAt returns the loudness of the bands around frame in, interpolated
// between hops.
func (s *Source) loudAt(in int64) [bands]float32 {
	hop := int64(s.lengths.hop)
	in = min(max(in, 0), int64(len(s.loud)-1)*hop)
	i := in / hop
	if i == int64(len(s.loud)-1) {
		return s.loud[i]
	}
	part := float32(in-i*hop) / float32(hop)
	a, b := &s.loud[i], &s.loud[i+1]
	var loud [bands]float32
	for k := range loud {
		loud[k] = a[k] + part*(b[k]-a[k])
	}
	return loud
}

// reader reads and filters a song frame by frame. Its sums are integers, so
// they don't depend on where the reading began.
type reader struct {
	source       *Source
	in           int64
	wide, narrow triangle // low-pass below the second band, and below the third
}

// reader returns a reader that starts at frame in.
func (s *Source) reader(in int64) reader {
	return reader{s, in, s.triangle(in, s.split[0]), s.triangle(in, s.split[1])}
}

// next reads a frame and returns what each of the two triangles lets through.
func (r *reader) next() (wideL, wideR, narrowL, narrowR float32) {
	l, rt := r.source.frame(r.in + 1)
	wideL, wideR = r.wide.next(r.source, r.in, l, rt)
	narrowL, narrowR = r.narrow.next(r.source, r.in, l, rt)
	r.in++
	return wideL, wideR, narrowL, narrowR
}

// triangle is a low-pass filter of width w. Its value at frame n is the sum of
// the frames from n-w to n+w, each weighted by w minus its distance from n.
type triangle struct {
	width          int64
	scale          float32
	l, r           int32 // the value
	afterL, afterR int32 // the sum of the frames n+1 to n+w
	upToL, upToR   int32 // the sum of the frames n-w+1 to n
}

// triangle returns the filter at frame in.
func (s *Source) triangle(in, width int64) triangle {
	t := triangle{width: width, scale: 1 / float32(width*width)}
	for d := 1 - width; d <= width; d++ {
		l, r := s.frame(in + d)
		weight := int32(width - max(d, -d))
		t.l, t.r = t.l+l*weight, t.r+r*weight
		if d > 0 {
			t.afterL, t.afterR = t.afterL+l, t.afterR+r
		} else {
			t.upToL, t.upToR = t.upToL+l, t.upToR+r
		}
	}
	return t
}

// next returns the value at frame in and moves to the next frame, whose samples
// are l and r.
func (t *triangle) next(s *Source, in int64, l, r int32) (lowL, lowR float32) {
	lowL, lowR = float32(t.l)*t.scale, float32(t.r)*t.scale
	firstL, firstR := s.frame(in - t.width + 1)
	lastL, lastR := s.frame(in + t.width + 1)
	t.l += t.afterL - t.upToL
	t.r += t.afterR - t.upToR
	t.afterL += lastL - l
	t.afterR += lastR - r
	t.upToL += l - firstL
	t.upToR += r - firstR
	return lowL, lowR
}

// grain is how many frames of the stretched sound lie between two for which
// gains are worked out; they are interpolated between those.
const grain = 32

// evened reads by one splice, where something is repeated or skipped, and evens
// out the loudness.
type evened struct {
	reader
	ahead int64   // the frame read minus the frame of the stretched sound
	round *splice // repeats or skips what is read
	gain  [bands]float32
	step  [bands]float32
}

// evened reads by splice sp, starting at frame out of the stretched sound.
func (s *Source) evened(out int64, sp, round *splice) evened {
	r := evened{reader: s.reader(out - sp.out + sp.in), ahead: sp.in - sp.out, round: round}
	r.slope(out / grain * grain)
	return r
}

// slope works out the gains from frame out, a multiple of grain, to the next
// multiple.
func (r *evened) slope(out int64) {
	r.gain = r.gainAt(out)
	next := r.gainAt(out + grain)
	for b := range next {
		r.step[b] = (next[b] - r.gain[b]) / grain
	}
}

func (r *evened) gainAt(out int64) (gain [bands]float32) {
	wanted, is := r.source.loudAt(r.round.place(out)), r.source.loudAt(out+r.ahead)
	for b := range gain {
		gain[b] = min(max(wanted[b]/is[b], leastGain), mostGain)
	}
	return gain
}

func (r *evened) next() (left, right float64) {
	out := r.in - r.ahead
	if out%grain == 0 {
		r.slope(out)
	}
	along := float32(out % grain)
	low := r.gain[0] + along*r.step[0]
	mid := r.gain[1] + along*r.step[1]
	high := r.gain[2] + along*r.step[2]
	xl, xr := r.source.frame(r.in)
	wl, wr, nl, nr := r.reader.next()
	left = float64(high*float32(xl) + (mid-high)*nl + (low-mid)*wl)
	right = float64(high*float32(xr) + (mid-high)*nr + (low-mid)*wr)
	return left * full, right * full
}
