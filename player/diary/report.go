package diary

import (
	"cmp"
	"errors"
	"math"
	"time"

	"dance.example/slowquick/routine"
)

// Report says how much was danced in each of some weeks, and how well each figure is known.
type Report struct {
	Weeks   []Week   `json:"weeks"`
	Figures []Figure `json:"figures"` // the one danced last first
}

// Week adds up the practices of a week.
type Week struct {
	Monday    string  `json:"monday"`
	Minutes   float64 `json:"minutes"`
	Practices int     `json:"practices"`
	Passes    int     `json:"passes"`
}

// Figure is what a [Report] says of a figure.
type Figure struct {
	Dance  string `json:"dance"`
	Name   string `json:"name"`
	Passes int    `json:"passes"`
	Last   string `json:"lastDanced"`
	// In beats a minute, by partner; 0 for none.
	Best [2]routine.Tempo `json:"bestClean"`
	// How often a partner said how it went, that it went well, and that it went wrong. Marks are of
	// whole run-throughs of the figure.
	Judged [2]int `json:"judged"`
	Clean  [2]int `json:"clean"`
	Marks  [2]int `json:"marks"`
}

// Report reports on the last weeks, including the week of now. A nil diary is empty. With a
// *Damaged it reports on what can be read.
func (d *Diary) Report(weeks int, now time.Time) (r Report, err error) {
	r.Figures = []Figure{}
	monday := mondayOf(now).AddDate(0, 0, -7*(weeks-1))
	if d == nil {
		r.Weeks = byWeeks(nil, monday, weeks)
		return r, nil
	}
	practices, damaged := d.Practices(monday)
	if damaged != nil && !IsDamaged(damaged) {
		return r, damaged
	}
	r.Weeks = byWeeks(practices, monday, weeks)
	figures, err := d.Figures()
	if err != nil && !IsDamaged(err) {
		return r, err
	}
	for _, k := range figures {
		r.Figures = append(r.Figures, Figure{k.Dance, k.Name, k.Passes, k.Last.Format(time.DateOnly), k.Best, k.Judged, k.Clean, k.Marks})
	}
	return r, cmp.Or(err, damaged) // Figures read more
}

// IsDamaged reports whether an error is a *Damaged, which comes with all that could be read.
func IsDamaged(err error) bool { return errors.As(err, new(*Damaged)) }

// mondayOf returns the midnight with which the week of t begins.
func mondayOf(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d-(int(t.Weekday())+6)%7, 0, 0, 0, 0, t.Location())
}

// byWeeks adds practices up, week by week from a Monday on.
func byWeeks(practices []Kept, monday time.Time, weeks int) []Week {
	list := make([]Week, weeks)
	for i := range list {
		next := monday.AddDate(0, 0, 7)
		list[i].Monday = monday.Format(time.DateOnly)
		for len(practices) > 0 && practices[0].Began.Before(next) {
			list[i].Minutes += practices[0].Took.Minutes()
			list[i].Practices++
			list[i].Passes += practices[0].Passes
			practices = practices[1:]
		}
		list[i].Minutes = math.Round(list[i].Minutes*10) / 10
		monday = next
	}
	return list
}
