// Package report sets what commands answer as tables, charts and lines.
package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"dance.example/slowquick/player/screen/term"
)

// Page is where an answer is printed.
type Page struct {
	io.Writer
	Columns int  // its width
	Fits    bool // lines must fit it; if not, programs read them
}

// table sets rows in columns. If they must fit the page, those in wrapping are wrapped to fit; if that is not enough, the
// cells of narrow, which says the same in fewer columns, stand below each other from the column from on.
func (p Page) table(rows [][]string, wrapping []int, narrow [][]string, from int) []string {
	if !p.Fits {
		return term.Table(rows, nil, math.MaxInt)
	}
	if lines := term.Table(rows, wrapping, p.Columns); lines != nil {
		return lines
	}
	return term.Stack(narrow, from, p.Columns)
}

// print prints rows, of which one column is wrapped.
func (p Page) print(rows [][]string, wrapping int) {
	var narrow [][]string
	for _, row := range rows {
		narrow = append(narrow, []string{row[0], strings.TrimSpace(strings.Join(row[1:], "  "))})
	}
	fmt.Fprintln(p, strings.Join(p.table(rows, []int{wrapping}, narrow, 0), "\n"))
}

// Lines returns a text in as many lines as the page needs, or in one line if it needn't fit.
func (p Page) Lines(text string) []string {
	if !p.Fits {
		return []string{text}
	}
	return term.Words(text, p.Columns)
}

// Wrapped is like Lines, in one string. Its first line is indented by first, and each other by other.
func (p Page) Wrapped(text, first, other string) string {
	if p.Fits {
		text = strings.ReplaceAll(ansi.Wordwrap(text, max(p.Columns-len(other)-1, 12), ""), "\n", "\n"+other)
	}
	return first + text
}

// line prints a line.
func (p Page) line(format string, args ...any) { fmt.Fprintf(p, format+"\n", args...) }
