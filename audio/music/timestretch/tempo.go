package timestretch

import (
	"errors"
	"fmt"
	"sort"
)

// Slowest and Fastest bound the speed of each piece of a tempo: recorded frames
// per stretched frame. The range that is meant and tested is 0.5 to 1.2; the
// rest is room for pieces as short as a beat, whose ends are not quite even.
const (
	Slowest = 0.4
	Fastest = 1.5
)

// Anchor says that frame In of the recording is wanted at frame Out of the
// stretched sound.
type Anchor struct{ In, Out int64 }

// Tempo says when each part of the recording is wanted: at each anchor, and
// evenly in between. The stretched sound begins at the first anchor; after the
// last, it goes on at the speed of the last piece. Beats are good anchors,
// because splices are chosen so that the sound is very near its place there.
type Tempo []Anchor

// Check reports what is wrong with a tempo: it needs at least two anchors, none
// before frame 0, and between neighbours a speed from [Slowest] to [Fastest].
func (t Tempo) Check() error {
	if len(t) < 2 {
		return errors.New("tempo: needs at least two anchors")
	}
	if t[0].In < 0 || t[0].Out < 0 {
		return fmt.Errorf("tempo: begins before frame 0: at frame %d of the recording, frame %d of the stretched sound", t[0].In, t[0].Out)
	}
	for i, a := range t[1:] {
		in, out := a.In-t[i].In, a.Out-t[i].Out
		if in <= 0 || out <= 0 {
			return fmt.Errorf("tempo: anchor %d is not after the one before it", i+1)
		}
		if speed := float64(in) / float64(out); speed < Slowest || speed > Fastest {
			return fmt.Errorf("tempo: speed %.3f before anchor %d is outside %g to %g", speed, i+1, Slowest, Fastest)
		}
	}
	return nil
}

// Out returns the frame of the stretched sound at which frame in of the recording
// is wanted. Before the first anchor it goes by the speed of the first piece.
func (t Tempo) Out(in float64) float64 {
	i := sort.Search(len(t)-2, func(i int) bool { return float64(t[i+1].In) > in })
	a, b := t[i], t[i+1]
	return float64(a.Out) + (in-float64(a.In))*float64(b.Out-a.Out)/float64(b.In-a.In)
}

// In returns the frame of the recording that is wanted at frame out of the
// stretched sound. It is the inverse of Out.
func (t Tempo) In(out float64) float64 {
	i := sort.Search(len(t)-2, func(i int) bool { return float64(t[i+1].Out) > out })
	a, b := t[i], t[i+1]
	return float64(a.In) + (out-float64(a.Out))*float64(b.In-a.In)/float64(b.Out-a.Out)
}

// after returns the index of the first anchor at or after frame in.
func (t Tempo) after(in int64) int {
	return sort.Search(len(t), func(i int) bool { return t[i].In >= in })
}

// anchorNear returns the frame of the last anchor in (from, to], or to if there
// is none.
func (t Tempo) anchorNear(from, to int64) int64 {
	if i := t.after(to + 1); i > 0 && t[i-1].In > from {
		return t[i-1].In
	}
	return to
}
