package player

import (
	"math"

	"dance.example/slowquick/routine"
)

// WithCalls returns c with other calls from frame on; nothing before it changes.
func (c *Course) WithCalls(frame int64, calls Calls) *Course {
	known := *c
	known.sounds.Calls = calls
	return known.With(frame, c.At(float64(frame)).Settings)
}

// kept is how long, in seconds, a course remembers the past: longer than any device's
// delay.
const kept = 5

// from returns the course that is c before frame and follows legs from then on.
func (c *Course) from(frame int64, legs ...leg) *Course {
	out := &Course{rate: c.rate, sounds: c.sounds}
	for i, l := range c.legs {
		if l.from >= float64(frame) && i > 0 {
			break
		}
		if i+1 < len(c.legs) && c.legs[i+1].from < float64(frame)-kept*c.rate {
			continue
		}
		l.cut = min(l.cut, float64(frame))
		out.legs = append(out.legs, l)
	}
	out.legs = append(out.legs, legs...)
	return out
}

// place is a position in a course from which a new leg can go on.
type place struct {
	state      State
	timeline   *Timeline
	tempo      tempoMap
	seconds    float64       // in the tempo map
	first      routine.Beats // the first beat not heard yet
	begins     routine.Beats // in a lead-in: the beat of the first step
	breath     bool          // like leg.breath
	since      routine.Beats // like leg.since
	called     heardCall     // like leg.called
	runThrough int
}

// placeAt returns where the couple is on a frame. What begins before the frame counts as
// heard.
func (c *Course) placeAt(frame int64) place {
	l := c.legAt(float64(frame))
	p := place{state: l.state, timeline: l.timeline, tempo: l.tempo, runThrough: l.runThrough, first: l.first, seconds: l.origin, begins: l.last}
	if l.standing() {
		return p
	}
	k := l.runAt(c.rate, float64(frame))
	p.since, p.called = l.unbroken(k), c.calledBy(l, k, frame)
	if l.resting(c.rate, k, float64(frame)) {
		return c.restPlace(l, k, frame)
	}
	p.seconds, p.runThrough = l.seconds(c.rate, k, float64(frame)), l.runThrough+k
	// The first beat not heard before this frame. The search starts one unit earlier, as
	// frames are rounded.
	p.first = max(l.beat(c.rate, k, float64(frame))-1, l.start(k))
	if l.state == LeadIn {
		if p.breath = l.breath && l.heard(c.rate, 0, l.first) >= frame; p.breath {
			p.first = l.first
			return p
		}
		for p.first = p.first.Ceil(routine.Beat); p.first < l.last && l.heard(c.rate, k, p.first) < frame; p.first += routine.Beat {
		}
		return p
	}
	for i := max(0, l.timeline.At(p.first)); i < len(l.timeline.Events); i++ {
		if at := l.timeline.Events[i].At; at >= l.start(k) && (at >= l.end(k) || l.heard(c.rate, k, at) >= frame) {
			p.first = min(at, l.end(k))
			return p
		}
	}
	p.first = l.end(k)
	return p
}

// restPlace returns the place in the rest before run-through k: a lead-in to its first step.
func (c *Course) restPlace(l *leg, k int, frame int64) place {
	p := place{state: LeadIn, timeline: l.timeline, tempo: l.timeline.tempoBefore(l.loop.From), begins: l.loop.From, runThrough: l.runThrough + k}
	p.seconds = p.tempo.seconds(p.begins) + (float64(frame)-l.runStart(c.rate, k))/l.frames(c.rate, k)
	for p.first = l.restFrom().Ceil(routine.Beat); p.first < p.begins && int64(nearest(l.restFrame(c.rate, k, p.first))) < frame; p.first += routine.Beat {
	}
	return p
}

// goOn returns the legs that continue from a place with settings set.
func (c *Course) goOn(frame int64, p place, set Settings) []leg {
	at := float64(frame)
	switch p.state {
	case LeadIn:
		lead := newLeg(at, LeadIn, p.timeline, set, p.runThrough, &c.sounds)
		lead.tempo, lead.origin, lead.first, lead.last = p.tempo, p.seconds, p.first, p.begins
		lead.breath, lead.called = p.breath, p.called
		return append([]leg{lead}, c.dance(lead.ends(c.rate), p.timeline, p.begins, p.timeline.tempo.seconds(p.begins), set, p.runThrough)...)
	case Dancing:
		legs := c.dance(at, p.timeline, p.first, p.seconds, set, p.runThrough)
		legs[0].since, legs[0].called = p.since, p.called
		return legs
	}
	return []leg{still(at, p.timeline, p.first, set, p.state, &c.sounds)}
}

// dance returns the legs that dance from a second of the timeline to its end, or for ever
// if there is a loop.
func (c *Course) dance(at float64, timeline *Timeline, first routine.Beats, seconds float64, set Settings, runThrough int) []leg {
	l := newLeg(at, Dancing, timeline, set, runThrough, &c.sounds)
	l.origin, l.first, l.last, l.since = seconds, first, timeline.End, first
	if !set.Loop.Empty() && first <= set.Loop.To {
		l.loop, l.last = set.Loop, set.Loop.To
		return []leg{l}
	}
	return []leg{l, still(l.ends(c.rate), timeline, timeline.End, set, Finished, &c.sounds)}
}

