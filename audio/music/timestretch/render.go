package timestretch

import (
	"math"
)

// render fills frames from frame at on, all of which splice i reads.
func (s *Source) render(frames [][2]float64, at int64, e *edit, i int) {
	sp, next := &e.splices[i], &splice{out: math.MaxInt64, from: Anchor{Out: math.MaxInt64}}
	if i+1 < len(e.splices) {
		next = &e.splices[i+1]
	}
	for len(frames) > 0 {
		part := frames
		upTo := func(out int64) { part = frames[:min(int64(len(frames)), out-at)] }
		switch {
		case i > 0 && at < sp.out+sp.fade:
			upTo(sp.out + sp.fade)
			copyTo(part, sp.joined[at-sp.out:])
		case i > 0 && at < sp.to.Out:
			upTo(sp.to.Out)
			s.even(part, at, sp, sp)
		case at >= next.from.Out:
			s.even(part, at, sp, next)
		default:
			upTo(next.from.Out)
			s.copy(part, at-sp.out+sp.in)
		}
		frames, at = frames[len(part):], at+int64(len(part))
	}
}

// copy fills frames with the recording from frame in on, and silence beyond its
// end.
func (s *Source) copy(frames [][2]float64, in int64) {
	n := min(max(s.Len()-in, 0), int64(len(frames)))
	if n > 0 {
		copyTo(frames[:n], s.frames[in:])
	}
	clear(frames[n:])
}

// even reads by splice sp where splice round repeats or skips something.
func (s *Source) even(frames [][2]float64, out int64, sp, round *splice) {
	r := s.evened(out, sp, round)
	for i := range frames {
		left, right := r.next()
		frames[i] = [2]float64{clip(left), clip(right)}
	}
}

// copyTo converts recorded frames to samples between -1 and 1.
func copyTo(frames [][2]float64, recorded [][2]int16) {
	for i, f := range recorded[:len(frames)] {
		frames[i] = [2]float64{float64(f[0]) * full, float64(f[1]) * full}
	}
}

func clip(x float64) float64 { return min(max(x, -1), 1) }
