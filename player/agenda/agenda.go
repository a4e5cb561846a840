// Package agenda finds which sheets to practise next.
package agenda

import (
	"slices"
	"time"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/sheets"
)

// Sheet is a sheet and what of it is due.
type Sheet struct {
	sheets.Entry
	practice.Due
}

// Due returns the sheets of this folder and the examples that were danced, the most urgent first; all
// examples if there is nothing else. It leaves out what can't be danced.
func Due(shelf sheets.Shelf, now time.Time, tell func(error)) ([]Sheet, error) {
	entries, err := shelf.Entries(".")
	if err != nil {
		return nil, err
	}
	past := diary.ReadPast(tell)
	var own, examples []Sheet
	seen := map[practice.Sheet]bool{}
	for _, e := range entries {
		d, err := shelf.Open(e.ID)
		if err != nil {
			continue // opening it by name says why
		}
		read := shelf.ReadSafely(d)
		if read.Timeline == nil {
			continue
		}
		score := read.Timeline.Score
		item := Sheet{e, practice.DueOf(score, past.Of(score, now.Location()), practice.DayOf(now))}
		id := practice.Sheet{Dance: score.Dance.Name, Title: score.Title}
		if e.Example() {
			examples = append(examples, item)
		}
		if !e.Example() || past.Has(score) && !seen[id] { // a copy of an example has its title
			own = append(own, item)
		}
		seen[id] = true
	}
	list := own
	if len(list) == 0 {
		list = examples
	}
	slices.SortStableFunc(list, func(x, y Sheet) int {
		switch {
		case x.Before(y.Due):
			return -1
		case y.Before(x.Due):
			return 1
		}
		return 0
	})
	return list, nil
}
