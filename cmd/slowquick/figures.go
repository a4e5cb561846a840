package main

import (
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/report"
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
figure, the easiest first, and in which way if not as charted; --all also says why the
others can't.`,
		Example: "  slowquick figures --dance waltz\n  slowquick figures new york\n  slowquick figures --dance rumba --after fan",
		RunE: func(_ *cobra.Command, words []string) error {
			chapters, err := a.Chapters(dance)
			if err != nil {
				return err
			}
			if beside.asked() {
				if chapters, err = a.besides(&beside, chapters); err != nil {
					return err
				}
			}
			list := []report.Figure{}
			for _, c := range chapters {
				figs := c.Search(words)
				beside.sort(figs)
				for _, fig := range figs {
					if level == 0 || fig.Level == level {
						list = append(list, report.Figure{Entry: c.Entry(fig), Join: beside.join(fig)})
					}
				}
			}
			a.tellOwn()
			if asJSON {
				return a.PrintJSON(list)
			}
			if len(list) == 0 {
				return arguments.NoFigure(chapters, strings.Join(words, " "))
			}
			if beside.asked() {
				if hidden := report.Neighbours(a.Page(a.Out), list, beside.where(), beside.first, beside.all); hidden > 0 {
					a.Hint("--all says why %s can't", routine.Plural(hidden, "other"))
				}
				return nil
			}
			if !report.Figures(a.Page(a.Out), list) {
				a.Hint("slowquick figure NAME shows how a figure starts and ends")
			}
			report.Origins(a.Page(a.Out), list, a.ownFolder)
			return nil
		},
	}
	cmd.Flags().StringVar(&dance, "dance", "", "only figures of this `DANCE`")
	cmd.Flags().IntVar(&level, "level", 0, "only figures of this teaching `LEVEL`")
	cmd.Flags().StringVar(&beside.after, "after", "", "show what can be danced after this `FIGURE`")
	cmd.Flags().StringVar(&beside.before, "before", "", "show what can be danced before this `FIGURE`")
	cmd.Flags().StringVar(&beside.turn, "turn", "", "allow a turn of up to this `AMOUNT` before the first step: 1/8, 1/4 …")
	cmd.Flags().BoolVar(&beside.all, "all", false, "with --after or --before, say why the other figures can't be danced there")
	a.printsJSON(cmd, &asJSON)
	a.CompleteDances(cmd)
	return cmd
}

// tellOwn prints the findings in the dancer's own figures.
func (a *app) tellOwn() {
	for _, o := range a.Library.Own() {
		path := filepath.Join(a.ownFolder, o.File)
		a.Warn(o.Err)
		report.Findings(a.Page(a.Err), sheets.Document{Name: path, Path: path, Text: o.Text}, routine.Objections(o.Findings))
	}
}
