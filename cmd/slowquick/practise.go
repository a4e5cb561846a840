package main

import (
	"time"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/report"
)

func (a *app) practise() *cobra.Command {
	var how flags.Practise
	asJSON, list, anew, silent := false, false, false, false
	cmd := &cobra.Command{
		Use:   "practise [SHEET]",
		Short: "Plan a practice session from the diary and lead you through it",
		Long: `Practise plans a session from your diary: a warm-up; what went wrong and what is
new, alone and in its place; by turns all that needs practice, first by heart;
slower and faster; a ladder of tempi towards your goal; at the end the whole
routine. The screen leads you through it: space starts each exercise, and you say
how it went. It lasts as long as you wish, or says why less is better. If you leave, you can go on later the same day, for the same partner.

Without a sheet it lists this folder's sheets and the examples you have danced, the
most urgent first, and why; choose one.

Without a terminal, or with --list, it prints the list or the session.

A figure is due when you are likely to forget it, judged by FSRS (Free Spaced
Repetition Scheduler) from the days on which you danced it, marked or clean.

` + cautions,
		Example: "  slowquick practise\n  slowquick practise lantern-night-waltz --minutes 20\n  slowquick practise lantern-night-waltz --goal '29 bars/min' --by 2026-12-20 --couple",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil // it lists what is due
			}
			return arguments.Sheets(1)(cmd, args)
		},
		ValidArgsFunction: a.CompleteSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			how.Dance = a.inSession(how.Dance)
			if len(args) == 0 {
				return a.practiseDue(cmd, how, offered{json: asJSON, list: list, anew: anew, silent: silent})
			}
			sheet, err := a.Danceable(args[0])
			if err != nil {
				return err
			}
			timeline := sheet.Timeline
			wish, err := how.Wish(timeline, time.Now())
			if err != nil {
				return err
			}
			if err := a.choosePause(cmd, &how.Dance); err != nil {
				return err
			}
			s := a.session(cmd, timeline, wish, anew || asJSON || list || !a.Draws(), a.Warn)
			if asJSON {
				return a.PrintJSON(s)
			}
			if list || !a.Draws() {
				report.Session(a.Page(a.Out), timeline, s, wish)
				return nil
			}
			return a.danceOnScreen(cmd.Context(), sheet.Document, how.Dance, silent, &s)
		},
	}
	cmd.Flags().Float64Var(&how.Minutes, "minutes", 15, "how many `MINUTES` to practise")
	cmd.Flags().StringVar(&how.Goal, "goal", "", "the `TEMPO` to reach, \"28 bars/min\"; if not given, the sheet's")
	cmd.Flags().StringVar(&how.By, "by", "", "the target `DATE`, 2026-12-20")
	cmd.Flags().BoolVar(&how.Couple, "couple", false, "both partners practise and mark their own steps; what both need comes first")
	cmd.Flags().Float64Var(&how.Breather, "breather", 8, "take a breather after this many `MINUTES` of dancing")
	cmd.Flags().BoolVar(&how.Swap, "swap", false, "you dance both parts: change them once")
	flags.Partner(cmd, &how.Dancers)
	how.PauseFlag(cmd)
	cmd.Flags().BoolVar(&list, "list", false, "print the session and don't dance it")
	cmd.Flags().BoolVar(&anew, "anew", false, "plan a new session, even if you left one today")
	flags.Formerly(cmd, "new", "anew")
	cmd.Flags().BoolVar(&silent, "silent", false, "play no sound")
	a.printsJSON(cmd, &asJSON)
	return cmd
}
