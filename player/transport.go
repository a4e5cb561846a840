package player

import (
	"math"
	"sync/atomic"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/routine"
)

// Device is what the transport needs of a sound device.
type Device interface {
	// Heard returns the frame heard at a time.
	Heard(time.Time) float64
	// Change calls f with the first frame whose sound can still be altered.
	Change(f func(frame int64))
}

// Engine is what the transport needs of the audio engine.
type Engine interface {
	Play(audio.Schedule)
	Accompany(audio.Track, audio.Layer)
	SetLevels(from int64, l audio.Levels)
	Levels() audio.Levels
}

// Transport starts, holds and moves a couple along a routine. Methods that change
// something return at once; a goroutine carries them out in order, as a sound server may
// take its time. Now never waits.
type Transport struct {
	device Device
	engine Engine
	course atomic.Pointer[Course]
	music  *Accompaniment
	queue  chan func()
	done   chan struct{}
}

// queued is how many changes may wait: more than anybody asks for meanwhile.
const queued = 256

// NewTransport returns a transport that plays a course, and has guard run its goroutines; nil runs them
// unguarded. The caller must close it.
func NewTransport(line Device, engine Engine, c *Course, guard func(func())) *Transport {
	if guard == nil {
		guard = func(f func()) { f() }
	}
	t := &Transport{device: line, engine: engine, music: NewAccompaniment(c), queue: make(chan func(), queued), done: make(chan struct{})}
	t.course.Store(c)
	engine.Play(c)
	engine.Accompany(t.music, MusicLayer)
	go guard(t.run)
	go guard(func() { t.music.Work(t.done) })
	return t
}

func (t *Transport) run() {
	defer close(t.done)
	for f := range t.queue {
		f()
	}
}

// Close waits until all queued changes are carried out and ends the transport, which must
// not be used afterwards.
func (t *Transport) Close() {
	close(t.queue)
	<-t.done
}

// Sync waits until all changes asked for so far are carried out.
func (t *Transport) Sync() {
	done := make(chan struct{})
	t.queue <- func() { close(done) }
	<-done
}

// Now returns where the couple is at a time, by what is heard then.
func (t *Transport) Now(at time.Time) Moment {
	return t.course.Load().At(t.device.Heard(at))
}

// Next returns how long after a time the next event is heard; ok is false if nothing is
// moving.
func (t *Transport) Next(at time.Time) (wait time.Duration, ok bool) {
	c := t.course.Load()
	heard := t.device.Heard(at)
	frames := c.Next(heard) - heard
	if frames > c.rate*maxWait.Seconds() {
		return 0, false
	}
	return time.Duration(frames / c.rate * float64(time.Second)), true
}

// maxWait is longer than any event lasts at the slowest tempo.
const maxWait = time.Minute

// change queues a change. F is called with the present course and the first frame that can
// still be altered, and returns the new course, or nil to change nothing.
func (t *Transport) change(f func(c *Course, frame int64, m Moment) *Course) {
	t.queue <- func() {
		t.device.Change(func(frame int64) {
			old := t.course.Load()
			c := f(old, frame, old.At(float64(frame)))
			if c == nil {
				return
			}
			// A timeline that was to replace this one at the next bar still does.
			if wanted := old.last(); c.last() == old.At(float64(frame)).Timeline && c.last() != wanted {
				c = c.Replace(frame, wanted)
			}
			t.course.Store(c)
			t.engine.Play(c)
			t.music.Follow(c, frame)
		})
	}
}

// Start counts the lead-in and dances on from where the couple stands, or else from the
// start of the loop or of the routine.
func (t *Transport) Start() {
	t.change(func(c *Course, frame int64, m Moment) *Course {
		if m.State == LeadIn || m.State == Dancing {
			return nil
		}
		return c.Start(frame, m.Timeline, m.Begins, m.Settings)
	})
}

// DropIn begins to dance to music in the room, at the tempo of its pulse, with the first
// step on its count of the bar. One is when a first beat of a bar is heard, or was.
func (t *Transport) DropIn(one time.Time, pulse Pulse) {
	t.change(func(c *Course, frame int64, m Moment) *Course {
		set, timeline, bar := m.Settings, m.Timeline, m.Timeline.Score.Dance.Metre.Bar()
		set = set.At(pulse.Percent(timeline, m.Begins), 0)
		now := time.Now()
		perBeat := pulse.Beat.Seconds() * c.rate
		at := t.device.Heard(now) + one.Sub(now).Seconds()*c.rate + m.Begins.Into(bar).Float()*perBeat
		if late := float64(frame) - at; late > 0 {
			at += math.Ceil(late/(bar.Float()*perBeat)) * bar.Float() * perBeat
		}
		return c.DropIn(frame, at, timeline, m.Begins, set)
	})
}

// Hold stops at the event being heard.
func (t *Transport) Hold() {
	t.change(func(c *Course, frame int64, m Moment) *Course {
		if m.State == Holding {
			return nil
		}
		return c.Hold(frame)
	})
}

// Toggle holds a couple that dances, or is being counted in, and starts one that stands.
func (t *Transport) Toggle() {
	if s := t.Now(time.Now()).State; s == Dancing || s == LeadIn {
		t.Hold()
	} else {
		t.Start()
	}
}

// Go moves to the beat that f returns. A couple that dances dances on from there at once;
// one that stands stands there, and hears the event if strike is set.
func (t *Transport) Go(strike bool, f func(Moment) routine.Beats) {
	t.change(func(c *Course, frame int64, m Moment) *Course {
		beat := max(m.Timeline.Start, min(f(m), m.Timeline.End-1))
		switch {
		case m.State == Dancing || m.State == LeadIn:
			return c.Go(frame, beat)
		case strike:
			return c.Stand(frame, beat)
		}
		return c.from(frame, still(float64(frame), m.Timeline, beat, m.Settings, Holding, &c.sounds))
	})
}

// Set changes how the routine is danced. The place does not jump.
func (t *Transport) Set(f func(Moment) Settings) {
	t.change(func(c *Course, frame int64, m Moment) *Course {
		set := f(m)
		set.Percent = max(m.Timeline.slowest(), min(set.Percent, m.Timeline.fastest()))
		set.LeadIn = max(0, min(set.LeadIn, MostLeadIn))
		return c.With(frame, set)
	})
}

// Name changes the calls from now on. The place does not jump.
func (t *Transport) Name(calls Calls) {
	t.change(func(c *Course, frame int64, _ Moment) *Course { return c.WithCalls(frame, calls) })
}

// Replace switches to another timeline at the next bar; see [Course.Replace].
func (t *Transport) Replace(timeline *Timeline) {
	t.change(func(c *Course, frame int64, m Moment) *Course { return c.Replace(frame, timeline) })
}

// Level changes the levels of the layers.
func (t *Transport) Level(f func(audio.Levels) audio.Levels) {
	t.queue <- func() {
		t.device.Change(func(frame int64) { t.engine.SetLevels(frame, f(t.engine.Levels())) })
	}
}
