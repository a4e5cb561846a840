package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/glossary"
)

// TextColumns is the width of running text.
const TextColumns = 78

// Explained is an explanation as programs read it.
type Explained struct {
	Code routine.Code `json:"code"`
	routine.Explanation
	Words []string `json:"words,omitempty"` // that are known in its place
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
func wordsFor(l *library.Library, code routine.Code) (parts []string, groups []glossary.Group) {
	for _, place := range places[code] {
		part, _ := l.Words(place[0]) // which all exist
		for _, g := range part.Groups {
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

// Explanation prints an explanation and where its bad sheet has the finding.
func Explanation(p Page, l *library.Library, e Explained) {
	fmt.Fprintf(p, "%s (%s)\n\n%s\n\nA sheet with this finding:\n\n%s\n", e.Code, e.Severity, ansi.Wordwrap(e.Why, TextColumns, ""), indented(e.Bad))
	_, found := check.Sheet("", []byte(e.Bad), l)
	for _, f := range found {
		text := fmt.Sprintf("line %d: %s\n", f.Span.Start.Line, harmless.Masked(f.Message))
		if f.Hint != "" {
			text += "hint: " + harmless.Masked(f.Hint) + "\n"
		}
		fmt.Fprintf(p, "%s\n", ansi.Wordwrap(text, TextColumns, ""))
	}
	fmt.Fprintf(p, "Corrected:\n\n%s", indented(e.Good))
	if parts, groups := wordsFor(l, e.Code); groups != nil {
		printKnownWords(p, parts, groups)
	}
}

// printKnownWords prints the words that are known in the place of a finding.
func printKnownWords(p Page, parts []string, groups []glossary.Group) {
	const indent = "    "
	lines := term.Words("What can be written there (slowquick words "+strings.Join(parts, " ")+" says what it means):", TextColumns)
	fmt.Fprintf(p, "\n%s\n\n", strings.Join(lines, "\n"))
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
		for i, line := range term.Words(harmless.Masked(text), TextColumns-2*len(indent)) {
			if i > 0 {
				line = "  " + line
			}
			fmt.Fprintln(p, indent+line)
		}
	}
}

// Codes prints codes with the first sentence of their explanations.
func Codes(p Page, all []Explained) {
	for _, e := range all {
		why, _, _ := strings.Cut(e.Why, ". ")
		fmt.Fprintf(p, "%-24s %-8s %s\n", e.Code, e.Severity, strings.TrimSuffix(why, ".")+".")
	}
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

// Explain returns the explanation of a code, with the words that are known in its place.
func Explain(l *library.Library, code routine.Code) (Explained, bool) {
	e, ok := routine.Explain(code)
	_, groups := wordsFor(l, code)
	return Explained{code, e, namesIn(groups)}, ok
}
