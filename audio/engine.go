package audio

import (
	"fmt"
	"math"
	"sync"
	"sync/atomic"

	"github.com/gopxl/beep/v2"
)

// MaxRing is the longest that a sound rings, in seconds. The rest is cut off.
const MaxRing = 4

// span is how many frames at a time the engine asks a schedule for, so that it
// does not ask again for every small buffer.
const span = 8192

// scratch is how many frames of a track are rendered at a time.
const scratch = 1024

// room is how many hits the engine holds before its buffer must grow: about
// sixty a second, where a busy practice track has twenty.
const room = 256

// Track is sound that goes on beside a schedule's hits, such as a song.
//
// Add adds the frames from at on to out, none beyond ±1. The audio thread calls
// it, so it must neither block nor allocate.
//
// A Track that comes to rest may also have a method Silent(from int64) bool,
// which reports whether it adds nothing from frame from on. See [Engine.Silent].
type Track interface {
	Add(out [][2]float64, at int64)
}

// Engine renders a Schedule, and a Track beside it. It is a beep.StreamSeeker
// that never ends. Given the schedule and the levels, its samples are a pure
// function of the frame: any buffer size and any seek yields the same ones.
//
// Play, Accompany, Silent, SetLevels and Levels may be called from any goroutine.
// Stream, Seek and Position belong to one goroutine at a time. Stream takes no
// lock and allocates nothing, except when a schedule has more hits within
// [MaxRing] seconds than any before; then its buffer grows, once.
type Engine struct {
	rate    int
	pos     int64
	playing atomic.Pointer[Schedule] // another one for each call of Play; nil for silence
	beside  atomic.Pointer[track]    // nil for none
	levels  atomic.Pointer[fades]
	setting sync.Mutex // orders calls of SetLevels; never taken by Stream
	near    window
	scratch [][2]float64 // what a track plays, before its level is applied
}

var _ beep.StreamSeeker = (*Engine)(nil)

// track is a Track and the layer that sets its level.
type track struct {
	Track
	layer Layer
}

// window holds the hits heard in [from, to) of a schedule.
type window struct {
	of       *Schedule
	from, to int64
	hits     []Hit
}

// NewEngine returns an engine for rate frames a second, which must be positive.
// It is silent until Play, and all levels are 1.
func NewEngine(rate int) *Engine {
	if rate <= 0 {
		panic(fmt.Sprintf("audio: rate %d is not positive", rate))
	}
	e := &Engine{rate: rate, near: window{hits: make([]Hit, 0, room)}, scratch: make([][2]float64, scratch)}
	full := Levels{}
	for i := range full {
		full[i] = 1
	}
	e.levels.Store(&fades{ramp: max(int64(rate)/100, 1), first: full})
	return e
}

// Rate returns the number of frames a second.
func (e *Engine) Rate() int { return e.rate }

// Play renders s from the next call of Stream on. Nil means silence.
func (e *Engine) Play(s Schedule) {
	if s == nil {
		e.playing.Store(nil)
		return
	}
	e.playing.Store(&s)
}

// Accompany plays t beside the schedule, at the level of layer, from the next
// call of Stream on. Nil, or a layer that does not exist, means no track.
func (e *Engine) Accompany(t Track, layer Layer) {
	if t == nil || layer >= Layers {
		e.beside.Store(nil)
		return
	}
	e.beside.Store(&track{t, layer})
}

// Silent reports whether nothing sounds from a frame on, unless something else
// is played: neither the schedule nor the track begins anything, and every hit
// before has rung. If either can't say, the answer is false.
func (e *Engine) Silent(from int64) bool {
	if s := e.playing.Load(); s != nil && !silent(*s, from-int64(e.rate)*MaxRing) {
		return false
	}
	t := e.beside.Load()
	return t == nil || silent(t.Track, from)
}

func silent(x any, from int64) bool {
	s, ok := x.(interface{ Silent(from int64) bool })
	return ok && s.Silent(from)
}

// SetLevels moves the levels to l over the 10 ms that begin at frame from,
// starting at the levels reached by then. At frame 0, before which nothing is
// heard, l applies at once. It replaces changes that begin at from or later.
// Values are clamped to 0..1, and NaN to 0. The engine remembers the last 64
// changes: a seek to before them finds the levels with which the oldest of them
// began.
func (e *Engine) SetLevels(from int64, l Levels) {
	e.setting.Lock()
	defer e.setting.Unlock()
	e.levels.Store(e.levels.Load().with(from, l))
}

// Levels returns the levels set last, which a fade may not have reached yet.
func (e *Engine) Levels() Levels { return e.levels.Load().last() }

