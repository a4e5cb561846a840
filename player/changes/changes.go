// Package changes is what dancers change while they dance: the tempo, the loop, the
// ladder and how they are counted in.
//
// A change is a function of the moment it takes effect at, as [player.Transport.Set]
// wants it: what was heard when a key was pressed may be over by then.
package changes

import (
	"math"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// A Change returns how to dance on from a moment.
type Change = func(player.Moment) player.Settings

// nearly is less than anyone sees of a tempo in bars a minute.
const nearly = 0.005

// Faster makes the tempo whole bars a minute faster, or slower if by is below 0: to the
// next whole number first.
func Faster(by int) Change {
	return func(m player.Moment) player.Settings {
		d := m.Timeline.Score.Dance
		now, own := d.BarsPerMinute(m.Tempo), d.BarsPerMinute(m.Timeline.Tempo(m.Beat))
		if by > 0 {
			now = math.Floor(now + float64(by) + nearly)
		} else {
			now = math.Ceil(now + float64(by) - nearly)
		}
		return m.Settings.At(now/own*100, 0)
	}
}

// Tempo dances at a constant tempo, in the form that [player.Timeline.ParseTempo] returns.
func Tempo(percent float64, tempo routine.Tempo) Change {
	return func(m player.Moment) player.Settings { return m.Settings.At(percent, tempo) }
}

// Loop loops another interval, or nothing if it is empty. A ladder stays on its rung, and
// climbs on through the whole routine if nothing else is looped.
func Loop(i player.Interval) Change {
	return func(m player.Moment) player.Settings {
		set := m.Onward()
		if set.Loop = i; i.Empty() && set.Ladder != (player.Ladder{}) {
			set.Loop = Whole(m.Timeline)
		}
		return set
	}
}

// Whole returns the interval of the whole routine.
func Whole(t *player.Timeline) player.Interval { return player.Interval{From: t.Start, To: t.End} }

// Figure returns the interval of the figure that is danced at a moment, or comes after
// the lead-in.
func Figure(m player.Moment) player.Interval {
	return m.Timeline.Passage(m.Timeline.PassageAt(Place(m)))
}

// Place returns the beat a moment is at: of a lead-in, that of the first step.
func Place(m player.Moment) routine.Beats {
	if m.State == player.LeadIn {
		return m.Begins
	}
	return m.Beat
}

// NextLoop loops the figure, after that the figure's join to the next, and then nothing.
// A loop that was chosen otherwise ends at once.
func NextLoop(m player.Moment) player.Settings {
	loop := m.Settings.Loop
	if loop.Empty() || m.Settings.Ladder != (player.Ladder{}) && loop == Whole(m.Timeline) {
		return Loop(Figure(m))(m)
	}
	last := len(m.Timeline.Score.Passages) - 1
	if i := m.Timeline.PassageAt(loop.From); i < last && loop == m.Timeline.Passage(i) {
		return Loop(m.Timeline.Join(i))(m)
	}
	return Loop(player.Interval{})(m)
}

// Climb begins a ladder on its first rung, through the loop or else the whole routine.
func Climb(l player.Ladder) Change {
	return func(m player.Moment) player.Settings {
		set := m.Settings
		if set.Ladder = l; set.Loop.Empty() {
			set.Loop = Whole(m.Timeline)
		}
		return set
	}
}

// Rung goes on from another rung of the ladder; without one it makes the tempo faster by
// as many times [Step], or slower if by is below 0.
func Rung(by int) Change {
	return func(m player.Moment) player.Settings {
		set := m.Settings
		if set.Ladder == (player.Ladder{}) {
			return set.At(m.Percent+float64(by*Step), 0)
		}
		set.Ladder = set.Ladder.From(m.RunThrough, by)
		return set
	}
}

// Step is a step of the tempo without a ladder, in per cent of the sheet's.
const Step = 5

// KeepTempo ends a ladder at the tempo it has reached.
func KeepTempo(m player.Moment) player.Settings {
	if m.Settings.Ladder == (player.Ladder{}) {
		return m.Settings
	}
	return m.Settings.At(m.Percent, 0)
}
