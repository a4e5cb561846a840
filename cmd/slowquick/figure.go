package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine/floor"
)

func (a *app) figure() *cobra.Command {
	var dance string
	asJSON := false
	cmd := &cobra.Command{
		Use:     "figure NAME",
		Short:   "Show a figure's chart and plan",
		Long:    "Figure shows a figure's chart and a plan of the floor: where both partners are after\nthe last step and where they came from, seen from behind the leader at the start.",
		Example: "  slowquick figure natural turn\n  slowquick figure --dance rumba fan",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usage(fmt.Errorf("name a figure"))
			}
			return nil
		},
		ValidArgsFunction: func(_ *cobra.Command, _ []string, prefix string) (names []string, _ cobra.ShellCompDirective) {
			chapters, _ := a.chapters(dance) // an unknown dance completes nothing
			for _, c := range chapters {
				for _, fig := range c.Figures {
					if strings.HasPrefix(strings.ToLower(fig.Name), strings.ToLower(prefix)) {
						names = append(names, fig.Name)
					}
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, words []string) error {
			name := strings.Join(words, " ")
			chapters, err := a.chapters(dance)
			if err != nil {
				return err
			}
			entries, paths := []library.Entry{}, []*floor.Path{}
			for _, c := range chapters {
				if fig, ok := a.library.Figure(c.Dance, name); ok {
					entries = append(entries, c.Entry(fig))
					paths = append(paths, floor.Trace(fig.Alone(c.Dance, c.Dance.Stride, fig.Starts.Positions)))
				}
			}
			if len(entries) == 0 {
				return a.knows(chapters, name)
			}
			if asJSON {
				return a.printJSON(entries)
			}
			for i, e := range entries {
				if i > 0 {
					fmt.Fprintln(a.out)
				}
				a.printFigure(e, paths[i])
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&dance, "dance", "", "the `DANCE`, if several have a figure of that name")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	a.completeDances(cmd)
	return cmd
}

func (a *app) printFigure(e library.Entry, path *floor.Path) {
	fmt.Fprintf(a.out, "%s (%s)\n", e.Name, e.Dance)
	facts := []struct{ name, value string }{
		{"also called", strings.Join(e.AlsoNamed, ", ")}, {"level", fmt.Sprint(e.Level)},
		{"starts", e.Starts}, {"ends", e.Ends}, {"floor", path.Summary()}, {"source", e.Source}, {"file", e.File},
	}
	for _, f := range facts {
		if f.value != "" && f.value != "0" {
			fmt.Fprintf(a.out, "  %s: %s\n", f.name, f.value)
		}
	}
	fmt.Fprintln(a.out)
	var text strings.Builder
	w := tabwriter.NewWriter(&text, 0, 0, 3, ' ', 0)
	fmt.Fprintln(w, "  STEP\tCOUNT\tLEADER\tFOLLOWER")
	for i, r := range e.Rows {
		fmt.Fprintf(w, "  %d\t%s\t%s\t%s\n", i+1, r.Count, r.Leader, r.Follower)
	}
	_ = w.Flush() // a builder takes everything
	chart := strings.Split(strings.TrimSuffix(text.String(), "\n"), "\n")
	scene := plan.Scene{Path: path, Danced: len(e.Rows), Shown: [2]bool{true, true}}
	drawn := append(plan.Text(plan.Dots(scene, planWidth, planHeight)), "after the last step, "+scene.View.Of(scene.Shown))
	fmt.Fprintln(a.out, strings.Join(term.Beside(chart, drawn, planWidth, a.columns()), "\n"))
}

// The size of a plan beside a chart, in cells.
const planWidth, planHeight = 36, 14
