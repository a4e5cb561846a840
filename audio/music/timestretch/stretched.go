package timestretch

import (
	"fmt"
	"slices"
	"sync"
	"sync/atomic"
)

// Stretched is a song at a tempo. What is heard at each frame depends on nothing
// but the song and the tempo.
//
// It must be planned before it is played. [Stretched.Plan] does that, some hundred
// times faster than the sound plays, and so belongs in a goroutine of its own. A
// frame that is not planned yet already has a sound and a place in the song, but
// both may change. The fades that were worked out are kept: at 75 % they need two
// fifths of the memory of the sound, for as much of it as is planned.
//
// All methods may be called from any goroutine. All but Plan take no lock, block on
// nothing and allocate nothing.
type Stretched struct {
	source   *Source
	planning sync.Mutex // guards planner
	planner  planner
	edit     atomic.Pointer[edit]
}

// Stretch returns the song at a tempo, with nothing planned yet. It is silent
// before the tempo's first anchor and starts there at once, without a fade. It
// fails if the tempo is invalid (see [Tempo.Check]) or begins after the end of
// the sound.
func (s *Source) Stretch(t Tempo) (*Stretched, error) {
	if err := t.Check(); err != nil {
		return nil, err
	}
	if t[0].In > s.Len() {
		return nil, fmt.Errorf("tempo: begins at frame %d, the sound has %d", t[0].In, s.Len())
	}
	e := begin(t[0], s.Len())
	out := &Stretched{source: s, planner: planner{source: s, tempo: slices.Clone(t), edit: *e, at: t[0], done: t[0].In >= s.Len()}}
	out.edit.Store(e)
	return out, nil
}

// Plan plans at least as far as frame out of the stretched sound, or to its
// end. It reports whether the end was reached.
func (s *Stretched) Plan(out int64) (all bool) {
	s.planning.Lock()
	defer s.planning.Unlock()
	p := &s.planner
	for !p.done && p.edit.planned < out {
		p.passage()
		e := p.edit
		s.edit.Store(&e)
	}
	return p.done
}

// Planned returns the frame before which nothing will change any more.
func (s *Stretched) Planned() int64 { return s.edit.Load().planned }

// End returns the frame of the stretched sound at which the song ends and silence
// begins. The part that is not planned yet counts as read at its own speed.
func (s *Stretched) End() int64 { return s.edit.Load().end }

// In returns the place in the recording that is heard at frame out of the
// stretched sound, in frames. It increases strictly, and Out is its inverse. It
// is exact at attacks and wherever the sound is heard once; where something is
// repeated or skipped, it moves through that evenly.
func (s *Stretched) In(out float64) float64 { return s.edit.Load().in(out) }

// Out returns the place in the stretched sound of a frame of the recording.
func (s *Stretched) Out(in float64) float64 { return s.edit.Load().out(in) }

// Render fills frames with the stretched sound from frame at on, as samples between
// -1 and 1. The result does not depend on how the sound is cut into calls.
func (s *Stretched) Render(frames [][2]float64, at int64) {
	e := s.edit.Load()
	i := e.under(at)
	for len(frames) > 0 {
		n := int64(len(frames))
		if i+1 < len(e.splices) {
			n = min(n, e.splices[i+1].out-at)
		}
		if i < 0 {
			clear(frames[:n])
		} else {
			s.source.render(frames[:n], at, e, i)
		}
		frames, at, i = frames[n:], at+n, i+1
	}
}
