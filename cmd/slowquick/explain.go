package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/routine"
)

func (a *app) explain() *cobra.Command {
	asJSON := false
	cmd := &cobra.Command{
		Use:     "explain [CODE…]",
		Short:   "Explain what a finding means",
		Long:    "Explain says what the code in brackets after a finding means. It shows the shortest\nsheet with that finding, and the sheet corrected; of an unknown word it lists the known ones.\nWithout a code it lists all codes.",
		Example: "  slowquick explain unknown-column\n  slowquick explain --json foot-not-free join-foot",
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return codeNames(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			list, err := a.explained(args)
			switch {
			case err != nil:
				return err
			case asJSON:
				return a.PrintJSON(list)
			case len(args) == 0:
				report.Codes(a.Page(a.Out), list)
			}
			for i, e := range list[:len(args)] {
				if i > 0 {
					fmt.Fprintln(a.Out)
				}
				report.Explanation(a.Page(a.Out), a.Library, e)
			}
			return nil
		},
	}
	a.printsJSON(cmd, &asJSON)
	return cmd
}

// explained returns the explanations of codes, or of all.
func (a *app) explained(args []string) (list []report.Explained, err error) {
	if len(args) == 0 {
		args = codeNames()
	}
	for _, arg := range args {
		code := routine.Code(strings.Trim(arg, "[]"))
		e, ok := report.Explain(a.Library, code)
		if !ok {
			return nil, outcome.New(exitUsage, fmt.Errorf("no finding has the code %q", arg), outcome.Perhaps(arg, codeNames(), "slowquick explain lists the codes"))
		}
		list = append(list, e)
	}
	return list, nil
}

func codeNames() (names []string) {
	for _, code := range routine.Codes() {
		names = append(names, string(code))
	}
	return names
}
