package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/songs"
	"dance.example/slowquick/routine"
)

func (a *app) check() *cobra.Command {
	asJSON := false
	cmd := &cobra.Command{
		Use:               "check SHEET|FOLDER…",
		Short:             "Check sheets for mistakes",
		Long:              "Check reads sheets and lists all that can't be danced or that a teacher would question.\nOf a folder it reads the sheets that the list shows.\nNotes say what was understood where that is worth knowing.\nExit code 0: nothing found, or only notes, 1: errors or warnings.",
		Example:           "  slowquick check lantern-night.md\n  slowquick check --json - < lantern-night.md",
		Args:              arguments.Sheets(0),
		ValidArgsFunction: a.CompleteSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			docs, err := a.OpenAll(args)
			total, code := 0, routine.Code("")
			reports := []fileFindings{}
			for _, d := range docs {
				found := a.checked(cmd.Context(), d)
				bad := routine.Objections(found)
				total += len(bad)
				if asJSON {
					reports = append(reports, fileFindings{d.Name, append([]routine.Finding{}, found...)})
				} else {
					report.Findings(a.Page(a.Out), d, found)
					if len(found) == 0 && a.AtTerminal() {
						fmt.Fprintf(a.Out, "%s: nothing found\n", harmless.Masked(d.Name))
					}
				}
				if len(bad) > 0 {
					code = bad[0].Code
				}
			}
			if asJSON {
				if err := a.PrintJSON(reports); err != nil {
					return err
				}
			}
			switch {
			case err != nil:
				return err
			case total > 0:
				if !asJSON && a.AtTerminal() {
					a.Hint("slowquick explain %s tells you more", code)
				}
				return outcome.WithFindings()
			}
			return nil
		},
	}
	a.printsJSON(cmd, &asJSON)
	return cmd
}

// checked returns the findings of a sheet, including where it doesn't fit its song.
func (a *app) checked(ctx context.Context, d sheets.Document) []routine.Finding {
	score, found := check.Sheet(d.Name, d.Text, a.Library)
	return routine.Sorted(append(found, songs.Book{Rate: rate}.Findings(ctx, d.Name, d.Path, score)...))
}

// fileFindings is what check --json prints of a sheet; its list of findings may be empty, not null.
type fileFindings struct {
	File     string            `json:"file"`
	Findings []routine.Finding `json:"findings"`
}
