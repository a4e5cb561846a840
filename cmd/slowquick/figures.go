package main

import (
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/routine"
)

func (a *app) figures() *cobra.Command {
	var dance string
	var level int
	var beside beside
	asJSON := false
	cmd := &cobra.Command{
		Use:   "figures [WORDS]",
		Short: "Search the library's figures, and find what can follow what",
		Long: `Figures lists the figures of the library whose names or dance contain all WORDS.
With --after or --before it shows which of them can be danced after or before a
figure, and why the others can't.`,
		Example: "  slowquick figures --dance waltz\n  slowquick figures new york\n  slowquick figures --dance rumba --after fan",
		RunE: func(_ *cobra.Command, words []string) error {
			chapters, err := a.chapters(dance)
			if err != nil {
				return err
			}
			if beside.asked() {
				if chapters, err = a.besides(&beside, chapters); err != nil {
					return err
				}
			}
			list := []figureEntry{}
			for _, c := range chapters {
				for _, fig := range c.Search(words) {
					if level == 0 || fig.Level == level {
						list = append(list, figureEntry{c.Entry(fig), beside.join(fig)})
					}
				}
			}
			a.tellOwn()
			if asJSON {
				return a.printJSON(list)
			}
			if len(list) == 0 {
				return &failure{exitFindings, fmt.Errorf("no figure is called %q", strings.Join(words, " ")), "slowquick figures lists them all"}
			}
			if beside.asked() {
				a.printNeighbours(&beside, list)
			} else {
				a.printFigures(list)
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&dance, "dance", "", "only figures of this `DANCE`")
	cmd.Flags().IntVar(&level, "level", 0, "only figures of this teaching `LEVEL`")
	cmd.Flags().StringVar(&beside.after, "after", "", "show what can be danced after this `FIGURE`")
	cmd.Flags().StringVar(&beside.before, "before", "", "show what can be danced before this `FIGURE`")
	cmd.Flags().StringVar(&beside.turn, "turn", "", "allow a turn of up to this `AMOUNT` before the first step: 1/8, 1/4 …")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	a.completeDances(cmd)
	return cmd
}

func (a *app) printFigures(list []figureEntry) {
	rows := [][]string{{"DANCE", "FIGURE", "LEVEL", "COUNT", "STARTS", "ENDS"}}
	for _, e := range list {
		rows = append(rows, []string{e.Dance, e.Name, strconv.Itoa(e.Level), strings.Join(e.Counts, " "), e.Starts, e.Ends})
	}
	all, width := len(rows[0]), math.MaxInt
	columns := all
	if a.atTerminal() {
		width = a.columns()
	}
	lines := term.Table(rows, nil, width)
	for lines == nil {
		if columns--; columns == 3 {
			width = math.MaxInt
		}
		for i := range rows {
			rows[i] = rows[i][:columns]
		}
		lines = term.Table(rows, nil, width)
	}
	fmt.Fprintln(a.out, strings.Join(lines, "\n"))
	if columns < all {
		fmt.Fprintln(a.err, "slowquick: hint: slowquick figure NAME shows how a figure starts and ends")
	}
	a.printOrigins(list)
}

// printOrigins says which figures are the dancer's own, and which they replace.
func (a *app) printOrigins(list []figureEntry) {
	before := "\n"
	for _, e := range list {
		if e.File == "" {
			continue
		}
		instead := ""
		if e.Overrides != "" {
			instead = ", in place of the one in " + e.Overrides
		}
		fmt.Fprintf(a.out, "%s%s is from %s%s\n", before, e.Name, harmless.Masked(filepath.Join(a.ownFolder, e.File)), instead)
		before = ""
	}
}

// tellOwn prints the findings in the dancer's own figures.
func (a *app) tellOwn() {
	for _, o := range a.library.Own() {
		path := filepath.Join(a.ownFolder, o.File)
		a.warn(o.Err)
		a.printFindings(a.err, sheets.Document{Name: path, Path: path, Text: o.Text}, routine.Objections(o.Findings))
	}
}
