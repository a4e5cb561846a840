package player

import "dance.example/slowquick/routine"

// Settings is how a routine is danced. The zero value is not useful; see
// [DefaultSettings].
type Settings struct {
	Percent float64       // of the timeline's own tempo, without a ladder
	Tempo   routine.Tempo // in place of its own tempo, whatever leads; 0 for Percent of it
	LeadIn  int           // bars counted before the first step, 0–4
	Repeat  Stretch       // danced again and again; empty for none
	Rest    int           // bars counted between two passes, 0–4
	Ladder  Ladder        // zero for none

	Count     routine.CountStyle // how the voice counts; StyleUnset as the sheet says
	FeetApart bool               // left feet are heard left, right ones right
	Call      bool               // the next figure is named aloud before it begins
	Quiet     bool               // only the song is heard
}

// DefaultSettings is full tempo after one bar of lead-in.
func DefaultSettings() Settings { return Settings{Percent: 100, LeadIn: 1} }

// The tempi that may be asked for, in per cent of the routine's own.
const (
	SlowestPercent = 10.0
	FastestPercent = 200.0
)

// MostLeadIn is how many bars are counted at the most before the first step, and before
// each pass.
const MostLeadIn = 4

// LeadInLength is how long is counted before the first step, in a metre.
func (s *Settings) LeadInLength(m routine.Metre) routine.Beats { return counted(s.LeadIn, m) }

// RestLength is how long is counted between two passes, in a metre.
func (s *Settings) RestLength(m routine.Metre) routine.Beats { return counted(s.Rest, m) }

func counted(bars int, m routine.Metre) routine.Beats {
	return routine.Beats(min(max(bars, 0), MostLeadIn)) * m.Bar()
}

// percent is the tempo of a pass through a timeline, counted from 0.
func (s *Settings) percent(line *Timeline, pass int) float64 {
	return min(max(s.asked(line, pass), line.slowest()), line.fastest())
}

// asked is percent as it is asked for, also if that can't be danced.
func (s *Settings) asked(line *Timeline, pass int) float64 {
	switch {
	case s.Ladder != (Ladder{}):
		return s.Ladder.percent(pass)
	case s.Tempo > 0:
		return s.Tempo.Float() / line.OwnTempo().Float() * 100
	}
	return s.Percent
}

// At gives settings with a constant tempo, as [Timeline.ParseTempo] reads it.
func (s Settings) At(percent float64, tempo routine.Tempo) Settings {
	s.Percent, s.Tempo, s.Ladder = percent, tempo, Ladder{}
	return s
}

// settled is the pass from which the tempo stays as it is.
func (s *Settings) settled(pass int) int {
	if s.Ladder == (Ladder{}) {
		return pass
	}
	return s.Ladder.settled(pass)
}
