package main

import (
	"time"

	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/summary"
	"dance.example/slowquick/routine"
)

// led is a session that the screen leads through, as far as it has come.
type led struct {
	over  dance.Over
	begun bool // an exercise is done
}

// lead has a session led through by the screen, which plans it, and returns what becomes of it.
func (a *app) lead(o *screen.Options, kept *diary.Writer, dancers routine.Dancers, tell func(error), plan func(*player.Timeline) practice.Session) *led {
	l := &led{}
	o.Session = plan
	o.Left = func(score *routine.Score, s practice.Session) {
		kept.Leave(practice.SheetOf(score), s)
		l.over, l.begun = dance.Over{Session: s, Score: score, Dancers: dancers}, true
	}
	o.Sums = func(over dance.Over) []summary.Section {
		kept.Flush(diary.LastWait)
		return summed(over, tell)
	}
	return l
}

// summed returns what a session came to, by the diary.
func summed(over dance.Over, tell func(error)) []summary.Section {
	d, err := diary.ReadOwn()
	if err != nil {
		tell(err)
	}
	if d == nil {
		return nil
	}
	defer d.Close()
	passes, err := d.Passes(over.Score.Dance.Name)
	if err != nil {
		tell(err)
	}
	return summary.Of(over.Session.Summary(over.Score, passes, over.Dancers, time.Local), over.Score.Dance, practice.DayOf(time.Now()))
}

// printSummed prints what a session came to, once the screen is gone and the diary is written.
func (a *app) printSummed(l *led) {
	if l == nil || !l.begun {
		return
	}
	report.Summary(a.Page(a.Out), summed(l.over, a.Warn))
}
