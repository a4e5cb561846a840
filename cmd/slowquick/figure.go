package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/cmd/slowquick/writing"
	"dance.example/slowquick/library"
	"dance.example/slowquick/routine/floor"
)

func (a *app) figure() *cobra.Command {
	var dance string
	var picture writing.Figure
	asJSON := false
	cmd := &cobra.Command{
		Use:   "figure NAME",
		Short: "Show a figure's chart and plan",
		Long: `Figure shows a figure's chart and a plan of the floor: where both partners are after
the last step and where they came from, seen from behind the leader at the start.
With -o it writes the figure as a drawing or, as .gif, as a picture in which the couple
moves at the dance's usual tempo.`,
		Example: "  slowquick figure natural turn\n  slowquick figure --dance rumba fan -o fan.gif",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return outcome.Usage(fmt.Errorf("name a figure"))
			}
			return nil
		},
		ValidArgsFunction: func(_ *cobra.Command, _ []string, prefix string) (names []string, _ cobra.ShellCompDirective) {
			chapters, _ := a.Chapters(dance) // an unknown dance completes nothing
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
			chapters, err := a.Chapters(dance)
			if err != nil {
				return err
			}
			entries, paths := []library.Entry{}, []*floor.Path{}
			for _, c := range chapters {
				if fig, ok := a.Library.Figure(c.Dance, name); ok {
					entries = append(entries, c.Entry(fig))
					paths = append(paths, floor.Trace(fig.Alone(c.Dance, c.Dance.Stride, fig.Starts.Positions)))
				}
			}
			if len(entries) == 0 {
				return a.Knows(chapters, name)
			}
			if picture.Asked() {
				return picture.Write(a.Reader, paths)
			}
			if asJSON {
				return a.PrintJSON(entries)
			}
			for i, e := range entries {
				if i > 0 {
					fmt.Fprintln(a.Out)
				}
				report.Chart(a.Page(a.Out), e, paths[i])
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&dance, "dance", "", "the `DANCE`, if several have a figure of that name")
	a.printsJSON(cmd, &asJSON)
	picture.Flags(cmd)
	a.CompleteDances(cmd)
	return cmd
}
