package main

import (
	"context"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/lines"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/songs"
)

func (a *app) dance() *cobra.Command {
	var how flags.Dance
	plain, silent := false, false
	cmd := &cobra.Command{
		Use:   "dance SHEET",
		Short: "Dance a routine: count, sound and screen in time",
		Long: `Dance plays a sheet: a large count on the screen, both partners' steps, and a
voice, clicks and the dance's rhythm, each as loud as you like. Save the sheet
while you dance, and the next bar follows it.

Without a terminal, or with --plain, it prints a line for each step as it is danced.

` + cautions,
		Example:           "  slowquick dance lantern-night-cha-cha --tempo '70 %' --repeat\n  slowquick dance lantern-night.md --partner follower --plain",
		Args:              arguments.Sheets(1),
		ValidArgsFunction: a.CompleteSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			d, err := a.Open(args[0])
			if err != nil {
				return err
			}
			if err := a.choosePause(cmd, &how); err != nil {
				return err
			}
			if plain || !a.Draws() {
				return a.danceOnLines(cmd.Context(), d, how, silent)
			}
			return a.danceOnScreen(cmd.Context(), d, how, silent, nil)
		},
	}
	how.Flags(cmd)
	how.LiveFlags(cmd)
	how.MusicFlag(cmd)
	cmd.Flags().BoolVar(&plain, "plain", false, "print a line for each step instead of showing the screen")
	cmd.Flags().BoolVar(&silent, "silent", false, "play no sound")
	return cmd
}

// danceOnScreen shows a sheet on the screen, with the list of sheets behind it, and leads through
// the session unless that is nil.
func (a *app) danceOnScreen(ctx context.Context, d sheets.Document, how flags.Dance, silent bool, session *practice.Session) error {
	if _, err := how.Settings(a.Shelf().Read(d).Timeline); err != nil {
		return err
	}
	var given *sheets.Document
	if d.Name == sheets.StandardInput {
		given = &d
	}
	s := a.openStage(ctx, how, silent, nil)
	defer a.closeStage(s, how)
	begun := false
	var leading *led
	err := a.show(ctx, s, given, songs.Book{Rate: rate, Given: how.Music, For: d.Name}, how.PauseAfter, func(o *screen.Options, kept *diary.Writer) {
		o.Open, o.Dancers, o.Count, o.Look.Pictures, o.Look.View = &sheetlist.Entry{ID: d.Name, Title: d.Name}, how.Dancers, how.Count, how.Pictures, how.View
		o.Stage = func(l dance.Sheet) dance.Transport {
			set := l.Timeline.Settings()
			if l.ID == d.Name && !begun { // the flags apply to the named sheet, once it can be danced
				begun = true
				var wrong error // it couldn't be known earlier
				if set, wrong = how.Settings(l.Timeline); wrong != nil {
					s.Note(wrong)
				}
			}
			return s.Put(l.Timeline, set)
		}
		if session != nil {
			leading = a.lead(o, kept, how.Dancers, s.Note, func(*player.Timeline) practice.Session { return *session })
		}
	})
	a.printSummed(leading)
	return outcome.Failed(err, "--plain works without a screen")
}

// danceOnLines prints a line for each step as it is danced.
func (a *app) danceOnLines(ctx context.Context, d sheets.Document, how flags.Dance, silent bool) error {
	timeline, set, err := a.toDance(ctx, d, how)
	if err != nil {
		return err
	}
	a.printCautions()
	s := a.openStage(ctx, how, silent, a.Warn)
	defer a.closeStage(s, how)
	t := s.Put(timeline, set)
	if !silent {
		s.Settle(ctx)
	}
	t.Start()
	kept := diary.NewWriter(diary.File())
	began := time.Now()
	defer func() {
		a.closeDiary(kept)
		if a.AtTerminal() { // a file keeps the steps alone
			a.printSummed(&led{over: dance.Over{Session: practice.Session{Made: began}, Score: timeline.Score, Dancers: how.Dancers}, begun: true})
		}
	}()
	err = lines.Write(ctx, a.Out, t, lines.Options{Dancers: how.Dancers, Count: how.Count, Sound: s, Diary: kept})
	if err != nil {
		return outcome.Failed(fmt.Errorf("print the steps: %w", err), "")
	}
	return nil
}

// toDance returns a sheet's timeline, to its song if that can be played, and how to dance it. If the sheet can't be
// danced, it prints the findings.
func (a *app) toDance(ctx context.Context, d sheets.Document, how flags.Dance) (*player.Timeline, player.Settings, error) {
	score, err := a.Score(d)
	if err != nil {
		return nil, player.Settings{}, err
	}
	timeline, err := a.ToSong(ctx, songs.Book{Rate: rate, Given: how.Music, For: d.Name}, d, player.NewTimeline(score))
	if err != nil {
		a.Warn(fmt.Errorf("without music: %w", err))
	}
	set, err := how.Settings(timeline)
	return timeline, set, err
}
