package audio

import "math"

// remembered is how many changes of level an engine keeps.
const remembered = 64

// fades is the level of each layer as a function of the frame. It is immutable.
type fades struct {
	ramp    int64 // frames that a change takes
	first   Levels
	changes []change // in ascending order of frame, no two on the same
}

// change leads from one set of levels to another, beginning at frame.
type change struct {
	frame    int64
	from, to Levels
}

func (f *fades) last() Levels {
	if n := len(f.changes); n > 0 {
		return f.changes[n-1].to
	}
	return f.first
}

// with returns the fades with one more change, which replaces any that begin at
// its frame or later.
func (f *fades) with(frame int64, to Levels) *fades {
	for i := range to {
		to[i] = unit(to[i])
	}
	if frame <= 0 { // nothing has been heard yet
		return &fades{ramp: f.ramp, first: to}
	}
	keep := f.changes
	for len(keep) > 0 && keep[len(keep)-1].frame >= frame {
		keep = keep[:len(keep)-1]
	}
	next := &fades{ramp: f.ramp, first: f.first}
	next.changes = append(next.changes, keep...)
	c := change{frame: frame, to: to}
	for i := range c.from {
		fade, _ := next.during(frame, Layer(i))
		c.from[i] = float32(fade.at(frame))
	}
	next.changes = append(next.changes, c)
	if len(next.changes) > remembered {
		next.changes = next.changes[1:]
		next.first = next.changes[0].from
	}
	return next
}

// fade is the level of one layer: from at frame begin, to at frame begin+ramp,
// and a straight line between.
type fade struct {
	begin, ramp int64
	from, to    float64
}

func (f fade) steady() bool { return f.from == f.to }

func (f fade) at(frame int64) float64 {
	return f.from + (f.to-f.from)*float64(frame-f.begin)/float64(f.ramp)
}

// during returns the fade that a layer is in at a frame, and the frame up to
// which it applies.
func (f *fades) during(frame int64, layer Layer) (fade, int64) {
	until := int64(math.MaxInt64)
	for i := len(f.changes) - 1; i >= 0; i-- {
		c := &f.changes[i]
		if frame < c.frame {
			until = c.frame
			continue
		}
		from, to := float64(c.from[layer]), float64(c.to[layer])
		if end := c.frame + f.ramp; frame < end && from != to {
			return fade{c.frame, f.ramp, from, to}, min(until, end)
		}
		return fade{frame, f.ramp, to, to}, until
	}
	level := float64(f.first[layer])
	return fade{frame, f.ramp, level, level}, until
}

// unit clamps x to 0..1, and NaN to 0.
func unit(x float32) float32 {
	if !(x > 0) {
		return 0
	}
	return min(x, 1)
}
