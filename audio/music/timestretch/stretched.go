package timestretch

import (
	"fmt"
	"slices"
	"sync"
	"sync/atomic"
)

// Stretched is a song at a tempo. What is heard at each of its frames depends
// on the song and the tempo and on nothing else.
//
// It has to be planned before it is played: that is Plan's, which may take its
// time in a goroutine of its own, some hundred times faster than the sound
// plays. Before it is planned, a frame already has a sound and a place in the
// song, but these can be others later. What is joined is kept: at 75 % that
// needs two fifths of the memory of the sound, as far as it is planned.
//
// All methods may be called from any goroutine. All but Plan take no lock,
// block on nothing and allocate nothing.
type Stretched struct {
	source   *Source
	planning sync.Mutex // guards planner
	planner  planner
	edit     atomic.Pointer[edit]
}

// Stretch gives the song at a tempo, of which nothing is planned yet. Before
// the first anchor of the tempo it is silent; at the anchor it is there at once,
// without a fade.
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

// Plan plans until frame out of the stretched sound, or to its end, and says
// whether that is reached.
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

// End returns the frame of the stretched sound at which the song ends, as far
// as it is planned; from there on it is silent. Unplanned is the part that
// reads on at the song's own speed.
func (s *Stretched) End() int64 { return s.edit.Load().end }

// In returns the place in the recorded sound of a frame of the stretched one,
// in frames. It ascends strictly, and Out is its inverse. Attacks, and all
// that is heard once, are exactly there; where something is repeated or
// skipped, the map goes evenly through it.
func (s *Stretched) In(out float64) float64 { return s.edit.Load().in(out) }

// Out returns the place in the stretched sound of a frame of the recorded one.
func (s *Stretched) Out(in float64) float64 { return s.edit.Load().out(in) }

// full is the largest sample, as a factor.
const full = 1.0 / 32768

// Render gives the frames of the stretched sound from at on, of which a sample
// is between -1 and 1. Any lengths give the same frames.
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
