package timestretch

import (
	"math"
	"sort"
)

// splice is a place where the reading jumps. From frame out of the stretched
// sound on, frame in and those after it are read; over the first fade of them
// this comes in, and what was read before goes out.
//
// What lies round it is heard twice, or skipped: between the anchors from and
// to the map of the times is a straight line. Outside of these the sound is
// heard once, and the map is exact to the frame.
type splice struct {
	out, in  int64
	fade     int64
	from, to Anchor
	joined   [][2]int16 // what is heard over the fade
}

// edit is what is planned of a stretched sound. It is never changed; a longer
// one may share its splices. The first splice is the beginning.
type edit struct {
	splices []splice
	planned int64 // up to this frame nothing will be added
	end     int64 // the frame at which the sound ends, if nothing is added
}

// begin is the edit in which nothing is planned yet.
func begin(at Anchor, length int64) *edit {
	first := splice{out: at.Out, in: at.In, from: at, to: at}
	e := &edit{splices: []splice{first}, planned: at.Out}
	e.finish(length)
	return e
}

// finish sets the end, for a sound of so many frames.
func (e *edit) finish(length int64) {
	last := e.splices[len(e.splices)-1]
	e.end = max(last.out, last.out+length-last.in)
}

// spliceTo makes the splice from what is read at frame in of the recorded and
// out of the stretched sound, to the reading that is ahead by jump frames.
func spliceTo(at Anchor, jump, fade int64) splice {
	s := splice{out: at.Out, in: at.In + jump, fade: fade}
	repeat := max(0, -jump)
	s.from = Anchor{In: min(at.In, s.in), Out: at.Out - repeat}
	s.to = Anchor{In: max(at.In, s.in) + fade, Out: at.Out + fade + repeat}
	return s
}

// add appends a splice. Where what it repeats reaches back into what the last
// one repeats, the map goes evenly through both.
func (e *edit) add(s splice) {
	last := &e.splices[len(e.splices)-1]
	if over := last.to.Out - s.from.Out; over > 0 {
		const least = 16 // frames, so that it ascends also where one lies in the other
		out := min(max(s.from.Out+over/2, last.from.Out+least), s.to.Out-least)
		in := between(float64(out), last.from.Out, s.to.Out, last.from.In, s.to.In)
		last.to = Anchor{In: int64(math.Round(in)), Out: out}
		s.from = last.to
	}
	e.splices = append(e.splices, s)
}

// at is the index of the splice whose line of the map holds frame out.
func (e *edit) at(out int64) int {
	return max(0, sort.Search(len(e.splices), func(i int) bool { return e.splices[i].from.Out > out })-1)
}

// in is the map from the stretched to the recorded sound.
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

// between maps x from one range to another; an empty one is a step of one.
func between(x float64, a, b, c, d int64) float64 {
	if a == b {
		return float64(c) + x - float64(a)
	}
	return float64(c) + (x-float64(a))*float64(d-c)/float64(b-a)
}
