package main

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/glossary"
)

// explainSchema is the JSON Schema (draft 2020-12) of what explain --json prints.
//
//go:embed explain.schema.json
var explainSchema []byte

func (a *app) explain() *cobra.Command {
	asJSON, schema := false, false
	cmd := &cobra.Command{
		Use:     "explain [CODE…]",
		Short:   "Explain what a finding means",
		Long:    "Explain says what the code in brackets after a finding means. It shows the shortest\nsheet with that finding, and the sheet corrected; of an unknown word it lists the known ones.\nWithout a code it lists all codes.",
		Example: "  slowquick explain unknown-column\n  slowquick explain --json foot-not-free join-foot",
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return codeNames(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if schema {
				return a.printSchema(explainSchema, args)
			}
			list, err := a.explained(args)
			switch {
			case err != nil:
				return err
			case asJSON:
				return a.printJSON(list)
			case len(args) == 0:
				a.listCodes(list)
			}
			for i, e := range list[:len(args)] {
				if i > 0 {
					fmt.Fprintln(a.out)
				}
				a.printExplained(e)
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	cmd.Flags().BoolVar(&schema, "schema", false, "print the JSON Schema of --json")
	cmd.MarkFlagsMutuallyExclusive("json", "schema")
	return cmd
}

// pageColumns is the width of running text.
const pageColumns = 78

// explained is an explanation as programs read it.
type explained struct {
	Code routine.Code `json:"code"`
	routine.Explanation
	Words []string `json:"words,omitempty"` // that are known in its place
}

// explained returns the explanations of codes, or of all.
func (a *app) explained(args []string) (list []explained, err error) {
	if len(args) == 0 {
		args = codeNames()
	}
	for _, arg := range args {
		code := routine.Code(strings.Trim(arg, "[]"))
		e, ok := routine.Explain(code)
		if !ok {
			return nil, &failure{exitUsage, fmt.Errorf("no finding has the code %q", arg), perhaps(arg, codeNames(), "slowquick explain lists the codes")}
		}
		_, groups := a.wordsFor(code)
		list = append(list, explained{code, e, namesIn(groups)})
	}
	return list, nil
}

// places has, for findings of something unknown, the part of the vocabulary whose words may stand there, and how the
// names of its groups begin; "" for all.
var places = map[routine.Code][][2]string{
	"count-unreadable":  {{"counts", ""}},
	"turn-unreadable":   {{"steps", "How far"}},
	"unknown-column":    {{"facts", "Columns"}},
	"unknown-dance":     {{"dances", ""}},
	"unknown-direction": {{"positions", "Directions"}},
	"unknown-fact":      {{"facts", "Above"}},
	"unknown-setting":   {{"facts", "At the top"}, {"facts", "Below"}},
	"unknown-word":      {{"steps", ""}, {"positions", ""}},
}

// wordsFor returns the words that may stand where a code finds something unknown, and the parts of the vocabulary
// in which they are; nil for other codes.
func (a *app) wordsFor(code routine.Code) (parts []string, groups []glossary.Group) {
	for _, place := range places[code] {
		part, _ := a.parts(place[:1]) // which all exist
		for _, g := range part[0].Groups {
			if strings.HasPrefix(g.Name, place[1]) {
				groups = append(groups, g)
			}
		}
		if !slices.Contains(parts, place[0]) {
			parts = append(parts, place[0])
		}
	}
	return parts, groups
}

// namesIn returns the words of groups, each once.
func namesIn(groups []glossary.Group) (names []string) {
	for _, g := range groups {
		for _, w := range g.Words {
			if !slices.Contains(names, w.Word) {
				names = append(names, w.Word)
			}
		}
	}
	return names
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
	if parts, groups := a.wordsFor(e.Code); groups != nil {
		a.printWords(parts, groups)
	}
}

// printWords prints the words that are known in the place of a finding.
func (a *app) printWords(parts []string, groups []glossary.Group) {
	const indent = "    "
	lines := term.Words("What can be written there (slowquick words "+strings.Join(parts, " ")+" says what it means):", pageColumns)
	fmt.Fprintf(a.out, "\n%s\n\n", strings.Join(lines, "\n"))
	for _, g := range groups {
		names := namesIn([]glossary.Group{g})
		for i, name := range names {
			if strings.Contains(name, ",") {
				names[i] = strconv.Quote(name)
			}
		}
		text := strings.Join(names, ", ")
		if len(groups) > 1 {
			text = g.Name + ": " + text
		}
		for i, line := range term.Words(harmless.Masked(text), pageColumns-2*len(indent)) {
			if i > 0 {
				line = "  " + line
			}
			fmt.Fprintln(a.out, indent+line)
		}
	}
}

// listCodes prints codes with the first sentence of their explanations.
func (a *app) listCodes(all []explained) {
	for _, e := range all {
		why, _, _ := strings.Cut(e.Why, ". ")
		fmt.Fprintf(a.out, "%-24s %-8s %s\n", e.Code, e.Severity, strings.TrimSuffix(why, ".")+".")
	}
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
