package report

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine/floor"
)

// Chart prints a figure with its chart and a plan of the floor.
func Chart(p Page, e library.Entry, path *floor.Path) {
	fmt.Fprintf(p, "%s (%s)\n", e.Name, e.Dance)
	facts := []struct{ name, value string }{
		{"also called", strings.Join(e.AlsoNamed, ", ")}, {"level", fmt.Sprint(e.Level)},
		{"starts", e.Starts}, {"ends", e.Ends}, {"or", strings.Join(e.Ways, "; ")}, {"parts", strings.Join(e.Parts, ", ")},
		{"begun", strings.Join(e.Begun, ", ")}, {"family", e.Family}, {"floor", path.Summary()}, {"source", e.Source}, {"file", e.File},
	}
	for _, f := range facts {
		if f.value != "" && f.value != "0" {
			fmt.Fprintf(p, "  %s: %s\n", f.name, f.value)
		}
	}
	fmt.Fprintln(p)
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
	fmt.Fprintln(p, strings.Join(term.Beside(chart, drawn, planWidth, p.Columns), "\n"))
}

// The size of a plan beside a chart, in cells.
const planWidth, planHeight = 36, 14
