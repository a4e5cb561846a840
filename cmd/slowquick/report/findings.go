package report

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/routine"
	"github.com/mattn/go-runewidth"
)

// mostOfAKind is how many findings with one code are printed for a sheet; the rest are counted.
const mostOfAKind = 50

// Findings prints each finding and its line of the sheet. Its first line has the form that
// editors read.
func Findings(p Page, d sheets.Document, found []routine.Finding) {
	lines := routine.Lines(d.Text)
	total := map[routine.Code]int{}
	for _, f := range found {
		if total[f.Code]++; total[f.Code] > mostOfAKind {
			continue
		}
		code := ""
		if f.Code != "" {
			code = fmt.Sprintf(" [%s]", f.Code)
		}
		fmt.Fprintf(p, "%s:%d:%d: %s: %s%s\n", harmless.Masked(d.Name), f.Span.Start.Line, f.Span.Start.Column, f.Severity, f.Message, code)
		printSpan(p, lines, f.Span)
		if f.Hint != "" {
			printAside(p, "hint: "+f.Hint)
		}
		for _, r := range f.Related {
			printAside(p, fmt.Sprintf("note: %s (line %d)", r.Message, r.Span.Start.Line))
		}
	}
	for _, code := range slices.Sorted(maps.Keys(total)) {
		if more := total[code] - mostOfAKind; more > 0 {
			fmt.Fprintf(p, "%s: and %d more of this kind [%s]; check --json lists them all\n", d.Name, more, code)
		}
	}
}

// printAside prints a hint or a note below its finding.
func printAside(p Page, text string) {
	const indent, label = "      ", "hint: "
	fmt.Fprintln(p, p.Wrapped(text, indent, indent+strings.Repeat(" ", len(label))))
}

// mostColumns is how much of a long line of a sheet is printed.
const mostColumns = 160

// printSpan prints the line in which a span begins, and marks the span below it.
func printSpan(p io.Writer, lines []string, s routine.Span) {
	if s.Start.Line < 1 || s.Start.Line > len(lines) {
		return
	}
	line := []rune(harmless.Masked(lines[s.Start.Line-1]))
	from := min(s.Start.Column-1, len(line))
	to := len(line)
	if s.End.Line == s.Start.Line {
		to = min(max(s.End.Column-1, from), len(line))
	}
	if to > mostColumns {
		return // a line that nobody wrote by hand
	}
	width := runewidth.Condition{}
	before, marked := width.StringWidth(string(line[:from])), width.StringWidth(string(line[from:to]))
	fmt.Fprintf(p, "%5d | %s\n", s.Start.Line, string(line[:min(len(line), mostColumns)]))
	fmt.Fprintf(p, "      | %s%s\n", strings.Repeat(" ", before), strings.Repeat("^", max(marked, 1)))
}
