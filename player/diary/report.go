package diary

import (
	"cmp"
	"errors"
	"math"
	"time"

	"dance.example/slowquick/player/progress"
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
	// RunThroughs are "passes" for other programs, which have no version of the format to tell a new name by.
	RunThroughs int `json:"passes"`
}

// Figure is what a [Report] says of a figure.
type Figure struct {
	Dance       string `json:"dance"`
	Name        string `json:"name"`
	RunThroughs int    `json:"passes"`
	Last        string `json:"lastDanced"`
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
	weekly, damaged := d.Weeks(weeks, now)
	if r.Weeks = weekly; d == nil || damaged != nil && !IsDamaged(damaged) {
		return r, damaged
	}
	figures, err := d.Figures()
	if err != nil && !IsDamaged(err) {
		return r, err
	}
	for _, k := range figures {
		r.Figures = append(r.Figures, Figure{k.Dance, k.Name, k.RunThroughs, k.Last.Format(time.DateOnly), k.Best, k.Judged, k.Clean, k.Marks})
	}
	return r, cmp.Or(err, damaged) // Figures read more
}

// IsDamaged reports whether an error is a *Damaged, which comes with all that could be read.
func IsDamaged(err error) bool { return errors.As(err, new(*Damaged)) }

// Weeks adds up the last weeks, including the week of now. A nil diary is empty. With a *Damaged it adds up
// what can be read.
func (d *Diary) Weeks(weeks int, now time.Time) ([]Week, error) {
	mondays := progress.Mondays(weeks, now)
	if d == nil {
		return byWeeks(nil, mondays), nil
	}
	practices, err := d.Practices(mondays[0])
	return byWeeks(practices, mondays), err
}

// byWeeks adds practices up, week by week. None began before the first Monday.
func byWeeks(practices []Kept, mondays []time.Time) []Week {
	list := make([]Week, len(mondays))
	for i := range list {
		list[i].Monday = mondays[i].Format(time.DateOnly)
		for next := mondays[i].AddDate(0, 0, 7); len(practices) > 0 && practices[0].Began.Before(next); {
			list[i].Minutes += practices[0].Took.Minutes()
			list[i].Practices++
			list[i].RunThroughs += practices[0].RunThroughs
			practices = practices[1:]
		}
		list[i].Minutes = math.Round(list[i].Minutes*10) / 10
	}
	return list
}
