package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine/floor"
)

func (a *app) writePlan() *cobra.Command {
	var to target
	var how howToDance
	var from string
	cmd := &cobra.Command{
		Use:               "plan SHEET -o FILE",
		Short:             "Write where both partners' feet go, as a drawing (SVG) to print",
		Long:              "Plan draws both partners' feet, figure by figure, and the way through the room. It is\nas wide as fits on A4 and on Letter.",
		Example:           "  slowquick write plan lantern-night.md -o plan.svg",
		Args:              sheetArgs(1),
		ValidArgsFunction: a.completeSheets,
		RunE: func(_ *cobra.Command, args []string) error {
			if _, err := a.format(to); err != nil {
				return err
			}
			view, err := viewOf(from)
			if err != nil {
				return err
			}
			shown, err := how.shown()
			if err != nil {
				return err
			}
			d, err := a.open(args[0])
			if err != nil {
				return err
			}
			score, err := a.score(d)
			if err != nil {
				return err
			}
			a.inputs = append(a.inputs, d.Path)
			paper := plan.Paper{Shown: shown, View: view}
			return a.writeTo(to, func(w io.Writer) error { return paper.SVG(w, floor.Trace(score)) })
		},
	}
	to.flags(cmd, format{"SVG", []string{".svg"}, false})
	how.sideFlag(cmd)
	cmd.Flags().StringVar(&from, "view", "behind", "where the figures are seen from, the `VIEW`: behind the leader, or the follower with --side follower; opposite; or above")
	complete(cmd, "view", views[:]...)
	return cmd
}

// views are the words for where one looks from.
var views = [plan.Views]string{plan.Behind: "behind", plan.Opposite: "opposite", plan.Above: "above"}

func viewOf(word string) (plan.View, error) {
	for v, w := range views {
		if w == word {
			return plan.View(v), nil
		}
	}
	return 0, usage(fmt.Errorf("--view: %q is not behind, opposite or above", word))
}
