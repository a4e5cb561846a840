package main

import (
	"errors"
	"fmt"
	"io/fs"
	"time"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/lessons"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

func (a *app) class() *cobra.Command {
	var had []string
	on, asJSON := "", false
	cmd := &cobra.Command{
		Use:   "class [NAME]",
		Short: "Keep what a class has learnt, and say what to revise",
		Long: `Class keeps which figures a class has had, and when; no names of people. --had adds
the figures of a lesson's sheet. It lists what the class knows, the soonest to revise
first: when one in ten is likely to have forgotten it, by FSRS (Free Spaced
Repetition Scheduler) from the days on which the class had it.

A class is a text file of yours, ` + "`slowquick/classes/NAME.txt`" + ` in your data folder,
which you can edit. Without a name it lists the classes.

compose --known NAME suggests a routine of what the class knows.`,
		Example: "  slowquick class 'Lantern Night' --had lantern-night-rumba --on 2026-09-04\n  slowquick class 'Lantern Night'\n  slowquick compose --dance rumba --known 'Lantern Night'",
		Args:    cobra.MaximumNArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			names, _ := lessons.Names() // none if they can't be read
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case len(args) > 0 && len(had) > 0:
				if err := a.hasHad(args[0], had, on); err != nil {
					return err
				}
			case len(had) > 0 || on != "" && len(args) == 0:
				return outcome.Usage(errors.New("name a class"))
			case on != "":
				return outcome.Usage(errors.New("--on goes with --had"))
			case len(args) == 0 && asJSON:
				return outcome.Usage(errors.New("--json goes with a class: name it"))
			case len(args) == 0:
				return a.printClasses()
			}
			list, err := a.lessonsOf(args[0])
			if err != nil {
				return err
			}
			if asJSON {
				return a.PrintJSON(report.KnownTo(list, time.Now()))
			}
			report.Class(a.Page(a.Out), args[0], list, time.Now())
			return nil
		},
	}
	cmd.Flags().StringArrayVar(&had, "had", nil, "add the figures of a `SHEET` to what the class has had")
	cmd.Flags().StringVar(&on, "on", "", "the `DATE` of the lesson, 2026-09-04; if not given, today")
	a.printsJSON(cmd, &asJSON)
	_ = cmd.RegisterFlagCompletionFunc("had", a.CompleteSheets) // fails only for a flag that does not exist
	return cmd
}

// lessonsOf reads a class.
func (a *app) lessonsOf(name string) ([]lessons.Had, error) {
	list, err := lessons.Read(name)
	if errors.Is(err, fs.ErrNotExist) {
		names, _ := lessons.Names() // none if they can't be read
		return nil, outcome.Failed(fmt.Errorf("no class is called %q", name), outcome.Perhaps(name, names, "slowquick class NAME --had SHEET begins one"))
	}
	return list, outcome.Failed(err, "")
}

// hasHad adds a lesson to a class: the figures of some sheets.
func (a *app) hasHad(name string, sheets []string, on string) error {
	day := time.Now()
	if on != "" {
		var err error
		if day, err = time.Parse(time.DateOnly, on); err != nil {
			return outcome.New(exitUsage, fmt.Errorf("--on: %q is not a date", on), "write it as 2026-09-04")
		}
		if practice.DayOf(day) > practice.DayOf(time.Now()) {
			return outcome.Usage(fmt.Errorf("--on: %s is in the future", on))
		}
	}
	list, err := lessons.Read(name)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return outcome.Failed(err, "nothing was added")
	}
	var lesson []lessons.Had
	for _, sheet := range sheets {
		s, err := a.Danceable(sheet)
		if err != nil {
			return err
		}
		lesson = append(lesson, lessons.Lesson(append(list, lesson...), s.Timeline.Score, day)...)
	}
	return outcome.Failed(lessons.Keep(name, lesson), "nothing was added")
}

func (a *app) printClasses() error {
	names, err := lessons.Names()
	if err != nil {
		return outcome.Failed(err, "")
	}
	for _, name := range names {
		list, err := lessons.Read(name)
		if err != nil {
			a.Warn(err)
			continue
		}
		fmt.Fprintf(a.Out, "%s: %s in %s\n", harmless.Masked(name), routine.Plural(len(lessons.Knows(list)), "figure"), routine.Plural(lessons.Days(list), "lesson"))
	}
	if len(names) == 0 {
		a.Hint("there is no class yet; slowquick class NAME --had SHEET begins one")
	}
	return nil
}
