package main

import (
	"errors"
	"time"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/agenda"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/songs"
)

// offered holds the flags of practise that matter without a sheet.
type offered struct{ json, list, anew, silent bool }

// practiseDue lists the sheets that are due and, on a screen, leads through a session of one that is
// chosen.
func (a *app) practiseDue(cmd *cobra.Command, how flags.Practise, o offered) error {
	if how.Goal != "" {
		return outcome.Usage(errors.New("--goal is for one sheet; name it too"))
	}
	if _, err := how.Wish(nil, time.Now()); err != nil {
		return err
	}
	if o.json || o.list || !a.Draws() {
		list, err := agenda.Due(a.Shelf(), time.Now(), a.Warn)
		if err != nil {
			return outcome.Failed(err, "")
		}
		if o.json {
			return a.PrintJSON(report.DueSheets(list))
		}
		report.Due(a.Page(a.Out), list)
		a.Hint("slowquick practise SHEET plans a session of one")
		return nil
	}
	if err := a.choosePause(cmd, &how.Dance); err != nil {
		return err
	}
	s := a.openStage(cmd.Context(), how.Dance, o.silent, nil)
	defer a.closeStage(s, how.Dance)
	var leading *led
	err := a.show(cmd.Context(), s, nil, songs.Book{Rate: rate}, how.PauseAfter, func(so *screen.Options, kept *diary.Writer) {
		so.Shelf, so.Dancers = dueShelf{shelf{app: a}, s.Note}, how.Dancers
		so.Stage = func(l dance.Sheet) dance.Transport {
			set, _ := how.Settings(l.Timeline) // what there is of flags is always right
			return s.Put(l.Timeline, set)
		}
		leading = a.lead(so, kept, how.Dancers, s.Note, func(timeline *player.Timeline) practice.Session {
			wish, _ := how.Wish(timeline, time.Now()) // right, as it was before
			return a.session(cmd, timeline, wish, o.anew, s.Note)
		})
	})
	a.printSummed(leading)
	return outcome.Failed(err, "slowquick practise --list works without a screen")
}

// dueShelf is a shelf that lists what is due.
type dueShelf struct {
	shelf
	tell func(error)
}

// Entries lists the sheets that are due, the most urgent first.
func (s dueShelf) Entries() (list []sheetlist.Entry, err error) {
	due, err := agenda.Due(s.Shelf(), time.Now(), s.tell)
	for _, d := range due {
		list = append(list, sheetlist.Entry{Title: d.Title, Dance: d.Dance, Place: d.Place, ID: d.ID, Why: d.Due.String()})
	}
	return list, err
}
