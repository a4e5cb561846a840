package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/songs"
	"dance.example/slowquick/routine"
)

func (a *app) check() *cobra.Command {
	asJSON := false
	cmd := &cobra.Command{
		Use:               "check SHEET…",
		Short:             "Say where sheets can't be danced",
		Long:              "Check reads sheets and says, all at once, where they can't be danced and what a\nteacher would ask. Exit code 0: nothing found, 1: findings.",
		Example:           "  slowquick check lantern-night.md\n  slowquick check --json - < lantern-night.md",
		Args:              sheetArgs(0),
		ValidArgsFunction: a.completeSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			docs, err := a.openAll(args)
			total, code := 0, routine.Code("")
			reports := []fileFindings{}
			for _, d := range docs {
				found := a.checked(cmd.Context(), d)
				total += len(found)
				if asJSON {
					reports = append(reports, fileFindings{d.Name, found})
				} else {
					a.printFindings(a.out, d, found)
					if len(found) == 0 && a.atTerminal() {
						fmt.Fprintf(a.out, "%s: nothing found\n", harmless(d.Name))
					}
				}
				if len(found) > 0 {
					code = found[0].Code
				}
			}
			if asJSON {
				if err := a.printJSON(reports); err != nil {
					return err
				}
			}
			switch {
			case err != nil:
				return err
			case total > 0:
				if !asJSON && a.atTerminal() {
					fmt.Fprintf(a.err, "slowquick: hint: slowquick explain %s says more\n", code)
				}
				return withFindings()
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print findings for programs")
	return cmd
}

// checked returns every finding of a sheet, and where it parts from its song.
func (a *app) checked(ctx context.Context, d sheets.Document) []routine.Finding {
	score, found := check.Sheet(d.Name, d.Text, a.library)
	return routine.Sorted(append(found, songs.Book{Rate: rate}.Findings(ctx, d.Name, d.Path, score)...))
}

// fileFindings is what check --json prints of one sheet.
type fileFindings struct {
	File     string            `json:"file"`
	Findings []routine.Finding `json:"findings"`
}

// MarshalJSON writes no findings as an empty list.
func (f fileFindings) MarshalJSON() ([]byte, error) {
	type plain fileFindings
	if f.Findings == nil {
		f.Findings = []routine.Finding{}
	}
	return json.Marshal(plain(f))
}

func (a *app) printJSON(v any) error {
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	err := enc.Encode(v)
	if err == nil {
		_, err = a.out.raw.Write(escaped(text.Bytes()))
	}
	if err != nil {
		return failed(fmt.Errorf("print: %w", err), "")
	}
	return nil
}

// mostOfAKind is how many findings of one code are printed of a sheet; the rest are counted.
const mostOfAKind = 50

// printFindings prints each finding with the line it is about: a first line for
// editors, the rest for people.
func (a *app) printFindings(w io.Writer, d sheets.Document, found []routine.Finding) {
	lines := strings.Split(strings.ReplaceAll(string(d.Text), "\r\n", "\n"), "\n")
	total := map[routine.Code]int{}
	for _, f := range found {
		if total[f.Code]++; total[f.Code] > mostOfAKind {
			continue
		}
		fmt.Fprintf(w, "%s:%d:%d: %s: %s [%s]\n", harmless(d.Name), f.Span.Start.Line, f.Span.Start.Column, f.Severity, f.Message, f.Code)
		printSpan(w, lines, f.Span)
		if f.Hint != "" {
			a.printAside(w, "hint: "+f.Hint)
		}
		for _, r := range f.Related {
			a.printAside(w, fmt.Sprintf("note: %s (line %d)", r.Message, r.Span.Start.Line))
		}
	}
	for _, code := range slices.Sorted(maps.Keys(total)) {
		if more := total[code] - mostOfAKind; more > 0 {
			fmt.Fprintf(w, "%s: and %d more of this kind [%s]; check --json lists them all\n", d.Name, more, code)
		}
	}
}

// printAside prints what belongs to a finding.
func (a *app) printAside(w io.Writer, text string) {
	const indent, label = "      ", "hint: "
	fmt.Fprintln(w, a.wrapped(text, indent, indent+strings.Repeat(" ", len(label))))
}
