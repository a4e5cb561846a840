package player

import (
	"strconv"

	"dance.example/slowquick/routine"
)

// Through returns a course that ends, for files: from frame on, it dances s a number of
// times and then stands. It begins with the lead-in, counts set.Rest bars between two
// run-throughs, and climbs the ladder from one to the next. Set.Repeat is ignored.
func (c *Course) Through(frame int64, timeline *Timeline, s Interval, times int, set Settings) *Course {
	set.Loop = Interval{}
	out := c.Start(frame, timeline, s.From, set)
	out.legs = out.legs[:len(out.legs)-1] // it stands only after the last run-through
	out.legs[len(out.legs)-1].last = s.To
	for pass := 1; pass < times; pass++ {
		out.legs[len(out.legs)-1].again = s
		at := out.legs[len(out.legs)-1].ends(c.rate)
		if set.Rest > 0 {
			rest := c.rest(at, timeline, s.From, set, pass)
			out.legs = append(out.legs, rest)
			at = rest.ends(c.rate)
		}
		dance := c.dance(at, timeline, s.From, timeline.tempo.seconds(s.From), set, pass)[0]
		dance.last = s.To
		out.legs = append(out.legs, dance)
	}
	at := out.legs[len(out.legs)-1].ends(c.rate)
	out.legs = append(out.legs, still(at, timeline, s.To, set, Finished, &c.sounds))
	return out
}

// rest returns the leg that counts the bars before a run-through that begins at a beat.
func (c *Course) rest(at float64, timeline *Timeline, begins routine.Beats, set Settings, pass int) leg {
	from := begins - set.RestLength(timeline.Score.Dance.Metre)
	l := newLeg(at, LeadIn, timeline, set, pass, &c.sounds)
	l.tempo = timeline.tempoBefore(begins)
	l.origin, l.first, l.last = l.tempo.seconds(from), from.Ceil(routine.Beat), begins
	return l
}

// CountIn returns the count on a whole beat before the first step, which is at begins.
func (t *Timeline) CountIn(beat, begins routine.Beats) Labels {
	n := t.LeadInNumber(beat, begins)
	return Labels{Count: strconv.Itoa(n), SlowQuick: strconv.Itoa(n), Words: numberWord(n)}
}
