package main

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/console"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/progress"
	"dance.example/slowquick/routine"
)

// howToShow holds the flags of diary.
type howToShow struct {
	weeks                              int
	json, csv, marks, progress, timing bool
	clear                              int // the number of a mark; 0 for none
}

func (a *app) diary() *cobra.Command {
	how := howToShow{weeks: 12}
	cmd := &cobra.Command{
		Use:   "diary",
		Short: "Show what you practised, and how well you know each figure",
		Long: `Diary shows how long you practised in each of the last weeks and, for each figure,
how often you danced it, how often it was clean of the times that you said how it
went ("3 of 5"), the fastest tempo of those, and when you last danced it. What nobody
judged was danced, and no more than that.

--progress draws the last weeks: minutes, marks, the tempo at which each figure was
clean, and how likely you remember it (by FSRS), each with its numbers.

--marks lists what went wrong, until you dance it clean at the tempo at which you
marked it; --clear takes one back by its number in that list.

--timing lists how well you kept time whenever you tapped or clapped the steps.

--csv prints a line for each run-through, for spreadsheets, or with --timing for each
count that you tapped; a text that a spreadsheet would take for a formula gets a '
in front. --json prints everything;
--schema describes it.

The diary is a file of yours on this machine; nothing is sent anywhere.`,
		Example: "  slowquick diary --weeks 52\n  slowquick diary --marks\n  slowquick diary --csv > diary.csv\n  slowquick diary merge /media/stick/diary.db",
		Args:    arguments.None,
		RunE: func(cmd *cobra.Command, _ []string) error {
			switch {
			case how.weeks < 1:
				return outcome.Usage(fmt.Errorf("--weeks: %d; use 1 or more", how.weeks))
			case cmd.Flags().Changed("clear") && how.clear < 1:
				return outcome.Usage(fmt.Errorf("--clear: %d; give the number of a mark in --marks", how.clear))
			}
			return a.showDiary(how)
		},
	}
	cmd.Flags().IntVar(&how.weeks, "weeks", how.weeks, "how many `WEEKS` to show, including this one")
	cmd.Flags().BoolVar(&how.progress, "progress", false, "draw how the last weeks went")
	cmd.Flags().BoolVar(&how.marks, "marks", false, "list what went wrong and was not danced clean since")
	cmd.Flags().BoolVar(&how.timing, "timing", false, "list how well you tapped the steps")
	cmd.Flags().IntVar(&how.clear, "clear", 0, "take back the mark with this `NUMBER` in --marks")
	a.describes(cmd, &how.json, diary.Schema)
	cmd.Flags().BoolVar(&how.csv, "csv", false, "print a line for each run-through, or count tapped")
	cmd.MarkFlagsMutuallyExclusive("json", "csv", "marks", "progress", "schema", "clear")
	for _, other := range []string{"json", "marks", "progress", "schema", "clear"} {
		cmd.MarkFlagsMutuallyExclusive("timing", other)
	}
	cmd.AddCommand(a.forgetDiary(), a.mergeDiary())
	return cmd
}

func (a *app) showDiary(how howToShow) error {
	d, err := diary.ReadOwn()
	if err != nil {
		return outcome.Failed(err, wayOut(err))
	}
	if d != nil {
		defer d.Close()
	} else if a.Hint("the diary is empty; it fills as you dance"); !how.json && !how.csv {
		return nil
	}
	switch {
	case how.csv && how.timing:
		err := d.WriteTimingCSV(a.Out)
		return outcome.Failed(err, wayOut(err))
	case how.csv:
		err := d.WriteCSV(a.Out)
		return outcome.Failed(err, wayOut(err))
	case how.json:
		all, damaged := d.Export(how.weeks, time.Now())
		return a.asFarAsRead(damaged, func() error { return a.PrintJSON(all) })
	case how.marks:
		marks, damaged := d.Marks()
		return a.asFarAsRead(damaged, func() error { report.Marks(a.Page(a.Out), a.Library, marks); return nil })
	case how.progress:
		return a.showProgress(d, how.weeks, time.Now())
	case how.timing:
		list, damaged := d.Timings()
		return a.asFarAsRead(damaged, func() error { report.Timings(a.Page(a.Out), a.Library, list); return nil })
	case how.clear > 0:
		return a.clearMark(d, how.clear)
	}
	r, damaged := d.Report(how.weeks, time.Now())
	timings, alsoDamaged := d.Timings()
	return a.asFarAsRead(cmp.Or(damaged, alsoDamaged), func() error {
		report.Diary(a.Page(a.Out), a.Library, r, timings)
		return nil
	})
}

// clearMark takes back the mark that --marks numbers so.
func (a *app) clearMark(d *diary.Diary, number int) error {
	marks, err := d.Marks()
	if err != nil && !diary.IsDamaged(err) {
		return outcome.Failed(err, wayOut(err))
	}
	if number > len(marks) {
		return outcome.New(exitUsage, fmt.Errorf("--clear: there is no mark %d", number), "slowquick diary --marks lists them")
	}
	m := marks[number-1]
	if _, err := d.TakeBack(m); err != nil {
		return outcome.Failed(err, wayOut(err))
	}
	fmt.Fprintf(a.Out, "No longer marked: %s (%s).\n", harmless.Masked(m.Piece.String()), m.Partner)
	return nil
}

