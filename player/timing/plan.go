package timing

import (
	"math"
	"sort"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Bars says how many bars are heard, and how many after them are silent, by turns.
type Bars struct{ Heard, Silent int }

// Plan says which steps of a course are tapped, and which bars are silent. It is immutable. As an
// [audio.Schedule] it plays the course, except for what begins in a silent bar.
type Plan struct {
	Steps  []Step  // their times are in seconds from frame 0 of the course
	End    float64 // the frame on which the last of them has ended
	course *player.Course
	rate   int
	events []event
}

// event is a frame on which something is counted or stepped.
type event struct {
	at     float64
	silent bool
}

// NewPlan returns the plan for a course from a frame on. It ends a number of bars after the first
// step, or with the course. The first bars are heard.
func NewPlan(c *player.Course, rate int, from float64, number int, bars Bars) *Plan {
	p := &Plan{course: c, rate: rate, End: from}
	bar, stretch := -1, 0
	var into, last routine.Beats // how far into the bar an event is, and the event before
	// A frame later an event is under way, however its place was rounded.
	for at := from; !math.IsInf(at, 1); at = c.Next(at + 1) {
		m := c.At(at + 1)
		if m.State != player.Dancing || m.Event < 0 {
			if p.End = at; m.State == player.Finished {
				break
			}
			continue
		}
		e := &m.Timeline.Events[m.Event]
		// A loop that begins within a bar also ends within one.
		if into, last = e.At.Into(m.Timeline.Score.Dance.Metre.Bar()), into; bar < 0 || into <= last {
			if bar++; bar == number {
				p.End = at
				break
			}
			if bars.starts(bar) {
				stretch++
			}
		}
		p.events = append(p.events, event{at, bars.silent(bar)})
		if !stepped(e) {
			continue
		}
		s := Step{At: at / float64(rate), Beat: 60 / m.Tempo.Float(), Count: e.Labels.Count}
		if bars.silent(bar) {
			s.Silence = stretch
		}
		p.Steps = append(p.Steps, s)
	}
	return p
}

// silent reports whether a bar, counted from 0, is silent.
func (b Bars) silent(bar int) bool {
	return b.Silent > 0 && bar%(b.Heard+b.Silent) >= b.Heard
}

// starts reports whether a silent stretch begins with a bar.
func (b Bars) starts(bar int) bool {
	return b.silent(bar) && (bar == 0 || bar%(b.Heard+b.Silent) == b.Heard)
}

// stepped reports whether somebody steps on an event.
func stepped(e *player.Event) bool {
	for _, s := range e.Steps {
		if s != nil && !s.Stands() {
			return true
		}
	}
	return false
}

// silent reports whether a sound that begins on a frame is left out.
func (p *Plan) silent(frame float64, voice bool) bool {
	i := sort.Search(len(p.events), func(i int) bool { return p.events[i].at > frame }) - 1
	if voice && i+1 < len(p.events) { // words begin before the event they are for
		i++
	}
	return i >= 0 && p.events[i].silent
}

// Hits makes Plan an [audio.Schedule]. After its end nothing sounds.
func (p *Plan) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	kept := len(dst)
	dst = p.course.Hits(dst, from, to)
	for _, h := range dst[kept:] {
		// An event is heard on the nearest frame.
		at := float64(h.Frame) + 0.5
		if at < p.End && !p.silent(at, h.Layer == player.VoiceLayer) {
			dst[kept] = h
			kept++
		}
	}
	return dst[:kept]
}

// Heard is what is heard of a plan on a frame.
type Heard struct {
	Begun, Silent, Ended bool
	Count                string // the count under way; "" before the first step, or if nothing is counted
}

// At returns what is heard on a frame.
func (p *Plan) At(frame float64) Heard {
	if len(p.events) == 0 || frame >= p.End {
		return Heard{Begun: true, Ended: true}
	}
	if frame < p.events[0].at {
		return Heard{}
	}
	m := p.course.At(frame)
	now := Heard{Begun: true, Silent: p.silent(frame, false)}
	if m.Event >= 0 {
		now.Count = m.Timeline.Said(m.Timeline.Events[m.Event].Labels, m.Event, m.Settings.Count)
	}
	return now
}

// Silent reports whether nothing begins on a frame or later; see [audio.Engine.Silent].
func (p *Plan) Silent(from int64) bool { return float64(from) >= p.End }
