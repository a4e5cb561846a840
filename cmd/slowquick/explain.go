package main

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/routine"
)

func (a *app) explain() *cobra.Command {
	asJSON := false
	cmd := &cobra.Command{
		Use:   "explain [CODE…]",
		Short: "Explain what a finding means",
		Long:  "Explain says what the code in brackets after a finding means. It shows the shortest\nsheet with that finding, and the sheet corrected. Without a code it lists all codes.",
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return codeNames(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return a.explainAll(asJSON)
			}
			for i, arg := range args {
				code := routine.Code(strings.Trim(arg, "[]"))
				e, ok := routine.Explain(code)
				if !ok {
					return &failure{exitUsage, fmt.Errorf("no finding has the code %q", arg), perhaps(arg, codeNames(), "slowquick explain lists the codes")}
				}
				if asJSON {
					if err := a.printJSON(explained{code, e}); err != nil {
						return err
					}
					continue
				}
				if i > 0 {
					fmt.Fprintln(a.out)
				}
				a.printExplained(explained{code, e})
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return cmd
}

// pageColumns is the width of running text.
const pageColumns = 78

// explained is an explanation as programs read it.
type explained struct {
	Code routine.Code `json:"code"`
	routine.Explanation
}

// printExplained prints an explanation and where its bad sheet has the finding.
func (a *app) printExplained(e explained) {
	fmt.Fprintf(a.out, "%s (%s)\n\n%s\n\nA sheet with this finding:\n\n%s\n", e.Code, e.Severity, ansi.Wordwrap(e.Why, pageColumns, ""), indented(e.Bad))
	_, found := check.Sheet("", []byte(e.Bad), a.library)
	for _, f := range found {
		text := fmt.Sprintf("line %d: %s\n", f.Span.Start.Line, harmless.Masked(f.Message))
		if f.Hint != "" {
			text += "hint: " + harmless.Masked(f.Hint) + "\n"
		}
		fmt.Fprintf(a.out, "%s\n", ansi.Wordwrap(text, pageColumns, ""))
	}
	fmt.Fprintf(a.out, "Corrected:\n\n%s", indented(e.Good))
}

func (a *app) explainAll(asJSON bool) error {
	all := []explained{}
	for _, code := range routine.Codes() {
		e, _ := routine.Explain(code)
		all = append(all, explained{code, e})
	}
	if asJSON {
		return a.printJSON(all)
	}
	for _, e := range all {
		why, _, _ := strings.Cut(e.Why, ". ")
		fmt.Fprintf(a.out, "%-24s %-8s %s\n", e.Code, e.Severity, strings.TrimSuffix(why, ".")+".")
	}
	return nil
}

func codeNames() (names []string) {
	for _, code := range routine.Codes() {
		names = append(names, string(code))
	}
	return names
}

// indented indents a sheet and cuts its long lines.
func indented(sheet string) string {
	var out strings.Builder
	for line := range strings.Lines(sheet) {
		line = harmless.Masked(strings.TrimRight(line, "\n"))
		if r := []rune(line); len(r) > mostColumns {
			line = string(r[:mostColumns]) + " …"
		}
		out.WriteString(strings.TrimRight("    "+line, " ") + "\n")
	}
	return out.String()
}
