package player

import (
	"math"
	"sort"

	"dance.example/slowquick/routine"
)

// Moment is where the couple is on one frame.
type Moment struct {
	State      State
	Timeline   *Timeline
	Beat       routine.Beats // the place in the timeline
	Begins     routine.Beats // the beat of the first step: after this lead-in, or if the couple stands, after the next
	Event      int           // index of the event under way; -1 before the first
	RunThrough int           // the run-through of the loop, counted from 0
	Percent    float64
	Tempo      routine.Tempo
	Settings   Settings
}

// Onward returns the settings with which to begin anew from m: a ladder stays on its rung.
func (m Moment) Onward() Settings {
	set := m.Settings
	set.Ladder = set.Ladder.From(m.RunThrough, 0)
	return set
}

// Course says, for every frame, where in a routine the couple is and what
// sounds. It is immutable: a change returns a new course, the same up to the
// frame of the change.
type Course struct {
	rate   float64
	sounds Sounds
	legs   []leg // in order of from
}

// NewCourse returns a course that stands at the start of a timeline.
func NewCourse(rate int, sounds Sounds, timeline *Timeline, set Settings) *Course {
	c := &Course{rate: float64(rate), sounds: sounds}
	c.legs = []leg{still(0, timeline, timeline.Start, set, Holding, &c.sounds)}
	return c
}

// legAt returns the leg heard on a frame.
func (c *Course) legAt(frame float64) *leg {
	i := sort.Search(len(c.legs), func(i int) bool { return nearest(c.legs[i].from) > frame })
	return &c.legs[max(i-1, 0)]
}

// At returns where the couple is on a frame. An event begins on the frame on which it is
// heard.
func (c *Course) At(frame float64) Moment {
	l := c.legAt(frame)
	m := Moment{State: l.state, Timeline: l.timeline, RunThrough: l.runThrough, Settings: l.set, Beat: l.first}
	if !l.standing() {
		k := l.runAt(c.rate, frame)
		m.RunThrough += k
		switch m.Beat = min(l.beat(c.rate, k, frame), l.end(k)-1); {
		case l.breath:
			m.Beat = max(m.Beat, l.first)
		case l.resting(c.rate, k, frame):
			m.State = LeadIn
			m.Beat = min(m.Beat, l.loop.From-1)
		case l.state == Dancing:
			if k > 0 {
				m.Beat = max(m.Beat, l.loop.From)
			}
			m.Beat = l.within(c.rate, k, frame, m.Beat)
		}
	}
	switch {
	case l.state == LeadIn:
		m.Event, m.Begins = -1, l.last
	case m.State == LeadIn:
		m.Event, m.Begins = -1, l.loop.From
	default:
		m.Event, m.Begins = l.timeline.At(m.Beat), l.timeline.startFrom(m.Beat, l.set.Loop)
	}
	m.Percent = l.set.percent(l.timeline, m.RunThrough)
	m.Tempo = l.timeline.tempo.at(m.Beat).Scaled(m.Percent)
	return m
}

// Next returns the frame of the first event or other change after a frame; infinity if
// there is none.
func (c *Course) Next(frame float64) float64 {
	i := sort.Search(len(c.legs), func(i int) bool { return c.legs[i].from > frame })
	next := math.Inf(1)
	if i < len(c.legs) {
		next = c.legs[i].from
	}
	l := &c.legs[max(i-1, 0)]
	if l.standing() {
		return next
	}
	m := c.At(frame)
	k := m.RunThrough - l.runThrough
	var beat routine.Beats
	switch {
	case l.resting(c.rate, k, frame):
		if beat = (m.Beat + 1).Ceil(routine.Beat); beat < l.loop.From {
			return min(next, l.restFrame(c.rate, k, beat))
		}
		return min(next, l.runStart(c.rate, k))
	case l.state == LeadIn:
		beat = (m.Beat + 1).Ceil(routine.Beat)
	case m.Event+1 < len(l.timeline.Events):
		beat = l.timeline.Events[m.Event+1].At
	default:
		beat = l.timeline.End
	}
	if beat < l.end(k) {
		return min(next, l.frame(c.rate, k, beat))
	}
	if !l.loop.Empty() {
		return min(next, l.runBegin(c.rate, k+1))
	}
	return min(next, l.ends(c.rate))
}

// Silent reports whether no sound begins on a frame or later, because the couple stands.
func (c *Course) Silent(from int64) bool {
	l := &c.legs[len(c.legs)-1]
	return l.standing() && nearest(l.from) < float64(from)
}

// End returns the frame on which the last step has ended; infinity if the course never
// finishes.
func (c *Course) End() float64 {
	if l := &c.legs[len(c.legs)-1]; l.state == Finished {
		return l.from
	}
	return math.Inf(1)
}
