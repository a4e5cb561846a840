package practice

import (
	"math"
	"time"

	"github.com/open-spaced-repetition/go-fsrs/v3"
)

// Day is a day of the calendar, counted from 1 January 1970.
type Day int

// DayOf is the day on which a time falls where its clock stands.
func DayOf(t time.Time) Day {
	y, m, d := t.Date()
	return Day(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / (24 * 60 * 60))
}

// noon is a time on d; all have the same distance, whatever a clock does.
func (d Day) noon() time.Time { return time.Unix(int64(d)*24*60*60+12*60*60, 0).UTC() }

// Grade is how a day's practice of something went.
type Grade uint8

// The grades.
const (
	Forgotten Grade = iota // it went wrong the first time
	Shaky                  // the first time it went well, later it went wrong
	Clean                  // it never went wrong
)

// Memory is how well something is known, by FSRS-5, the Free Spaced Repetition
// Scheduler, with its published weights and without steps within a day. The zero
// Memory is of what was never practised.
//
// A dancer can only say that something went wrong, so the grade "easy" is never
// given. Nine times of ten it is still known on the day on which it is due.
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

// After is m after a day's practice.
func (m Memory) After(d Day, g Grade) Memory {
	rating := [...]fsrs.Rating{Forgotten: fsrs.Again, Shaky: fsrs.Hard, Clean: fsrs.Good}[g]
	return Memory{scheduler().Next(m.card, d.noon(), rating).Card}
}

// New reports that it was never practised.
func (m Memory) New() bool { return m.card.State == fsrs.New }

// Due is the day on which it is to be practised again; of what was never
// practised, the first of all days.
func (m Memory) Due() Day {
	if m.New() {
		return math.MinInt
	}
	return DayOf(m.card.Due)
}

// Recall is how likely it is still known on a day, from 0, also of what was
// never practised, to 1.
func (m Memory) Recall(d Day) float64 {
	if m.New() {
		return 0
	}
	return scheduler().GetRetrievability(m.card, d.noon())
}

// Stability is in how many days the likelihood that it is known falls to nine of ten.
func (m Memory) Stability() float64 { return m.card.Stability }

// Difficulty is from 1, easy, to 10; 0 of what was never practised.
func (m Memory) Difficulty() float64 { return m.card.Difficulty }
