package main

import (
	"math"

	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// tempi returns the unit for the tempi of a dance, and what writes a tempo in it.
func (a *app) tempi(dance string) (unit string, number func(routine.Tempo) string) {
	if c, ok := a.library.Chapter(dance); ok {
		return "bars/min", func(t routine.Tempo) string { return term.Decimal(c.Dance.BarsPerMinute(t)) }
	}
	return "beats/min", func(t routine.Tempo) string { return term.Decimal(t.Float()) }
}

// tempoText writes a tempo in the unit of its dance.
func (a *app) tempoText(dance string, t routine.Tempo) string {
	unit, number := a.tempi(dance)
	return number(t) + " " + unit
}

// roughly writes a tempo rounded to a tenth of a bar a minute.
func roughly(d *routine.Dance, t routine.Tempo) string {
	tenth := float64(routine.Tempo(d.Metre.Beats)*routine.BeatPerMinute) / 10
	return d.TempoText(routine.Tempo(math.Round(float64(t)/tenth) * tenth))
}
