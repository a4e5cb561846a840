package main

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/songs"
)

// offered holds the flags of practise that matter without a sheet.
type offered struct{ json, list, anew, silent bool }

// dueSheet is a sheet and what of it is due.
type dueSheet struct {
	sheets.Entry
	practice.Due
}

// due returns the sheets of this folder and the examples that were danced, the most urgent first; all
// examples if there is nothing else. It leaves out what can't be danced.
func (a *app) due(now time.Time, tell func(error)) ([]dueSheet, error) {
	entries, err := a.sheets().Entries(".")
	if err != nil {
		return nil, err
	}
	past := diary.ReadPast(tell)
	var own, examples []dueSheet
	seen := map[practice.Sheet]bool{}
	for _, e := range entries {
		d, err := a.sheets().Open(e.ID)
		if err != nil {
			continue // opening it by name says why
		}
		read := a.sheets().ReadSafely(d)
		if read.Timeline == nil {
			continue
		}
		score := read.Timeline.Score
		item := dueSheet{e, practice.DueOf(score, past.Of(score, now.Location()), practice.DayOf(now))}
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
	slices.SortStableFunc(list, func(x, y dueSheet) int {
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

// practiseDue lists the sheets that are due and, on a screen, leads through a session of one that is
// chosen.
func (a *app) practiseDue(cmd *cobra.Command, how howToPractise, o offered) error {
	if how.goal != "" {
		return usage(errors.New("--goal is for one sheet; name it too"))
	}
	if _, err := how.wish(nil, time.Now()); err != nil {
		return err
	}
	if o.json || o.list || !a.draws() {
		list, err := a.due(time.Now(), a.warn)
		if err != nil {
			return failed(err, "")
		}
		if o.json {
			return a.printJSON(dueEntries(list))
		}
		a.printDue(list)
		return nil
	}
	if err := a.choosePause(cmd, &how.howToDance); err != nil {
		return err
	}
	how.leadIn = 1
	s := a.openStage(cmd.Context(), how.howToDance, o.silent, nil)
	defer a.closeStage(s)
	var leading *led
	err := a.show(cmd.Context(), s, nil, songs.Book{Rate: rate}, how.pauseAfter, func(so *screen.Options, kept *diary.Writer) {
		so.Shelf, so.Dancers = dueShelf{shelf{app: a}, s.Note}, how.dancers
		so.Stage = func(l dance.Sheet) dance.Transport {
			set, _ := how.settings(l.Timeline) // what there is of flags is always right
			return s.Put(l.Timeline, set)
		}
		leading = a.lead(so, kept, how.dancers, s.Note, func(timeline *player.Timeline) practice.Session {
			wish, _ := how.wish(timeline, time.Now()) // right, as it was before
			return a.session(cmd, timeline, wish, o.anew, s.Note)
		})
	})
	a.printSummed(leading)
	return failed(err, "slowquick practise --list works without a screen")
}

// dueShelf is a shelf that lists what is due.
type dueShelf struct {
	shelf
	tell func(error)
}

// Entries lists the sheets that are due, the most urgent first.
func (s dueShelf) Entries() (list []sheetlist.Entry, err error) {
	due, err := s.due(time.Now(), s.tell)
	for _, d := range due {
		list = append(list, sheetlist.Entry{Title: d.Title, Dance: d.Dance, Place: d.Place, ID: d.ID, Why: d.Due.String()})
	}
	return list, err
}

// printDue prints the sheets that are due.
func (a *app) printDue(list []dueSheet) {
	rows, narrow := [][]string{{"SHEET", "TITLE", "DANCE", "WHY"}}, [][]string(nil)
	for _, d := range list {
		rows = append(rows, []string{harmless.Masked(d.ID), harmless.Masked(d.Title), harmless.Masked(d.Dance), d.Due.String()})
		narrow = append(narrow, []string{harmless.Masked(d.ID), d.Due.String()})
	}
	for _, line := range a.table(rows, []int{0, 1, 3}, narrow, 0) {
		fmt.Fprintln(a.out, line)
	}
	fmt.Fprintln(a.err, "slowquick: hint: slowquick practise SHEET plans a session of one")
}

// dueEntry is what practise --json prints of a sheet.
type dueEntry struct {
	Sheet   string `json:"sheet"`
	Title   string `json:"title"`
	Dance   string `json:"dance"`
	Marks   int    `json:"marks"`
	Figures int    `json:"figuresDue"`
	New     int    `json:"figuresNew"`
	Days    int    `json:"daysOverdue"`
	Why     string `json:"why"`
}

func dueEntries(list []dueSheet) []dueEntry {
	entries := []dueEntry{}
	for _, d := range list {
		entries = append(entries, dueEntry{d.ID, d.Title, d.Dance, d.Marked, d.Figures, d.New, d.Days, d.Due.String()})
	}
	return entries
}
