package player

import (
	"dance.example/slowquick/audio"
	"dance.example/slowquick/routine"
)

// named returns the spoken name of the figure at a beat; nil if there is none.
func (calls Calls) named(timeline *Timeline, beat routine.Beats) audio.Sound {
	if len(timeline.Events) == 0 {
		return nil
	}
	return calls[timeline.Score.Passages[timeline.PassageAt(beat)].Figure.Name]
}

// call is the name of a figure, said before the figure begins.
//
// A teacher names the next figure over the last beats of this one, in place of the
// count, and then counts it in: nobody says two things at once. So a call ends before
// the last beat of the current figure is counted. While it lasts the count is silent and
// the clicks go on; that last beat, and the new figure's first, are counted. If the
// current figure is too short for that, the call comes later, but still ends before the
// new figure's first count. It never covers the current figure's first count; if there
// is no room in between, it is left out. That teachers call like this is common
// practice; how many beats ahead, they do not agree on.
//
// Only a change is named: not a figure that follows itself, whether it is danced twice,
// continued, or looped alone without a rest. When a routine begins anew, its first figure is
// named even if it was also the last; and the figure after counted bars, in a lead-in or a
// rest, is always named before the count begins.
type call struct {
	sound    audio.Sound // nil if nothing is said
	from, to int64       // frames
	before   routine.Beats
}

// overlaps reports whether the call overlaps a sound in [from, to).
func (n call) overlaps(from, to int64) bool { return n.sound != nil && from < n.to && to > n.from }

func callHit(dst []audio.Hit, n call) []audio.Hit {
	if n.sound == nil {
		return dst
	}
	return append(dst, audio.Hit{Frame: n.from, Sound: n.sound, Layer: VoiceLayer, Gain: 1})
}

// breath is the time, in seconds, left for a voice before its first beat, as a word begins
// before its beat.
const breath = 0.16

const (
	firstWord    = 0.3 // how long a figure's first count lasts, in seconds
	longestPause = 1.0 // seconds between a name and the count that follows it
)

// pause returns the silence between a name and the lead-in, in seconds: a beat at the lead-in's
// tempo, within limits.
func pause(timeline *Timeline, tempo routine.Tempo, set *Settings) float64 {
	beat := 60 / tempo.Scaled(set.percent(timeline, 0)).Float()
	return max(breath, min(beat, longestPause))
}

// firstCall returns the call before a lead-in, if room was left for it.
func (c *Course) firstCall(l *leg) call {
	if l.state != LeadIn || !l.set.Call || !l.breath || l.called.until > 0 {
		return call{}
	}
	n := call{sound: l.calls.named(l.timeline, l.last), before: l.last}
	n = n.until(l.heard(c.rate, 0, l.first) - int64(pause(l.timeline, l.tempo.at(l.first), &l.set)*c.rate))
	if n.sound == nil || n.from < int64(nearest(l.from)) {
		return call{}
	}
	return n
}

// until returns the call moved so that it ends on a frame.
func (n call) until(frame int64) call {
	n.from, n.to = frame-int64(len(n.sound)), frame
	return n
}

// callHits appends the calls that begin in [from, to), in run-through k of a leg.
func (c *Course) callHits(dst []audio.Hit, l *leg, k int, from, to int64) []audio.Hit {
	if !l.set.Call || len(l.calls) == 0 {
		return dst
	}
	beat := min(max(l.beat(c.rate, k, float64(from)), l.start(k)), l.end(k)-1)
	for beat < l.end(k) && l.heard(c.rate, k, beat) < to {
		n := c.callFrom(l, k, l.timeline.PassageAt(beat))
		if n.from >= from && n.from < to {
			dst = callHit(dst, n)
		}
		beat = n.before
	}
	return dst
}

// callFrom returns the call for the next figure whose name differs from a passage's, in
// run-through k of a leg. Its field before is set even if nothing is said.
func (c *Course) callFrom(l *leg, k, passage int) call {
	passages := l.timeline.Score.Passages
	name := passages[passage].Figure.Name
	first, next := passage, passage+1
	for first > 0 && passages[first].Start > l.unbroken(k) && passages[first-1].Figure.Name == name {
		first--
	}
	for next < len(passages) && passages[next].Start < l.end(k) && passages[next].Figure.Name == name {
		next++
	}
	n := call{before: l.end(k)}
	again := l.loop
	if again.Empty() {
		again = l.again
	}
	switch {
	case next < len(passages) && passages[next].Start < l.end(k):
		n.before, n.sound = passages[next].Start, l.calls[passages[next].Figure.Name]
	case !again.Empty():
		first := passages[l.timeline.PassageAt(again.From)].Figure.Name
		if l.loop.Empty() || l.set.Rest > 0 || !l.timeline.alone(again) {
			n.sound = l.calls[first]
		}
	}
	if !l.set.Call || n.sound == nil || k == 0 && l.called.until > 0 && l.called.before == n.before {
		return call{before: n.before}
	}
	return c.placed(l, k, max(passages[first].Start, l.unbroken(k)), n)
}

// alone reports whether an interval dances one figure, once or several times.
func (t *Timeline) alone(s Interval) bool {
	passages := t.Score.Passages
	first := t.PassageAt(s.From)
	for i := first + 1; i < len(passages) && passages[i].Start < s.To; i++ {
		if passages[i].Figure.Name != passages[first].Figure.Name {
			return false
		}
	}
	return true
}

// placed puts a call between the first beat of the figures before it and its own.
func (c *Course) placed(l *leg, k int, begins routine.Beats, n call) call {
	ear := int64(breath * c.rate)
	earliest := int64(nearest(l.frame(c.rate, k, begins))) + int64(firstWord*c.rate)
	latest := int64(nearest(l.frame(c.rate, k, n.before))) - ear
	n = n.until(min(int64(nearest(l.frame(c.rate, k, n.before-routine.Beat)))-ear, latest))
	if n.from < earliest {
		n = n.until(earliest + int64(len(n.sound)))
	}
	if n.to > latest || n.from < int64(nearest(l.from)) {
		return call{before: n.before}
	}
	return n
}

// calledBy returns the last call that began before a frame, in run-through k of a leg.
func (c *Course) calledBy(l *leg, k int, frame int64) heardCall {
	n := c.firstCall(l)
	if l.state == Dancing {
		beat := min(max(l.beat(c.rate, k, float64(frame)), l.start(k)), l.end(k)-1)
		n = c.callFrom(l, k, l.timeline.PassageAt(beat))
	}
	switch {
	case n.sound != nil && n.from < frame:
		return heardCall{n.before, n.to}
	case k == 0:
		return l.called
	}
	return heardCall{}
}
