package timestretch

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

// Slowest and Fastest are the speeds between which a piece of a tempo may be:
// recorded frames for a stretched one. Meant, and tested, are 0.5 to 1.2; the
// rest is room for pieces as short as a beat, whose ends are not quite even.
const (
	Slowest = 0.4
	Fastest = 1.5
)

// Anchor says at which frame of the stretched sound a frame of the recorded
// one lies.
type Anchor struct{ In, Out int64 }

// Tempo says where the recorded sound is wanted: at each of its anchors, and
// evenly in between. The stretched sound begins with the first; after the
// last, it goes on at the speed of the last piece. Beats are good anchors: a
// splice is chosen so that the sound is very near its place there.
type Tempo []Anchor

// Steady is the tempo that begins at an anchor and has one speed.
func Steady(from Anchor, speed float64) Tempo {
	const far = 1 << 32
	return Tempo{from, {In: from.In + int64(math.Round(speed*far)), Out: from.Out + far}}
}

// Check tells what is wrong with a tempo: it needs two anchors, none before
// frame 0, and between each and the next a speed from [Slowest] to [Fastest].
func (t Tempo) Check() error {
	if len(t) < 2 {
		return errors.New("tempo: needs two anchors")
	}
	if t[0].In < 0 || t[0].Out < 0 {
		return fmt.Errorf("tempo: begins before frame 0, at %d of the recorded and %d of the stretched sound", t[0].In, t[0].Out)
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

// Out returns where a frame of the recorded sound is wanted. Before the first
// anchor the first piece goes on.
func (t Tempo) Out(in float64) float64 {
	i := sort.Search(len(t)-2, func(i int) bool { return float64(t[i+1].In) > in })
	a, b := t[i], t[i+1]
	return float64(a.Out) + (in-float64(a.In))*float64(b.Out-a.Out)/float64(b.In-a.In)
}

// In returns which frame of the recorded sound is wanted at a frame of the
// stretched one: the inverse of Out.
func (t Tempo) In(out float64) float64 {
	i := sort.Search(len(t)-2, func(i int) bool { return float64(t[i+1].Out) > out })
	a, b := t[i], t[i+1]
	return float64(a.In) + (out-float64(a.Out))*float64(b.In-a.In)/float64(b.Out-a.Out)
}

// after is the index of the first anchor at or after frame in.
func (t Tempo) after(in int64) int {
	return sort.Search(len(t), func(i int) bool { return t[i].In >= in })
}

// anchorNear is the last anchor between two frames, or the later of them.
func (t Tempo) anchorNear(from, to int64) int64 {
	if i := t.after(to + 1); i > 0 && t[i-1].In > from {
		return t[i-1].In
	}
	return to
}
