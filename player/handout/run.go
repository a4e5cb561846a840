package handout

import (
	"errors"
	"math"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// run is a routine laid out in time as the options say, from the start of the track
// to the end of the last step. It asks the player's own course, so what
// it tells is what is heard and shown.
type timing struct {
	line   *player.Timeline
	counts []count
	passes []pass
	end    float64       // seconds
	last   routine.Beats // of the run
}

// count is a moment at which something is counted or stepped.
type count struct {
	Seconds float64       // from the start of the track
	At      routine.Beats // from the first beat of the run, without a gap
	Beat    routine.Beats // of the routine
	Event   int           // of the timeline; -1 in a lead-in
	Pass    int           // from 0
	Said    string        // what is counted; empty if nothing is
}

// pass is one time through the part that is danced, with the lead-in or rest before.
type pass struct {
	Seconds float64 // of its first step
	Shift   routine.Beats
	Percent float64
	Counted routine.Beats // the beat of the routine with which the lead-in or rest begins
}

// runRate is the frames a second on which a run is laid out; places between two
// frames are exact.
const runRate = 48000

// mostCounts bounds a run: a day's dancing.
const mostCounts = 1 << 20

// errTooLong is a run that nobody dances.
var errTooLong = errors.New("more than a million counts would be danced: dance a part, or fewer times")

// newRun lays a routine out.
func newTiming(timeline *player.Timeline, o *Options) (*timing, error) {
	if len(timeline.Events)*o.times() > mostCounts {
		return nil, errTooLong
	}
	course := o.course(runRate, player.Sounds{}, timeline)
	r := &timing{line: timeline, end: course.End()/runRate + o.Before}
	part := o.part(timeline)
	for frame := 0.0; ; {
		// An event is heard on the nearest frame; a hair later it has surely begun.
		at := max(frame, math.Floor(frame+0.5+1e-6)) + 0.01
		m := course.At(at)
		if m.State == player.Finished {
			break
		}
		if len(r.passes) == m.RunThrough {
			r.begin(m, part, o)
		}
		c := count{Seconds: frame/runRate + o.Before, Event: m.Event, Pass: m.RunThrough, Beat: m.Beat}
		p := &r.passes[m.RunThrough]
		if m.State == player.LeadIn {
			c.Beat = m.Beat.Ceil(routine.Beat)
			c.Said = timeline.CountIn(c.Beat, m.Begins).In(timeline.Style(timeline.At(m.Begins), o.Settings.Count))
		} else {
			e := &timeline.Events[m.Event]
			c.Beat, c.Said = e.At, e.Labels.In(timeline.Style(m.Event, o.Settings.Count))
			if c.Beat == part.From {
				p.Seconds = c.Seconds
			}
		}
		c.At = c.Beat + p.Shift
		if m.State == player.Dancing || c.Beat == m.Beat { // else a rest begins between two beats
			r.counts = append(r.counts, c)
		}
		frame = course.Next(at)
	}
	r.last = part.To + r.passes[len(r.passes)-1].Shift
	return r, nil
}

// begin adds the pass that a moment begins.
func (r *timing) begin(m player.Moment, part player.Interval, o *Options) {
	metre := r.line.Score.Dance.Metre
	p := pass{Percent: m.Percent, Counted: part.From - o.Settings.RestLength(metre)}
	if len(r.passes) == 0 {
		p.Counted = part.From
		if leadIn := o.Settings.LeadInLength(metre); leadIn > 0 {
			p.Counted = (part.From - leadIn).Ceil(routine.Beat)
		}
		p.Shift = -p.Counted
	} else {
		p.Shift = r.passes[len(r.passes)-1].Shift + part.To - p.Counted
	}
	r.passes = append(r.passes, p)
}
