package practice

import (
	"math"
	"time"

	"github.com/open-spaced-repetition/go-fsrs/v3"
)

// Day is a day of the calendar, counted from 1 January 1970.
type Day int

// DayOf returns the date of t in t's own location.
func DayOf(t time.Time) Day {
	y, m, d := t.Date()
	return Day(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / (24 * 60 * 60))
}

// String names d: "Mon 7 Sep".
func (d Day) String() string { return d.noon().Format("Mon 2 Jan") }

// noon returns a time on d. Noons are a whole number of days apart, whatever clocks do.
func (d Day) noon() time.Time { return time.Unix(int64(d)*24*60*60+12*60*60, 0).UTC() }

// Grade says how a day's practice of a piece went.
type Grade uint8

// The grades.
const (
	Forgotten Grade = iota // its first run-through went wrong
	Shaky                  // the first went well, a later one went wrong
	Clean                  // none went wrong
)

// Memory is how well something is known, by FSRS-5, the Free Spaced Repetition Scheduler, with its
// published weights and without steps within a day. The zero Memory is for something never practised.
//
// A dancer can only say that something went wrong, so the grade "easy" is never used. On the day it is
// due it is still known nine times out of ten.
//
// Source: github.com/open-spaced-repetition, free-spaced-repetition-scheduler
// ("The Algorithm", FSRS-5), through its Go library go-fsrs.
type Memory struct{ card fsrs.Card }

// scheduler is FSRS-5 with its published weights.
func scheduler() *fsrs.FSRS {
	p := fsrs.DefaultParam()
	p.EnableShortTerm = false
	return fsrs.NewFSRS(p)
}

// After returns m after a day's practice.
func (m Memory) After(d Day, g Grade) Memory {
	rating := [...]fsrs.Rating{Forgotten: fsrs.Again, Shaky: fsrs.Hard, Clean: fsrs.Good}[g]
	return Memory{scheduler().Next(m.card, d.noon(), rating).Card}
}

// New reports whether it was never practised.
func (m Memory) New() bool { return m.card.State == fsrs.New }

// Due returns the day on which to practise it again. For something never practised, that is the first
// of all days.
func (m Memory) Due() Day {
	if m.New() {
		return math.MinInt
	}
	return DayOf(m.card.Due)
}

// Recall returns how likely it is still known on a day, from 0 to 1. For something never practised it
// is 0. On a day before the last practice, as when the clock was set back, it is as on that day.
func (m Memory) Recall(d Day) float64 {
	if m.New() {
		return 0
	}
	at := d.noon()
	if at.Before(m.card.LastReview) {
		at = m.card.LastReview
	}
	return scheduler().GetRetrievability(m.card, at)
}
