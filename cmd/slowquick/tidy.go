package main

import (
	"bytes"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// understood returns the findings that say what was read as it was meant.
func understood(found []routine.Finding) []routine.Finding {
	return slices.DeleteFunc(found, func(f routine.Finding) bool { return f.Code != "loose-form" })
}

func (a *app) tidy() *cobra.Command {
	show, only := false, false
	cmd := &cobra.Command{
		Use:   "tidy SHEET|FOLDER…",
		Short: "Reformat sheets",
		Long: `Tidy aligns the charts of sheets and spells out counts, steps, positions and the
order. What is clear but not in form, such as a heading without its space or rows
from a spreadsheet, it writes as it is read, and says so. It leaves prose and
comments alone and never changes what is danced. It changes files in place, each as a whole or not at all, and prints their names. A
sheet that can't be read stays as it is. A folder stands for its sheets.`,
		Example:           "  slowquick tidy lantern-night.md\n  slowquick tidy - < notes.md > lantern-night.md",
		Args:              arguments.Sheets(0),
		ValidArgsFunction: a.CompleteSheets,
		RunE: func(_ *cobra.Command, args []string) error {
			docs, err := a.OpenAll(args)
			untidy := false
			for _, d := range docs {
				text, found := routine.Tidy(d.Name, d.Text, a.Library)
				if routine.HasErrors(found) {
					report.Findings(a.Page(a.Err), d, found)
					a.Hint("%s was not changed; correct these findings first", d.Name)
					untidy = true
					continue
				}
				same := bytes.Equal(text, d.Text)
				switch {
				case only:
					if !same {
						fmt.Fprintln(a.Out, harmless.Masked(d.Name))
						untidy = true
					}
				case show || d.Path == "":
					report.Findings(a.Page(a.Err), d, understood(found))
					_, _ = a.Out.Write(text) // a.Out keeps its error
				case !same:
					report.Findings(a.Page(a.Err), d, understood(found))
					if err := store.WriteWhole(d.Path, func(w io.Writer) error { _, err := w.Write(text); return err }); err != nil {
						return outcome.Failed(err, "the file was not changed")
					}
					fmt.Fprintln(a.Out, harmless.Masked(d.Name))
				}
			}
			switch {
			case err != nil:
				return err
			case untidy:
				return outcome.WithFindings()
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&show, "print", false, "print the tidied sheets and leave the files alone")
	cmd.Flags().BoolVar(&only, "list", false, "only list the sheets that aren't tidy; exit code 1 if there are any")
	return cmd
}
