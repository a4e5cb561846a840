package routine

import (
	"bytes"
	"cmp"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"
)

// Pos is a place in a sheet. Line and Column count from 1, Column in runes; Offset counts bytes from 0.
type Pos struct {
	Offset int `json:"offset"`
	Line   int `json:"line"`
	Column int `json:"column"`
}

// Span is a range of a sheet from Start up to, but not including, End.
type Span struct {
	Start Pos `json:"start"`
	End   Pos `json:"end"`
}

// Severity says how bad a finding is. The zero value is not valid.
type Severity uint8

// A routine with an Error can't be danced. With a Warning it can, but a teacher would ask. A Note says
// what was understood, where that is worth knowing; nothing is wrong.
const (
	Error Severity = iota + 1
	Warning
	Note
)

// String returns "error", "warning" or "note".
func (s Severity) String() string { return [...]string{"", "error", "warning", "note"}[s] }

// MarshalText writes String.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Code names a kind of finding. Codes are part of the interface and never change.
type Code string

// Finding is one thing in a sheet that a teacher would object to, or a note.
type Finding struct {
	Code     Code      `json:"code"`
	Severity Severity  `json:"severity"`
	Span     Span      `json:"span"`
	Message  string    `json:"message"` // one line, in the dancer's words
	Hint     string    `json:"hint,omitempty"`
	Related  []Related `json:"related,omitempty"`
}

// NewFinding returns a finding as severe as its code.
func NewFinding(code Code, at Span, message, hint string, related ...Related) Finding {
	return Finding{Code: code, Severity: explanations[code].Severity, Span: at, Message: message, Hint: hint, Related: related}
}

// Related is a second place that a finding refers to.
type Related struct {
	Span    Span   `json:"span"`
	Message string `json:"message"`
}

// HasErrors reports whether any finding is an error, so that the routine can't be danced.
func HasErrors(fs []Finding) bool {
	return slices.ContainsFunc(fs, func(f Finding) bool { return f.Severity == Error })
}

// Objections returns the findings that are not just notes.
func Objections(fs []Finding) (bad []Finding) {
	for _, f := range fs {
		if f.Severity != Note {
			bad = append(bad, f)
		}
	}
	return bad
}

// source is a sheet's text, as it is read.
type source struct {
	text    []byte
	written []byte    // as it stands in the file
	lines   []int     // byte offset of each line of written
	shifts  [][]shift // from text back to written, one list for each time it was rewritten
	last    Pos       // the place asked for last; a later one on its line is counted from here
}

func newSource(text []byte) *source {
	end := lineEnd(text)
	s := &source{text: text, written: text, lines: make([]int, 1, 2+bytes.Count(text, []byte{end}))}
	for i, c := range text {
		if c == end {
			s.lines = append(s.lines, i+1)
		}
	}
	return s
}

// lineEnd returns the last byte of a text's lines: CR in files with old line ends, else LF.
func lineEnd(text []byte) byte {
	if bytes.IndexByte(text, '\n') < 0 {
		return '\r'
	}
	return '\n'
}

// Lines returns the lines of a sheet as findings count them, without their ends.
func Lines(sheet []byte) []string {
	lines := strings.Split(string(sheet), string(rune(lineEnd(sheet))))
	for i, line := range lines {
		lines[i] = strings.TrimSuffix(line, "\r")
	}
	return lines
}

// pos returns the place in the file of a byte offset of the text.
func (s *source) pos(offset int) Pos {
	offset = s.asWritten(min(max(offset, 0), len(s.text)))
	line := sort.SearchInts(s.lines, offset+1)
	from, column := s.lines[line-1], 1
	if s.last.Line == line && s.last.Offset < offset && utf8.RuneStart(s.written[s.last.Offset]) {
		from, column = s.last.Offset, s.last.Column
	}
	s.last = Pos{Offset: offset, Line: line, Column: column + utf8.RuneCount(s.written[from:offset])}
	return s.last
}

func (s *source) span(from, to int) Span { return Span{s.pos(from), s.pos(max(from, to))} }

// extent is a range of bytes in a source, from "from" up to, but not including, "to".
type extent struct{ from, to int }

func (s *source) slice(st extent) string { return string(s.text[st.from:st.to]) }

// findings collects what is wrong with one sheet.
type findings struct {
	src  *source
	list []Finding
}

func (f *findings) add(code Code, at extent, message, hint string, related ...Related) {
	f.list = append(f.list, NewFinding(code, f.src.span(at.from, at.to), message, hint, related...))
}

// mostHints is the number of findings that come with names that may have been meant: enough to begin
// with.
const mostHints = 1000

// near returns didYouMean while there are few findings, then "".
func (f *findings) near(name string, names []string) string {
	if len(f.list) > mostHints {
		return ""
	}
	return didYouMean(name, names)
}

// longestMessage bounds a finding's message, in letters, whatever names are in it.
const longestMessage = 500

// Sorted sorts findings by offset, then code, with all notes at the end. It drops duplicates at one
// place and shortens long messages. All findings get their order here. It reuses the list's memory.
func Sorted(list []Finding) []Finding {
	for i := range list {
		f := &list[i]
		f.Message, f.Hint = clipped(f.Message, longestMessage), clipped(f.Hint, longestMessage)
	}
	last := func(f Finding) int {
		if f.Severity == Note {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(last(a)-last(b), cmp.Compare(a.Span.Start.Offset, b.Span.Start.Offset), cmp.Compare(a.Code, b.Code))
	})
	return slices.CompactFunc(list, func(a, b Finding) bool {
		return a.Span == b.Span && a.Code == b.Code && a.Message == b.Message
	})
}

// Faulty returns the figures with an error in their sections, or with rows or columns that can't be meant. A missing order does not count against
// the figure that stands last.
func Faulty(figs []*Figure, found []Finding) map[*Figure]bool {
	faulty := map[*Figure]bool{}
	for _, fig := range figs {
		faulty[fig] = fig.miswritten || slices.ContainsFunc(found, func(f Finding) bool {
			at := f.Span.Start.Offset
			return f.Severity == Error && f.Code != "order-missing" && fig.At.Start.Offset <= at && at < fig.text.until
		})
	}
	return faulty
}
