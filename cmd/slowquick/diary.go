package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/mattn/go-runewidth"
	"github.com/spf13/cobra"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

func (a *app) diary() *cobra.Command {
	weeks, asJSON, asCSV := 12, false, false
	cmd := &cobra.Command{
		Use:   "diary",
		Short: "Show what you practised, and how well you know each figure",
		Long: `Diary shows how long you practised in each of the last weeks and, for each figure,
the fastest tempo at which you said that it went well, and when you last danced
it. What nobody judged was danced, and is no more than that. --csv prints a line for each run-through, for spreadsheets; a text that a
spreadsheet would take for a formula gets a ' in front.

The diary is a file of yours on this machine; nothing is sent anywhere.`,
		Example: "  slowquick diary --weeks 52\n  slowquick diary --csv > diary.csv\n  slowquick diary forget",
		Args:    noArgs,
		RunE: func(*cobra.Command, []string) error {
			if weeks < 1 {
				return usage(fmt.Errorf("--weeks: %d; use 1 or more", weeks))
			}
			d, err := diary.ReadOwn()
			if err != nil {
				return failed(err, wayOut(err))
			}
			if d != nil {
				defer d.Close()
			} else if fmt.Fprintln(a.err, "slowquick: hint: the diary is empty; it fills as you dance"); !asJSON && !asCSV {
				return nil
			}
			if asCSV {
				err := d.WriteCSV(a.out)
				return failed(err, wayOut(err))
			}
			r, damaged := d.Report(weeks, time.Now())
			if damaged == nil || diary.IsDamaged(damaged) {
				if asJSON {
					err = a.printJSON(r)
				} else {
					a.printDiary(r)
				}
			}
			return cmp.Or(err, failed(damaged, wayOut(damaged)))
		},
	}
	cmd.Flags().IntVar(&weeks, "weeks", weeks, "how many `WEEKS` to show, including this one")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	cmd.Flags().BoolVar(&asCSV, "csv", false, "print a line for each run-through")
	cmd.MarkFlagsMutuallyExclusive("json", "csv")
	cmd.AddCommand(a.forgetDiary())
	return cmd
}

// wayOut returns what to do about a diary that can't be read, or only in part; "" for nothing.
func wayOut(err error) string {
	switch {
	case errors.Is(err, diary.ErrCorrupt):
		return "move " + diary.File() + " away or delete it; a new diary begins when you dance"
	case diary.IsDamaged(err):
		return "the rest can still be read; to begin a new diary, delete this one with slowquick diary forget"
	}
	return ""
}

func (a *app) printDiary(r diary.Report) {
	a.printWeeks(r.Weeks)
	if len(r.Figures) > 0 {
		fmt.Fprintln(a.out)
		a.printKnown(r.Figures)
	}
}

// printWeeks draws weeks as a chart that is as wide as the terminal.
func (a *app) printWeeks(weeks []diary.Week) {
	most := 1.0 // minute
	for _, week := range weeks {
		most = max(most, week.Minutes)
	}
	const before = len("2026-09-07     0 min  ")
	fmt.Fprintln(a.out, "WEEK FROM   DANCED")
	for _, week := range weeks {
		minutes := fmt.Sprintf("%.0f", week.Minutes)
		if minutes == "0" && week.Minutes > 0 {
			minutes = "<1"
		}
		line := fmt.Sprintf("%s  %4s min  %s", week.Monday, minutes, term.Bar(week.Minutes/most, a.columns()-before-1))
		fmt.Fprintln(a.out, strings.TrimRight(line, " "))
	}
}