func (a *app) mergeDiary() *cobra.Command {
	return &cobra.Command{
		Use:   "merge FILE",
		Short: "Take over what a diary of another machine has",
		Long: `Merge takes over the practices and run-throughs that the diary in a file has and
yours lacks. Nothing is lost or doubled, however often you merge and in whichever
order. What was taken back in either diary is taken back. The file is only read.`,
		Example: "  slowquick diary merge /media/stick/diary.db",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return outcome.Usage(errors.New("name the file of one diary"))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			d, err := diary.Open(diary.File())
			if err != nil {
				return outcome.Failed(err, wayOut(err))
			}
			defer d.Close()
			m, err := d.Merge(args[0])
			if err == nil || diary.IsDamaged(err) {
				fmt.Fprintln(a.Out, report.Merged(m))
			}
			return outcome.Failed(err, "")
		},
	}
}

func (a *app) forgetDiary() *cobra.Command {
	sheet, yes := "", false
	cmd := &cobra.Command{
		Use:   "forget",
		Short: "Delete the diary, or the practices of one sheet",
		Long:  "Forget deletes the practices of all sheets, or of one, with how their steps were\ntapped, and wipes them from the diary's file. At a terminal it asks first.",
		Args:  arguments.None,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if cmd.Flags().Changed("sheet") && sheet == "" {
				return outcome.Usage(errors.New("--sheet: give a title"))
			}
			d, err := diary.ReadOwn()
			if err != nil {
				return outcome.Failed(err, wayOut(err))
			}
			if d == nil {
				fmt.Fprintln(a.Out, "The diary is empty.")
				return nil
			}
			defer d.Close()
			title, timings, ok, err := a.agreesToForget(d, sheet, yes)
			if !ok {
				return err
			}
			n, err := d.Forget(title)
			if err != nil {
				return outcome.Failed(err, wayOut(err))
			}
			fmt.Fprintf(a.Out, "Deleted %s%s.\n", routine.Plural(int(n), "practice"), withTimings(timings))
			return nil
		},
	}
	cmd.Flags().StringVar(&sheet, "sheet", "", "only the practices of the sheet with this `TITLE`")
	cmd.Flags().BoolVar(&yes, "yes", false, "don't ask")
	return cmd
}

// agreesToForget asks before practices are deleted, unless yes is set. It returns the title as the diary has
// it, "" if all are meant, and how often the steps were tapped.
func (a *app) agreesToForget(d *diary.Diary, sheet string, yes bool) (title string, timings int, agreed bool, err error) {
	practices, err := d.Practices(time.Time{})
	if err != nil && !diary.IsDamaged(err) {
		return "", 0, false, outcome.Failed(err, wayOut(err))
	}
	tapped, err := d.Timings()
	if err != nil && !diary.IsDamaged(err) {
		return "", 0, false, outcome.Failed(err, wayOut(err))
	}
	type counts struct{ practices, timings int }
	times := map[string]counts{}
	for _, p := range practices {
		c := times[p.Sheet.Title]
		times[p.Sheet.Title] = counts{c.practices + 1, c.timings}
	}
	for _, t := range tapped {
		c := times[t.Sheet.Title]
		times[t.Sheet.Title] = counts{c.practices, c.timings + 1}
	}
	titles, n, whose := slices.Sorted(maps.Keys(times)), counts{len(practices), len(tapped)}, ""
	if sheet != "" {
		var ok bool
		if title, ok = titled(sheet, titles); !ok {
			return "", 0, false, outcome.New(exitUsage, fmt.Errorf("the diary has no sheet with the title %q", sheet), outcome.Perhaps(sheet, titles, ""))
		}
		n, whose = times[title], ", those of "+harmless.Masked(title)+","
	}
	if yes {
		return title, n.timings, true, nil
	}
	if !console.IsTerminal(a.In) {
		return "", 0, false, outcome.New(exitUsage, errors.New("can't ask without a terminal"), "--yes deletes without asking")
	}
	fmt.Fprintf(a.Out, "Delete %d of %d practices%s%s for good? [y/N] ", n.practices, len(practices), withTimings(n.timings), whose)
	if agreed, err = a.SaidYes(); err == nil && !agreed {
		fmt.Fprintln(a.Out, "Nothing was deleted.")
	}
	return title, n.timings, agreed, err
}

// withTimings says how often steps were tapped, beside what was danced.
func withTimings(n int) string {
	if n == 0 {
		return ""
	}
	return " and " + routine.Plural(n, "timing")
}

// titled returns which of some titles is meant: the very one or, if it is the only one, one that differs
// only in what names are not compared by, such as case.
func titled(sheet string, titles []string) (title string, ok bool) {
	if slices.Contains(titles, sheet) {
		return sheet, true
	}
	for _, t := range titles {
		if routine.Key(t) == routine.Key(sheet) {
			if ok {
				return "", false
			}
			title, ok = t, true
		}
	}
	return title, ok
}

// showProgress draws how the last weeks went, each picture with its numbers.
func (a *app) showProgress(d *diary.Diary, weeks int, now time.Time) error {
	passes, damaged := d.Passes("")
	danced, alsoDamaged := d.Weeks(weeks, now)
	return a.asFarAsRead(cmp.Or(damaged, alsoDamaged), func() error {
		report.Progress(a.Page(a.Out), a.Library, progress.Over(passes, weeks, now), danced)
		return nil
	})
}
