package report

import (
	"math"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// tempi returns the unit for the tempi of a dance, and what writes a tempo in it.
func tempi(l *library.Library, dance string) (unit string, number func(routine.Tempo) string) {
	if c, ok := l.Chapter(dance); ok {
		return "bars/min", func(t routine.Tempo) string { return term.Decimal(c.Dance.BarsPerMinute(t)) }
	}
	return "beats/min", func(t routine.Tempo) string { return term.Decimal(t.Float()) }
}

// tempoText writes a tempo in the unit of its dance.
func tempoText(l *library.Library, dance string, t routine.Tempo) string {
	unit, number := tempi(l, dance)
	return number(t) + " " + unit
}

// roughly writes a tempo rounded to a tenth of a bar a minute.
func roughly(d *routine.Dance, t routine.Tempo) string {
	tenth := float64(routine.Tempo(d.Metre.Beats)*routine.BeatPerMinute) / 10
	return d.TempoText(routine.Tempo(math.Round(float64(t)/tenth) * tenth))
}
