package main

import (
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// howToPractise holds the flags of practise.
type howToPractise struct {
	howToDance
	minutes  float64
	goal, by string
	couple   bool
	swap     bool
	breather float64 // minutes
}

func (a *app) practise() *cobra.Command {
	var how howToPractise
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
			return sheetArgs(1)(cmd, args)
		},
		ValidArgsFunction: a.completeSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return a.practiseDue(cmd, how, offered{json: asJSON, list: list, anew: anew, silent: silent})
			}
			sheet, err := a.danceable(args[0])
			if err != nil {
				return err
			}
			timeline := sheet.Timeline
			wish, err := how.wish(timeline, time.Now())
			if err != nil {
				return err
			}
			if err := a.choosePause(cmd, &how.howToDance); err != nil {
				return err
			}
			s := practice.NewSession(timeline, diary.History(timeline.Score, wish.Now.Location(), a.warn), wish)
			if asJSON {
				return a.printJSON(s)
			}
			if list || !a.draws() {
				a.printSession(timeline, s, wish)
				return nil
			}
			if left, ok := a.leftToday(cmd, timeline, wish, a.warn); ok && !anew {
				s = left
			}
			how.leadIn = 1
			return a.danceOnScreen(cmd.Context(), sheet.Document, how.howToDance, silent, &s)
		},
	}
	cmd.Flags().Float64Var(&how.minutes, "minutes", 15, "how many `MINUTES` to practise")
	cmd.Flags().StringVar(&how.goal, "goal", "", "the `TEMPO` to reach, \"28 bars/min\"; if not given, the sheet's")
	cmd.Flags().StringVar(&how.by, "by", "", "the target `DATE`, 2026-12-20")
	cmd.Flags().BoolVar(&how.couple, "couple", false, "both partners practise and mark their own steps; what both need comes first")
	cmd.Flags().Float64Var(&how.breather, "breather", 8, "take a breather after this many `MINUTES` of dancing")
	cmd.Flags().BoolVar(&how.swap, "swap", false, "you dance both parts: change them once")
	partnerFlag(cmd, &how.dancers)
	how.pauseFlag(cmd)
	cmd.Flags().BoolVar(&list, "list", false, "print the session and don't dance it")
	cmd.Flags().BoolVar(&anew, "new", false, "plan a new session, even if you left one today")
	cmd.Flags().BoolVar(&silent, "silent", false, "play no sound")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return cmd
}

// leftToday returns the session that was left earlier today; ok is false if another is asked for, or
// none of it was danced.
func (a *app) leftToday(cmd *cobra.Command, timeline *player.Timeline, wish practice.Wish, tell func(error)) (left practice.Session, ok bool) {
	left, ok, err := diary.LeftToday(timeline, wish.Now)
	if err != nil {
		tell(err)
	}
	asked := cmd.Flags().Changed("partner") || cmd.Flags().Changed("side") || cmd.Flags().Changed("couple")
	return left, ok && left.Done > 0 && !(asked && left.Exercises[0].Dancers != wish.Dancers)
}

// mostMinutes bounds a session.
const mostMinutes = 240

// wish returns the session that the flags ask for.
func (h *howToPractise) wish(timeline *player.Timeline, now time.Time) (w practice.Wish, err error) {
	w = practice.Wish{Now: now, Minutes: h.minutes, Couple: h.couple, Swap: h.swap, Every: inMinutes(h.breather), Dancers: h.dancers}
	if !(h.minutes >= 1 && h.minutes <= mostMinutes) { // NaN isn't either
		return w, usage(fmt.Errorf("--minutes: use 1 to %d", mostMinutes))
	}
	if !(h.breather >= 1 && h.breather <= mostMinutes) {
		return w, usage(fmt.Errorf("--breather: use 1 to %d minutes", mostMinutes))
	}
	if h.couple && w.Dancers != routine.Both {
		return w, usage(errors.New("--couple is for both partners; leave --partner out"))
	}
	if h.goal != "" {
		percent, _, err := timeline.ParseTempo(h.goal, timeline.Score.Tempo)
		if err != nil {
			return w, &failure{exitUsage, fmt.Errorf("--goal: %w", err), "28 bars/min, 112 beats/min or 100 %"}
		}
		w.Goal = timeline.Score.Tempo.Scaled(percent)
	}
	if h.by != "" {
		if w.By, err = time.ParseInLocation(time.DateOnly, h.by, now.Location()); err != nil {
			return w, &failure{exitUsage, fmt.Errorf("--by: %q is not a date", h.by), "write it as 2026-12-20"}
		}
		if practice.DayOf(w.By) < practice.DayOf(now) {
			return w, usage(fmt.Errorf("--by: %s is in the past", h.by))
		}
	}
	return w, nil
}
