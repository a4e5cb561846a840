package main

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// howToPractise holds the flags of practise.
type howToPractise struct {
	howToDance
	minutes  float64
	goal, by string
	couple   bool
	breather float64 // minutes
}

func (a *app) practise() *cobra.Command {
	var how howToPractise
	asJSON, list, anew, silent := false, false, false, false
	cmd := &cobra.Command{
		Use:   "practise [SHEET]",
		Short: "Plan a practice session from the diary and lead you through it",
		Long: `Practise plans a session from your diary: a warm-up, the joins that went wrong,
figures that are new or due again, a ladder of tempi towards your goal, the whole
routine, and breathers. The screen leads you through it: space starts each
exercise. If you leave, you can go on later the same day, for the same partner.

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
	cmd.Flags().Float64Var(&how.breather, "breather", 8, "take a breather after so many `MINUTES` of dancing")
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
	w = practice.Wish{Now: now, Minutes: h.minutes, Couple: h.couple, Every: inMinutes(h.breather), Dancers: h.dancers}
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

// printSession lists the exercises of a session.
func (a *app) printSession(timeline *player.Timeline, s practice.Session, w practice.Wish) {
	d, own := timeline.Score.Dance, timeline.Score.Tempo
	tempo := func(percent float64) string { return roughly(d, own.Scaled(percent)) }
	by := ""
	if !w.By.IsZero() {
		by = " by " + w.By.Format(time.DateOnly)
	}
	head := fmt.Sprintf("%s (%s), %s", harmless.Masked(s.Title), s.Dance, audio.Clock(s.Takes().Seconds()))
	aims := fmt.Sprintf("from %s; today to %s; the goal is %s%s", tempo(s.Level), tempo(s.Today), tempo(s.Goal), by)
	lines := append(a.lines(head), append(a.lines(aims), "")...)
	fmt.Fprintln(a.out, strings.Join(append(lines, a.sessionLines(s, tempo)...), "\n"))
}

// sessionLines returns a table of the exercises of a session that fits the terminal.
func (a *app) sessionLines(s practice.Session, tempo func(percent float64) string) []string {
	bars := func(percent float64) string { return strings.TrimSuffix(tempo(percent), " bars/min") }
	rows := [][]string{{"AT", "TIME", "DANCE", "PARTNER", "BARS/MIN", "TIMES", "WHY"}}
	narrow := [][]string{{"AT", "TIME", "DANCE"}}
	at := time.Duration(0)
	for _, st := range s.Exercises {
		row := []string{audio.Clock(at.Seconds()), audio.Clock(st.Takes.Seconds()), harmless.Masked(st.What)}
		below := row
		if st.Kind == practice.Breather {
			row = append(row, "", "", "", "")
		} else {
			tempi := bars(st.Tempi.Start)
			if last := st.Tempi.Of(st.Passes - 1); last > st.Tempi.Start {
				tempi += " to " + bars(last)
			}
			row = append(row, st.Dancers.String(), tempi, strconv.Itoa(st.Passes), st.Why)
			below = append(below, st.Dancers.String()+", "+tempi+" bars/min, "+routine.Plural(st.Passes, "run-through"), st.Why)
		}
		rows, narrow = append(rows, row), append(narrow, below)
		at += st.Takes
	}
	const dance, why = 2, 6
	if !a.atTerminal() {
		return term.Table(rows, nil, math.MaxInt)
	}
	if lines := term.Table(rows, []int{dance, why}, a.columns()); lines != nil {
		return lines
	}
	return term.Stack(narrow, dance, a.columns())
}
