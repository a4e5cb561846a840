package player

import (
	"strconv"

	"dance.example/slowquick/routine"
)

// Settings is how a routine is danced. Start from [DefaultSettings]; the zero value is not
// useful.
type Settings struct {
	Percent float64       // of the timeline's own tempo; unused with Tempo or a ladder
	Tempo   routine.Tempo // wanted in place of the timeline's own; 0 to use Percent
	LeadIn  int           // bars counted before the first step, 0–4
	Loop    Interval      // the loop; empty for none
	Rest    int           // bars counted between two run-throughs of the loop, 0–4
	Ladder  Ladder        // zero for none; goes before Percent and Tempo

	Count     Counting
	FeetApart bool // left feet are heard on the left, right feet on the right
	Call      bool // the next figure is named aloud before it begins
	Quiet     bool // only the song is heard
}

// DefaultSettings returns full tempo after the usual lead-in.
func DefaultSettings() Settings { return Settings{Percent: 100, LeadIn: routine.UsualLeadIn} }

// Settings returns full tempo after the sheet's own lead-in.
func (t *Timeline) Settings() Settings { return Settings{Percent: 100, LeadIn: t.Score.LeadIn()} }

// MostLeadIn is the largest number of bars counted before the first step, and between two
// run-throughs.
const MostLeadIn = routine.MostLeadIn

// LeadInLength returns the length of the lead-in in a metre.
func (s *Settings) LeadInLength(m routine.Metre) routine.Beats { return counted(s.LeadIn, m) }

// RestLength returns the length of the rest between two run-throughs in a metre.
func (s *Settings) RestLength(m routine.Metre) routine.Beats { return counted(s.Rest, m) }

func counted(bars int, m routine.Metre) routine.Beats {
	return routine.Beats(min(max(bars, 0), MostLeadIn)) * m.Bar()
}

// percent returns the tempo of a run-through, counted from 0, in per cent of the timeline's
// own: what is asked for, kept within the timeline's limits.
func (s *Settings) percent(timeline *Timeline, runThrough int) float64 {
	return min(max(s.asked(timeline, runThrough), timeline.slowest()), timeline.fastest())
}

// asked returns the percentage asked for, even if it can't be danced.
func (s *Settings) asked(timeline *Timeline, runThrough int) float64 {
	switch {
	case s.Ladder != (Ladder{}):
		return s.Ladder.percent(runThrough)
	case s.Tempo > 0:
		return s.Tempo.Float() / timeline.OwnTempo().Float() * 100
	}
	return s.Percent
}

// At returns the settings with a constant tempo, in the form that [Timeline.ParseTempo]
// returns.
func (s Settings) At(percent float64, tempo routine.Tempo) Settings {
	s.Percent, s.Tempo, s.Ladder = percent, tempo, Ladder{}
	return s
}

// Check returns an error that tells the dancer why a timeline can't be danced as slowly or
// as fast as settings ask; nil if it can. The nearest possible tempo is used instead.
func (t *Timeline) Check(s Settings) error {
	switch {
	case s.Ladder != (Ladder{}):
		return nil
	case s.Tempo > 0:
		return t.reaches(s.asked(t, 0), t.Score.Dance.TempoText(s.Tempo))
	}
	return t.reaches(s.Percent, strconv.FormatFloat(s.Percent, 'f', -1, 64)+" %")
}

// settled returns the run-through, not before the given one, from which the tempo stays the same.
func (s *Settings) settled(runThrough int) int {
	if s.Ladder == (Ladder{}) {
		return runThrough
	}
	return s.Ladder.settled(runThrough)
}
