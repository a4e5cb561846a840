package handout

import (
	"errors"
	"math"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Timing is a routine laid out in time as the options say, from the start of the track to the end of
// the last step. It asks the player's own course, so it agrees with what is heard and shown.
type Timing struct {
	Timeline    *player.Timeline
	Part        player.Interval // that is danced
	Counts      []Count
	RunThroughs []RunThrough
	End         float64       // seconds
	Last        routine.Beats // of all that is danced
}

// Count is a moment at which something is counted or stepped.
type Count struct {
	Seconds float64       // from the start of the track
	At      routine.Beats // from the first beat of all that is danced, without gaps
	Beat    routine.Beats // of the routine
	Event   int           // of the timeline; -1 in a lead-in
	Begins  bool          // a figure begins with it
	Said    string        // "" if nothing is counted
}

// RunThrough is one time through the part that is danced, with the lead-in or rest before it.
type RunThrough struct {
	Seconds float64 // of its first step
	Shift   routine.Beats
	Percent float64
	Counted routine.Beats // the beat of the routine with which the lead-in or rest begins
}

// timingRate is the rate, in frames a second, at which a routine is laid out; places between two frames
// are exact.
const timingRate = 48000

// mostCounts bounds a timing: a day's dancing.
const mostCounts = 1 << 20

// errTooLong is returned for more than anybody dances.
var errTooLong = errors.New("more than a million counts would be danced: dance a part, or fewer times")

// NewTiming lays out a routine.
func NewTiming(timeline *player.Timeline, o *Options) (*Timing, error) {
	if len(timeline.Events)*o.times() > mostCounts {
		return nil, errTooLong
	}
	course := o.course(timingRate, player.Sounds{}, timeline)
	r := &Timing{Timeline: timeline, Part: o.part(timeline), End: course.End()/timingRate + o.Before}
	part := r.Part
	passage := -1 // of the last event; -1 if a run-through has begun since
	for frame := 0.0; ; {
		// An event is heard on the nearest frame; slightly later it has certainly begun.
		at := max(frame, math.Floor(frame+0.5+1e-6)) + 0.01
		m := course.At(at)
		if m.State == player.Finished {
			break
		}
		if len(r.RunThroughs) == m.RunThrough {
			r.begin(m, o)
			passage = -1
		}
		c := Count{Seconds: frame/timingRate + o.Before, Event: m.Event, Beat: m.Beat}
		p := &r.RunThroughs[m.RunThrough]
		if m.State == player.LeadIn {
			c.Beat = m.Beat.Ceil(routine.Beat)
			c.Said = timeline.Said(timeline.CountIn(c.Beat, m.Begins), timeline.At(m.Begins), o.Settings.Count)
		} else {
			e := &timeline.Events[m.Event]
			c.Beat, c.Said = e.At, timeline.Said(e.Labels, m.Event, o.Settings.Count)
			c.Begins, passage = e.Passage != passage, e.Passage
			if c.Beat == part.From {
				p.Seconds = c.Seconds
			}
		}
		c.At = c.Beat + p.Shift
		if m.State == player.Dancing || c.Beat == m.Beat { // else a rest begins between two beats
			r.Counts = append(r.Counts, c)
		}
		frame = course.Next(at)
	}
	r.Last = part.To + r.RunThroughs[len(r.RunThroughs)-1].Shift
	return r, nil
}

// begin adds the run-through that a moment begins.
func (r *Timing) begin(m player.Moment, o *Options) {
	part, metre := r.Part, r.Timeline.Score.Dance.Metre
	p := RunThrough{Percent: m.Percent, Counted: part.From - o.Settings.RestLength(metre)}
	if len(r.RunThroughs) == 0 {
		p.Counted = part.From
		if leadIn := o.Settings.LeadInLength(metre); leadIn > 0 {
			p.Counted = (part.From - leadIn).Ceil(routine.Beat)
		}
		p.Shift = -p.Counted
	} else {
		p.Shift = r.RunThroughs[len(r.RunThroughs)-1].Shift + part.To - p.Counted
	}
	r.RunThroughs = append(r.RunThroughs, p)
}

// Chapter is a stretch of the track: a figure, or a lead-in or rest.
type Chapter struct {
	From float64 // seconds
	Name string
}

// Chapters returns the figures in the order in which they are danced.
func (r *Timing) Chapters() (list []Chapter) {
	for i := range r.Counts {
		c := &r.Counts[i]
		switch {
		case c.Begins:
			list = append(list, Chapter{c.Seconds, r.Timeline.Score.Passages[r.Timeline.Events[c.Event].Passage].Name()})
		case c.Event < 0 && (i == 0 || r.Counts[i-1].Event >= 0):
			list = append(list, Chapter{c.Seconds, "Lead-in"})
		}
	}
	return list
}