// Stream renders the next len(samples) frames. No sample is beyond ±0.89, 1 dB
// below full scale.
func (e *Engine) Stream(samples [][2]float64) (n int, ok bool) {
	clear(samples)
	n = len(samples)
	playing, levels := e.playing.Load(), e.levels.Load()
	if t := e.beside.Load(); t != nil {
		e.accompany(t, samples, levels)
	}
	at := e.pos
	e.pos += int64(n)
	for rest := samples; len(rest) > 0 && playing != nil; {
		if e.near.of != playing || at < e.near.from || at >= e.near.to {
			e.near.load(playing, at, int64(e.rate)*MaxRing)
		}
		part := rest[:min(int64(len(rest)), e.near.to-at)]
		e.near.render(part, at, levels)
		at += int64(len(part))
		rest = rest[len(part):]
	}
	for i := range samples {
		s := &samples[i]
		s[0], s[1] = saturate(s[0]), saturate(s[1])
	}
	return n, true
}

// accompany adds what t plays to samples, the first of which is at e.pos.
func (e *Engine) accompany(t *track, samples [][2]float64, levels *fades) {
	for at := e.pos; len(samples) > 0; {
		n := min(len(samples), len(e.scratch))
		clear(e.scratch[:n])
		t.Add(e.scratch[:n], at)
		for i := 0; i < n; {
			now := at + int64(i)
			fade, until := levels.during(now, t.layer)
			end := int(min(int64(n), until-at))
			for ; i < end; i++ {
				level := fade.to
				if !fade.steady() {
					level = fade.at(at + int64(i))
				}
				samples[i][0] += e.scratch[i][0] * level
				samples[i][1] += e.scratch[i][1] * level
			}
		}
		samples, at = samples[n:], at+int64(n)
	}
}

// load asks s for the hits heard in the span that begins at from.
func (w *window) load(s *Schedule, from, ring int64) {
	w.of, w.from, w.to = s, from, from+span
	all := (*s).Hits(w.hits[:0], from-ring, w.to)
	w.hits = all[:0]
	for _, h := range all {
		h.Sound = h.Sound[:min(int64(len(h.Sound)), ring)]
		h.Gain = unit(h.Gain)
		if h.Frame+int64(len(h.Sound)) > from && h.Frame < w.to && h.Layer < Layers && h.Gain > 0 {
			w.hits = append(w.hits, h) // in place: never writes ahead of the hit being read
		}
	}
}

// render adds the window's hits to out. Its first frame is at, and it lies
// within the window.
func (w *window) render(out [][2]float64, at int64, levels *fades) {
	end := at + int64(len(out))
	for i := range w.hits {
		h := &w.hits[i]
		begin := max(h.Frame, at)
		stop := min(h.Frame+int64(len(h.Sound)), end)
		if begin >= stop {
			continue
		}
		h.render(out[begin-at:stop-at], begin, levels)
	}
}

// render adds the hit to out. Its first frame is at, and it lies within the
// hit.
func (h *Hit) render(out [][2]float64, at int64, levels *fades) {
	sound := h.Sound[at-h.Frame:]
	left, right := balance(h.Pan)
	left, right = left*float64(h.Gain), right*float64(h.Gain)
	for len(out) > 0 {
		fade, until := levels.during(at, h.Layer)
		n := min(int64(len(out)), until-at)
		if fade.steady() {
			l, r := left*fade.to, right*fade.to
			for i, s := range sound[:n] {
				out[i][0] += float64(s) * l
				out[i][1] += float64(s) * r
			}
		} else {
			for i, s := range sound[:n] {
				level := fade.at(at + int64(i))
				out[i][0] += float64(s) * left * level
				out[i][1] += float64(s) * right * level
			}
		}
		out, sound, at = out[n:], sound[n:], at+n
	}
}

// balance returns the factors of the two channels. It only attenuates the
// farther one.
func balance(pan float32) (left, right float64) {
	p := float64(pan)
	if math.IsNaN(p) {
		p = 0
	}
	p = min(max(p, -1), 1)
	return min(1, 1-p), min(1, 1+p)
}

const (
	knee    = 0.75 // samples up to here are left as they are
	ceiling = 0.89 // just below -1 dB of full scale, so that no converter clips
)

// saturate keeps a sample below the ceiling. It is the identity up to the knee;
// beyond that, a curve that starts with the same slope and approaches the
// ceiling. NaN becomes 0.
func saturate(x float64) float64 {
	switch {
	case x >= -knee && x <= knee:
		return x
	case x > knee:
		return bend(x)
	case x < -knee:
		return -bend(-x)
	}
	return 0
}

func bend(x float64) float64 {
	u := (x - knee) / (ceiling - knee)
	if u > 1e7 { // also +Inf, which the quotient below would make NaN
		return ceiling
	}
	return knee + (ceiling-knee)*u/(1+u)
}

// Err returns nil: an engine cannot fail.
func (e *Engine) Err() error { return nil }

// Len returns the largest int, because an engine never ends.
func (e *Engine) Len() int { return math.MaxInt }

// Position returns the frame that Stream renders next.
func (e *Engine) Position() int { return int(min(e.pos, math.MaxInt)) }

// Seek makes p the frame that Stream renders next.
func (e *Engine) Seek(p int) error {
	if p < 0 {
		return fmt.Errorf("seek to frame %d: before the first", p)
	}
	e.pos = int64(p)
	return nil
}
