package player

import (
	"math"
	"sync/atomic"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/routine"
)

// Line is what the transport needs of a sound device.
type Line interface {
	// Heard is the frame that is heard at a time.
	Heard(time.Time) float64
	// Change calls f with the first frame whose sound can still be altered.
	Change(f func(frame int64))
}

// Engine is what the transport needs of the sound.
type Engine interface {
	Play(audio.Schedule)
	Accompany(audio.Track, audio.Layer)
	SetLevels(from int64, l audio.Levels)
	Levels() audio.Levels
}

// Transport starts, holds and moves a couple along a routine. Its methods
// return at once and are carried out in order by a goroutine of its own, as a
// sound server may take its time; Now never waits.
type Transport struct {
	line   Line
	engine Engine
	course atomic.Pointer[Course]
	music  *Accompaniment
	queue  chan func()
	done   chan struct{}
}

// queued is how many changes may wait: more than anyone presses keys.
const queued = 256

// NewTransport stands at the start of a timeline.
func NewTransport(line Line, engine Engine, c *Course) *Transport {
	return NewGuardedTransport(line, engine, c, func(f func()) { f() })
}

// NewGuardedTransport does so, and has guard carry out what its goroutines do.
func NewGuardedTransport(line Line, engine Engine, c *Course, guard func(func())) *Transport {
	t := &Transport{line: line, engine: engine, music: NewAccompaniment(c), queue: make(chan func(), queued), done: make(chan struct{})}
	t.course.Store(c)
	engine.Play(c)
	engine.Accompany(t.music, MusicLayer)
	go guard(t.run)
	go guard(func() { t.music.work(t.done) })
	return t
}

func (t *Transport) run() {
	defer close(t.done)
	for f := range t.queue {
		f()
	}
}

// Close ends the transport after what is queued; nothing may be called then.
func (t *Transport) Close() {
	close(t.queue)
	<-t.done
}

// Sync waits until all changes so far are carried out.
func (t *Transport) Sync() {
	done := make(chan struct{})
	t.queue <- func() { close(done) }
	<-done
}

// Now is where the couple is at a time, as it is heard.
func (t *Transport) Now(at time.Time) Moment {
	return t.course.Load().At(t.line.Heard(at))
}

// Next is how long after a time the next event is heard; ok is false if
// nothing moves by itself.
func (t *Transport) Next(at time.Time) (wait time.Duration, ok bool) {
	c := t.course.Load()
	heard := t.line.Heard(at)
	frames := c.Next(heard) - heard
	if frames > c.rate*maxWait.Seconds() {
		return 0, false
	}
	return time.Duration(frames / c.rate * float64(time.Second)), true
}

// maxWait is longer than any event lasts at the slowest tempo.
const maxWait = time.Minute

// change publishes the course that f makes of the one now, from the first frame
// that can still be altered.
func (t *Transport) change(f func(c *Course, frame int64, m Moment) *Course) {
	t.queue <- func() {
		t.line.Change(func(frame int64) {
			old := t.course.Load()
			c := f(old, frame, old.At(float64(frame)))
			if c == nil {
				return
			}
			// A timeline that was to begin with the next bar still does.
			if wanted := old.last(); c.last() == old.At(float64(frame)).Timeline && c.last() != wanted {
				c = c.Replace(frame, wanted)
			}
			t.course.Store(c)
			t.engine.Play(c)
			t.music.Follow(c, frame)
		})
	}
}

// Start begins to dance after the lead-in: from where the couple stands, or from
// the start of what is repeated, or of the routine.
func (t *Transport) Start() {
	t.change(func(c *Course, frame int64, m Moment) *Course {
		if m.State == LeadIn || m.State == Dancing {
			return nil
		}
		return c.Start(frame, m.Timeline, m.Begins, m.Settings)
	})
}

// DropIn begins to dance with music of a pulse: at its tempo, so that the first
// step falls on its count. At one the first beat of a bar is heard, or was.
func (t *Transport) DropIn(one time.Time, pulse Pulse) {
	t.change(func(c *Course, frame int64, m Moment) *Course {
		set, line, bar := m.Settings, m.Timeline, m.Timeline.Score.Dance.Metre.Bar()
		set = set.At(pulse.Percent(line, m.Begins), 0)
		now := time.Now()
		perBeat := pulse.Beat.Seconds() * c.rate
		at := t.line.Heard(now) + one.Sub(now).Seconds()*c.rate + m.Begins.Into(bar).Float()*perBeat
		if late := float64(frame) - at; late > 0 {
			at += math.Ceil(late/(bar.Float()*perBeat)) * bar.Float() * perBeat
		}
		return c.DropIn(frame, at, line, m.Begins, set)
	})
}

// Hold stands still at the event that is heard.
func (t *Transport) Hold() {
	t.change(func(c *Course, frame int64, m Moment) *Course {
		if m.State == Holding {
			return nil
		}
		return c.Hold(frame)
	})
}

// Toggle starts a couple that stands and holds one that dances.
func (t *Transport) Toggle() {
	if s := t.Now(time.Now()).State; s == Dancing || s == LeadIn {
		t.Hold()
	} else {
		t.Start()
	}
}

// Go moves to the beat that f finds from the moment: on the spot while dancing;
// else the couple stands there, and hears it if strike is set.
func (t *Transport) Go(strike bool, f func(Moment) routine.Beats) {
	t.change(func(c *Course, frame int64, m Moment) *Course {
		beat := max(m.Timeline.Start, min(f(m), m.Timeline.End-1))
		switch {
		case m.State == Dancing || m.State == LeadIn:
			return c.Go(frame, beat)
		case strike:
			return c.Stand(frame, beat)
		}
		return c.from(frame, still(float64(frame), m.Timeline, beat, m.Settings, Holding))
	})
}

// Set changes how the routine is danced, without a jump in the place.
func (t *Transport) Set(f func(Moment) Settings) {
	t.change(func(c *Course, frame int64, m Moment) *Course {
		set := f(m)
		set.Percent = max(m.Timeline.slowest(), min(set.Percent, m.Timeline.fastest()))
		set.LeadIn = max(0, min(set.LeadIn, MostLeadIn))
		return c.With(frame, set)
	})
}

// Name lets figures be named so from now on, without a jump in the place.
func (t *Transport) Name(calls Calls) {
	t.change(func(c *Course, frame int64, _ Moment) *Course { return c.WithCalls(frame, calls) })
}

// Replace dances another timeline from the next bar on.
func (t *Transport) Replace(line *Timeline) {
	t.change(func(c *Course, frame int64, m Moment) *Course { return c.Replace(frame, line) })
}

// Level changes how loud the layers are.
func (t *Transport) Level(f func(audio.Levels) audio.Levels) {
	t.queue <- func() {
		t.line.Change(func(frame int64) { t.engine.SetLevels(frame, f(t.engine.Levels())) })
	}
}