// printKnown lists the figures, dance by dance.
func (a *app) printKnown(figures []diary.Figure) {
	figures = slices.Clone(figures)
	slices.SortStableFunc(figures, func(x, y diary.Figure) int { return strings.Compare(x.Dance, y.Dance) })
	w := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "DANCE\tFIGURE\tLEADER, CLEAN\tFOLLOWER, CLEAN\tLAST")
	room := 40 // for a name
	if a.atTerminal() {
		for _, k := range figures {
			room = min(room, max(a.columns()-runewidth.StringWidth(k.Dance)-len("    LEADER, CLEAN  FOLLOWER, CLEAN  2026-09-07"), 12))
		}
	}
	for _, k := range figures {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\n", harmless.Masked(k.Dance), runewidth.Truncate(harmless.Masked(k.Name), room, "…"),
			a.tempoText(k.Dance, k.Best[routine.Leader]), a.tempoText(k.Dance, k.Best[routine.Follower]), k.Last)
	}
	_ = w.Flush() // a.out keeps its error
}

// tempoText writes a tempo in the unit of its dance; "–" if it is 0.
func (a *app) tempoText(dance string, t routine.Tempo) string {
	if t == 0 {
		return "–"
	}
	if c, ok := a.library.Chapter(dance); ok {
		return roughly(c.Dance, t)
	}
	return strconv.FormatFloat(t.Float(), 'f', 0, 64) + " beats/min"
}

// roughly writes a tempo rounded to a tenth of a bar a minute.
func roughly(d *routine.Dance, t routine.Tempo) string {
	tenth := float64(routine.Tempo(d.Metre.Beats)*routine.BeatPerMinute) / 10
	return d.TempoText(routine.Tempo(math.Round(float64(t)/tenth) * tenth))
}

func (a *app) forgetDiary() *cobra.Command {
	sheet, yes := "", false
	cmd := &cobra.Command{
		Use:   "forget",
		Short: "Delete the diary, or the practices of one sheet",
		Long:  "Forget deletes the practices of all sheets, or of one, and wipes them from the\ndiary's file. At a terminal it asks first.",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if cmd.Flags().Changed("sheet") && sheet == "" {
				return usage(errors.New("--sheet: give a title"))
			}
			d, err := diary.ReadOwn()
			if err != nil {
				return failed(err, wayOut(err))
			}
			if d == nil {
				fmt.Fprintln(a.out, "The diary is empty.")
				return nil
			}
			defer d.Close()
			if ok, err := a.agreesToForget(d, sheet, yes); !ok {
				return err
			}
			n, err := d.Forget(sheet)
			if err != nil {
				return failed(err, wayOut(err))
			}
			fmt.Fprintf(a.out, "Deleted %s.\n", routine.Plural(int(n), "practice"))
			return nil
		},
	}
	cmd.Flags().StringVar(&sheet, "sheet", "", "only the practices of the sheet with this `TITLE`")
	cmd.Flags().BoolVar(&yes, "yes", false, "don't ask")
	return cmd
}

// agreesToForget asks before practices are deleted, unless yes is set.
func (a *app) agreesToForget(d *diary.Diary, sheet string, yes bool) (agreed bool, err error) {
	practices, err := d.Practices(time.Time{})
	if err != nil && !diary.IsDamaged(err) {
		return false, failed(err, wayOut(err))
	}
	n, titles := 0, []string{}
	for _, p := range practices {
		titles = append(titles, p.Sheet.Title)
		if sheet == "" || p.Sheet.Title == sheet {
			n++
		}
	}
	if sheet != "" && n == 0 {
		return false, &failure{exitUsage, fmt.Errorf("the diary has no sheet with the title %q", sheet), perhaps(sheet, titles, "")}
	}
	if yes {
		return true, nil
	}
	if !isTerminal(a.in) {
		return false, &failure{exitUsage, errors.New("can't ask without a terminal"), "--yes deletes without asking"}
	}
	fmt.Fprintf(a.out, "Delete %d of %d practices for good? [y/N] ", n, len(practices))
	if agreed, err = a.saidYes(); err == nil && !agreed {
		fmt.Fprintln(a.out, "Nothing was deleted.")
	}
	return agreed, err
}
