package timestretch

import (
	"math"
	"sort"
)

// splice is a place where the reading jumps. From frame out of the stretched
// sound on, the recording is read from frame in; over the first fade frames
// this fades in, and what was read before fades out.
//
// What lies around it is heard twice, or skipped. Between the anchors from and
// to, the map of the times is a straight line. Outside them the sound is heard
// once, and the map is exact to the frame.
type splice struct {
	out, in  int64
	fade     int64
	from, to Anchor
	joined   [][2]int16 // the sound of the fade
}

// edit is what is planned of a stretched sound. It never changes, and a longer
// one may share its splices. The first splice is the beginning.
type edit struct {
	splices []splice
	planned int64 // nothing is added before this frame
	end     int64 // where the sound ends if nothing more is added
}

// begin returns an edit with nothing planned.
func begin(at Anchor, length int64) *edit {
	first := splice{out: at.Out, in: at.In, from: at, to: at}
	e := &edit{splices: []splice{first}, planned: at.Out}
	e.finish(length)
	return e
}

// finish sets the end, for a sound of length frames.
func (e *edit) finish(length int64) {
	last := e.splices[len(e.splices)-1]
	e.end = max(last.out, last.out+length-last.in)
}

// spliceTo returns the splice that moves the reading by jump frames. At is
// where the reading is when it jumps.
func spliceTo(at Anchor, jump, fade int64) splice {
	s := splice{out: at.Out, in: at.In + jump, fade: fade}
	repeat := max(0, -jump)
	s.from = Anchor{In: min(at.In, s.in), Out: at.Out - repeat}
	s.to = Anchor{In: max(at.In, s.in) + fade, Out: at.Out + fade + repeat}
	return s
}

// add appends a splice. If it repeats part of what the last one repeats, the
// map runs evenly through both.
func (e *edit) add(s splice) {
	last := &e.splices[len(e.splices)-1]
	if over := last.to.Out - s.from.Out; over > 0 {
		const least = 16 // frames, so that the map ascends even where one lies within the other
		out := min(max(s.from.Out+over/2, last.from.Out+least), s.to.Out-least)
		in := between(float64(out), last.from.Out, s.to.Out, last.from.In, s.to.In)
		last.to = Anchor{In: int64(math.Round(in)), Out: out}
		s.from = last.to
	}
	e.splices = append(e.splices, s)
}

// at returns the index of the last splice whose line begins at or before frame out.
func (e *edit) at(out int64) int {
	return max(0, sort.Search(len(e.splices), func(i int) bool { return e.splices[i].from.Out > out })-1)
}

// in maps the stretched sound to the recording.
func (e *edit) in(out float64) float64 {
	s := &e.splices[e.at(int64(math.Floor(out)))]
	if out >= float64(s.to.Out) {
		return float64(s.to.In) + out - float64(s.to.Out)
	}
	return between(out, s.from.Out, s.to.Out, s.from.In, s.to.In)
}

// out is the inverse of in.
func (e *edit) out(in float64) float64 {
	i := sort.Search(len(e.splices), func(i int) bool { return float64(e.splices[i].from.In) > in }) - 1
	s := &e.splices[max(0, i)]
	if in >= float64(s.to.In) {
		return float64(s.to.Out) + in - float64(s.to.In)
	}
	return between(in, s.from.In, s.to.In, s.from.Out, s.to.Out)
}

// between maps x from the range a–b to the range c–d. If a equals b, it goes on
// at a slope of one.
func between(x float64, a, b, c, d int64) float64 {
	if a == b {
		return float64(c) + x - float64(a)
	}
	return float64(c) + (x-float64(a))*float64(d-c)/float64(b-a)
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

// under returns the index of the splice by which frame out is read, or -1
// before the beginning.
func (e *edit) under(out int64) int {
	return sort.Search(len(e.splices), func(i int) bool { return e.splices[i].out > out }) - 1
}
