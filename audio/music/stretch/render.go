package stretch

import (
	"math"
	"sort"
)

// under is the index of the splice whose reading is heard at frame out, -1
// before the beginning.
func (e *edit) under(out int64) int {
	return sort.Search(len(e.splices), func(i int) bool { return e.splices[i].out > out }) - 1
}

// render gives the frames from at on, all of the reading of splice i.
func (s *Song) render(frames [][2]float64, at int64, e *edit, i int) {
	sp := &e.splices[i]
	n := int64(len(frames))
	for k := int64(0); k < n; {
		out := at + k
		switch {
		case i > 0 && out < sp.out+sp.fade:
			stop := min(n, sp.out+sp.fade-at)
			s.cross(frames[k:stop], out, e, i)
			k = stop
		case out < sp.to.Out && i > 0:
			stop := min(n, sp.to.Out-at)
			s.even(frames[k:stop], out, sp, sp)
			k = stop
		case i+1 < len(e.splices) && out >= e.splices[i+1].from.Out:
			s.even(frames[k:], out, sp, &e.splices[i+1])
			k = n
		default:
			stop := n
			if i+1 < len(e.splices) {
				stop = min(n, e.splices[i+1].from.Out-at)
			}
			s.copy(frames[k:stop], out-sp.out+sp.in)
			k = stop
		}
	}
}

// copy reads from frame in on; beyond the end there is silence.
func (s *Song) copy(frames [][2]float64, in int64) {
	n := min(max(s.Len()-in, 0), int64(len(frames)))
	if n > 0 {
		for i, f := range s.frames[in : in+n] {
			frames[i] = [2]float64{float64(f[0]) * full, float64(f[1]) * full}
		}
	}
	clear(frames[n:])
}

// even reads by splice sp where the map goes through what splice round
// repeats or skips.
func (s *Song) even(frames [][2]float64, out int64, sp, round *splice) {
	r := s.evened(out, sp, round)
	for i := range frames {
		left, right := r.next()
		frames[i] = [2]float64{clip(left), clip(right)}
	}
}

// place is the map at frame out, on the line of the splice.
func (s *splice) place(out int64) int64 {
	return int64(between(float64(out), s.from.Out, s.to.Out, s.from.In, s.to.In))
}

// cross fades from the reading before splice i to that of it. The two are
// weighted so that the sum is as loud as either, whether they are alike or
// not.
func (s *Song) cross(frames [][2]float64, out int64, e *edit, i int) {
	sp, before := &e.splices[i], &e.splices[i-1]
	going, coming := s.evened(out, before, sp), s.evened(out, sp, sp)
	for k := range frames {
		o := out + int64(k)
		w := (float64(o-sp.out) + 0.5) / float64(sp.fade)
		w = w * w * (3 - 2*w)
		v := 1 - w
		norm := 1 / math.Sqrt(w*w+v*v+2*w*v*float64(sp.alike))
		goingL, goingR := going.next()
		comingL, comingR := coming.next()
		frames[k] = [2]float64{clip((goingL*v + comingL*w) * norm), clip((goingR*v + comingR*w) * norm)}
	}
}

func clip(x float64) float64 { return min(max(x, -1), 1) }