// Start returns the course that, from frame on, counts the lead-in and then dances from
// beat. If there is a voice, the lead-in (or the first step, if there is none) begins one
// breath later, so that the first word is heard whole. A call of the first figure comes
// before the lead-in. The beats themselves stay as far apart as ever.
func (c *Course) Start(frame int64, timeline *Timeline, beat routine.Beats, set Settings) *Course {
	leadIn := set.LeadInLength(timeline.Score.Dance.Metre)
	p := place{state: LeadIn, timeline: timeline, tempo: timeline.tempoBefore(beat), first: beat, begins: beat}
	if leadIn > 0 {
		p.first = (beat - leadIn).Ceil(routine.Beat)
	}
	p.seconds = p.tempo.seconds(p.first)
	before := 0.0
	if c.sounds.Voice != nil {
		before = breath
	}
	if name := c.sounds.Calls.named(timeline, beat); leadIn > 0 && set.Call && name != nil {
		before = float64(len(name))/c.rate + pause(timeline, p.tempo.at(p.first), &set)
	}
	if leadIn == 0 && before == 0 {
		return c.from(frame, c.dance(float64(frame), timeline, beat, timeline.tempo.seconds(beat), set, 0)...)
	}
	p.breath = before > 0
	p.seconds -= before * set.percent(timeline, 0) / 100
	return c.from(frame, c.goOn(frame, p, set)...)
}

// DropIn returns the course that dances from beat on frame at, and from frame until then
// counts the beats that are left.
func (c *Course) DropIn(frame int64, at float64, timeline *Timeline, beat routine.Beats, set Settings) *Course {
	p := place{state: LeadIn, timeline: timeline, tempo: timeline.tempoBefore(beat), begins: beat}
	left := (at - float64(frame)) / c.rate * set.percent(timeline, 0) / 100 // seconds of tempo
	p.seconds = p.tempo.seconds(beat) - left
	p.first = routine.Beats(math.Ceil(p.tempo.beat(p.seconds) * float64(routine.Beat))).Ceil(routine.Beat)
	return c.from(frame, c.goOn(frame, p, set)...)
}

// Hold returns the course that stands still from frame on, at the event it has reached.
func (c *Course) Hold(frame int64) *Course {
	m := c.At(float64(frame))
	beat := m.Beat
	switch {
	case m.State == LeadIn:
		beat = c.placeAt(frame).begins
	case m.Event >= 0:
		beat = m.Timeline.Events[m.Event].At
	}
	return c.from(frame, still(float64(frame), m.Timeline, beat, m.Onward(), Holding, &c.sounds))
}

// Stand returns the course that stands at beat from frame on, and sounds the event there
// once. It is for walking through a routine without a tempo.
func (c *Course) Stand(frame int64, beat routine.Beats) *Course {
	m := c.At(float64(frame))
	l := still(float64(frame), m.Timeline, beat, m.Onward(), Holding, &c.sounds)
	l.strike = true
	return c.from(frame, l)
}

// Go returns the course that jumps to beat on frame. It dances on from there at once; in a
// lead-in, a new lead-in starts.
func (c *Course) Go(frame int64, beat routine.Beats) *Course {
	m := c.At(float64(frame))
	if m.State == LeadIn {
		return c.Start(frame, m.Timeline, beat, m.Onward())
	}
	return c.from(frame, c.dance(float64(frame), m.Timeline, beat, m.Timeline.tempo.seconds(beat), m.Settings, m.RunThrough)...)
}

// With returns the course that continues from the same place with settings set from frame
// on.
func (c *Course) With(frame int64, set Settings) *Course {
	p := c.placeAt(frame)
	if l := c.legAt(float64(frame)); l.set.Ladder != set.Ladder || l.set.Loop != set.Loop {
		p.runThrough = 0
	}
	return c.from(frame, c.goOn(frame, p, set)...)
}

// Replace returns the course that switches to another timeline at the next bar, or at once
// if it is not dancing. The loop moves with its figures; a lead-in that was the old sheet's
// own becomes the new one's.
func (c *Course) Replace(frame int64, timeline *Timeline) *Course {
	m, p := c.At(float64(frame)), c.placeAt(frame)
	set := m.Settings
	set.Loop = timeline.followInterval(m.Timeline, set.Loop)
	if set.LeadIn == m.Timeline.Score.LeadIn() {
		set.LeadIn = timeline.Score.LeadIn()
	}
	switch {
	case m.State == LeadIn:
		set.Ladder = m.Onward().Ladder
		return c.Start(frame, timeline, timeline.Follow(m.Timeline, p.begins), set)
	case m.State != Dancing:
		return c.from(frame, still(float64(frame), timeline, timeline.Follow(m.Timeline, m.Beat), set, m.State, &c.sounds))
	}
	l := c.legAt(float64(frame))
	k := m.RunThrough - l.runThrough
	at, beat, runThrough := float64(frame), p.first, m.RunThrough
	switch bar := m.Timeline.Bar(m.Beat).To; {
	case bar < l.end(k):
		at, beat = l.frame(c.rate, k, bar), bar
	case !l.loop.Empty():
		at, beat, runThrough = l.runBegin(c.rate, k+1), l.loop.From, m.RunThrough+1
	default: // the last bar: nothing is left to wait for
		seconds := timeline.tempo.seconds(timeline.Follow(m.Timeline, m.Beat))
		return c.from(frame, c.dance(at, timeline, timeline.Follow(m.Timeline, beat), seconds, set, runThrough)...)
	}
	beat = timeline.Follow(m.Timeline, beat)
	return c.from(int64(math.Round(at)), c.dance(at, timeline, beat, timeline.tempo.seconds(beat), set, runThrough)...)
}

// last returns the timeline of the last leg.
func (c *Course) last() *Timeline { return c.legs[len(c.legs)-1].timeline }
