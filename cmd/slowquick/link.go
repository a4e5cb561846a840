package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/library/choreography"
)

func (a *app) link() *cobra.Command {
	var dance string
	var level int
	asJSON := false
	cmd := &cobra.Command{
		Use:   "link FIGURE FIGURE",
		Short: "Find what to dance between two figures",
		Long: `Link finds the shortest chains of figures that lead from the first figure to the
second, so that free feet, hold, directions, counts and places all agree. The
easiest chain comes first.`,
		Example: "  slowquick link --dance rumba fan 'natural top'",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return outcome.Usage(errors.New("link takes two figures; put a name of several words in quotes"))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			chapters, err := a.Chapters(dance)
			if err != nil {
				return err
			}
			c, ends, err := a.FiguresOfOneDance(chapters, args)
			if err != nil {
				return err
			}
			join := choreography.Between(c.Dance, ends[0], ends[1])
			links := join.LinkParts(choreography.UpTo(level, c.Figures), mostLinks)
			if asJSON {
				return a.PrintJSON(report.Linked{Dance: c.Dance.Name, First: ends[0].Name, Second: ends[1].Name, Links: report.Names(links)})
			}
			if len(links) == 0 {
				return outcome.New(exitFindings, fmt.Errorf("nothing in the library links %s and %s", ends[0].Name, ends[1].Name), "slowquick figures --after NAME shows what can follow, and why the rest can't")
			}
			report.Links(a.Page(a.Out), ends, links)
			return nil
		},
	}
	cmd.Flags().StringVar(&dance, "dance", "", "the `DANCE`, if several have both figures")
	cmd.Flags().IntVar(&level, "level", 0, "only figures up to this teaching `LEVEL` between them")
	a.printsJSON(cmd, &asJSON)
	a.CompleteDances(cmd)
	return cmd
}

// mostLinks is how many links are printed at most.
const mostLinks = 5
