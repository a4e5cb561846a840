package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
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
				return usage(errors.New("link takes two figures; put a name of several words in quotes"))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			chapters, err := a.chapters(dance)
			if err != nil {
				return err
			}
			c, ends, err := a.figuresOfOneDance(chapters, args)
			if err != nil {
				return err
			}
			join := choreography.Between(c.Dance, ends[0], ends[1])
			links := join.Link(choreography.UpTo(level, c.Figures), mostLinks)
			if asJSON {
				return a.printJSON(linkReport{c.Dance.Name, ends[0].Name, ends[1].Name, namesOf(links)})
			}
			if len(links) == 0 {
				return &failure{exitFindings, fmt.Errorf("nothing in the library links %s and %s", ends[0].Name, ends[1].Name), "slowquick figures --after NAME shows what can follow, and why the rest can't"}
			}
			a.printLinks(ends, links)
			return nil
		},
	}
	cmd.Flags().StringVar(&dance, "dance", "", "the `DANCE`, if several have both figures")
	cmd.Flags().IntVar(&level, "level", 0, "only figures up to this teaching `LEVEL` between them")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	a.completeDances(cmd)
	return cmd
}

// mostLinks is how many links are printed at most.
const mostLinks = 5

// linkReport is what link --json prints. One empty list of figures says that
// nothing is needed; no list, that nothing links the two.
type linkReport struct {
	Dance  string     `json:"dance"`
	First  string     `json:"first"`
	Second string     `json:"second"`
	Links  [][]string `json:"links"`
}

func namesOf(links [][]*routine.Figure) [][]string {
	all := [][]string{}
	for _, figs := range links {
		names := []string{}
		for _, fig := range figs {
			names = append(names, fig.Name)
		}
		all = append(all, names)
	}
	return all
}

func (a *app) printLinks(ends []*routine.Figure, links [][]*routine.Figure) {
	if len(links[0]) == 0 {
		fmt.Fprintf(a.out, "%s can be danced right after %s.\n", ends[1].Name, ends[0].Name)
		return
	}
	for _, figs := range links {
		fmt.Fprintf(a.out, "%s, then %s, then %s\n", ends[0].Name, choreography.Names(figs), ends[1].Name)
	}
}
