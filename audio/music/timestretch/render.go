package timestretch

import "sort"

// under returns the index of the splice by which frame out is read, or -1
// before the beginning.
func (e *edit) under(out int64) int {
	return sort.Search(len(e.splices), func(i int) bool { return e.splices[i].out > out }) - 1
}

// render fills frames from frame at on, all of which splice i reads.
func (s *Source) render(frames [][2]float64, at int64, e *edit, i int) {
	sp := &e.splices[i]
	n := int64(len(frames))
	for k := int64(0); k < n; {
		out := at + k
		switch {
		case i > 0 && out < sp.out+sp.fade:
			stop := min(n, sp.out+sp.fade-at)
			copyTo(frames[k:stop], sp.joined[out-sp.out:])
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

// place returns the map at frame out, on this splice's line or next to it.
func (s *splice) place(out int64) int64 {
	switch {
	case out < s.from.Out:
		return s.from.In + out - s.from.Out
	case out > s.to.Out:
		return s.to.In + out - s.to.Out
	}
	return int64(between(float64(out), s.from.Out, s.to.Out, s.from.In, s.to.In))
}

func clip(x float64) float64 { return min(max(x, -1), 1) }
