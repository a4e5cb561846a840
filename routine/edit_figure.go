package routine

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// FigureText is a figure of a sheet as it stands in the sheet's text. Its methods return the text with one row
// or one fact of the figure changed; all else stays byte for byte.
//
// Rows count from 0. A FigureText is not changed: read the new text with [EditFigure] to go on.
type FigureText struct {
	text     []byte
	section  extent // from its heading's line to the next section
	heading  int    // where the heading's line ends
	rows     []extent
	at       int    // where the first row would be, or is
	like     string // the line above the rows, whose cells are as wide as a new row's
	columns  [3]int // of the count, and the leader's and the follower's steps
	facts    map[string]extent
	factsEnd int // where the last fact's line ends; 0 without one
	eol      string
}

// errNoFigureText says that a figure can't be changed where it stands.
var errNoFigureText = errors.New("the figure can't be changed as it is written: write its chart as one table with a row for each count, and the columns Count, Leader and Follower")

// EditFigure finds a sheet's own figure in its text, so that it can be changed. The error says why it can't be.
func EditFigure(name string, text []byte, book Book, figure string) (*FigureText, error) {
	s, _ := parse(name, text, book)
	fig := s.byKey[Key(figure)]
	if fig == nil {
		return nil, fmt.Errorf("the sheet has no figure %q", Plain(figure))
	}
	if t, ok := s.figureText(text, fig); ok {
		return t, nil
	}
	return nil, errNoFigureText
}

// figureText returns a figure's lines in a text. It returns false unless each row of its only chart is a line.
func (s *Sheet) figureText(text []byte, fig *Figure) (*FigureText, bool) {
	if len(fig.text.tables) != 1 {
		return nil, false
	}
	tt := &fig.text.tables[0]
	t := &FigureText{text: text, eol: lineEnding(text), facts: map[string]extent{}}
	for i, kind := range []column{countColumn, leaderColumn, followerColumn} {
		if t.columns[i] = slices.Index(tt.columns, kind); t.columns[i] < 0 {
			return nil, false
		}
	}
	line := func(at int) (extent, bool) { // as it stands in both
		read, filed := lineAround(s.src.text, at), lineAround(text, s.src.asWritten(at))
		return filed, bytes.Equal(unixLines(s.src.text[read.from:read.to]), unixLines(text[filed.from:filed.to]))
	}
	head, ok := line(tt.cells[0][0].from)
	if !ok {
		return nil, false
	}
	last := lineAround(text, min(head.to, len(text)))
	t.like, t.at = string(text[head.from:head.to]), last.to
	for i, cells := range tt.cells[1:] {
		row, ok := line(cells[0].from)
		if !ok || tt.spread[i+1] || row.from != last.to || len(cellPlaces(string(text[row.from:row.to]))) < len(tt.columns) {
			return nil, false
		}
		t.rows, last = append(t.rows, row), row
	}
	begins, ok := line(fig.text.at.from)
	if !ok || begins.to > head.from {
		return nil, false
	}
	t.section, t.heading = extent{begins.from, len(text)}, begins.to
	if fig.text.until < len(text) {
		t.section.to = lineAround(text, fig.text.until).from
	}
	for _, fact := range fig.text.facts {
		set := extent{s.src.asWritten(fact.key.from), s.src.asWritten(fact.value.to)}
		if set.to < set.from || string(text[set.from:set.to]) != s.src.slice(extent{fact.key.from, fact.value.to}) {
			return nil, false
		}
		t.facts[fact.name], t.factsEnd = set, max(t.factsEnd, lineAround(text, set.to).to)
	}
	return t, true
}

// lineAround returns the line that holds a place, with its end.
func lineAround(text []byte, at int) extent {
	from := bytes.LastIndexByte(text[:at], lineEnd(text)) + 1
	return extent{from, from + lineLength(text[from:])}
}

// cellPlaces returns where the cells of a table's line stand, up to the marks between them.
func cellPlaces(line string) (cells []extent) {
	end := len(strings.TrimRight(line, " \t\r\n"))
	from := len(line) - len(strings.TrimLeft(line, " \t"))
	if from < end && line[from] == '|' {
		from++
	}
	for i := from; i < end; i++ {
		switch line[i] {
		case '\\':
			i++
		case '|':
			cells, from = append(cells, extent{from, i}), i+1
		}
	}
	if from < end {
		cells = append(cells, extent{from, end})
	}
	return cells
}

// BeginFigure returns a sheet's text with a figure at its end that has no rows yet; starts is how it starts,
// as a sheet writes it, or "".
func BeginFigure(text []byte, name, starts string) []byte {
	eol := lineEnding(text)
	lines := []string{"## " + headingText(name), ""}
	if starts != "" {
		lines = append(lines, "- starts: "+Plain(starts), "")
	}
	lines = append(lines, "| Count | Leader                           | Follower                         |",
		"|:-----:|----------------------------------|----------------------------------|", "")
	before := bytes.TrimRight(text, " \t\r\n")
	space := text[len(before):]
	if !bytes.HasSuffix(space, []byte(eol+eol)) {
		space = []byte(eol + eol)
	}
	return slices.Concat(before, space, []byte(strings.Join(lines, eol)))
}

// Len returns how many rows the chart has.
func (t *FigureText) Len() int { return len(t.rows) }

// Row returns the cells of a row: its count, and the leader's and the follower's step.
func (t *FigureText) Row(row int) (cells [3]string) {
	line := string(t.text[t.rows[row].from:t.rows[row].to])
	all := cellPlaces(line)
	for i, column := range t.columns {
		cells[i] = strings.TrimSpace(line[all[column].from:all[column].to])
	}
	return cells
}

// At returns the row in which an offset of the text stands; -1 if it is in none. Within reports whether it
// stands in the figure's section.
func (t *FigureText) At(offset int) (row int, within bool) {
	row = slices.IndexFunc(t.rows, func(at extent) bool { return at.from <= offset && offset < at.to })
	return row, t.section.from <= offset && offset < max(t.section.to, t.section.from+1)
}

// Insert returns the text with a row more, so that it is that row; row is from 0 up to and with Len.
func (t *FigureText) Insert(row int, cells [3]string) []byte {
	at, before := t.at, ""
	if row > 0 {
		at = t.rows[row-1].to
	}
	if !bytes.HasSuffix(t.text[:at], []byte(t.eol)) { // the last line of the file
		before = t.eol
	}
	return slices.Concat(t.text[:at], []byte(before+withCells(t.blank(), t.columns, cells)+t.eol), t.text[at:])
}

// blank returns a row without a word, as wide as the heading.
func (t *FigureText) blank() string {
	line := strings.TrimRight(t.like, "\r\n")
	for _, cell := range slices.Backward(cellPlaces(line)) {
		line = line[:cell.from] + strings.Repeat(" ", width.StringWidth(line[cell.from:cell.to])) + line[cell.to:]
	}
	return line
}

// Write returns the text with other cells in a row, and in those that follow it.
func (t *FigureText) Write(row int, cells ...[3]string) []byte {
	var lines []byte
	for i, now := range cells {
		line, was := string(t.text[t.rows[row+i].from:t.rows[row+i].to]), t.Row(row+i)
		for k := range now {
			if now[k] != was[k] {
				line = withCell(line, t.columns[k], now[k], k == 0)
			}
		}
		lines = append(lines, line...)
	}
	return slices.Concat(t.text[:t.rows[row].from], lines, t.text[t.rows[row+len(cells)-1].to:])
}

// withCells writes cells into a row.
func withCells(line string, columns [3]int, cells [3]string) string {
	for i := range cells {
		line = withCell(line, columns[i], cells[i], i == 0)
	}
	return line
}

var cellMarks = strings.NewReplacer("\\|", "\\|", "|", "\\|")

// withCell writes one cell, as wide as it was where there is room; in the middle, or to the left.
func withCell(line string, column int, text string, centred bool) string {
	cell := cellPlaces(line)[column]
	text = cellMarks.Replace(strings.TrimSpace(Plain(text)))
	room := max(width.StringWidth(line[cell.from:cell.to])-width.StringWidth(text), 2)
	left := 1
	if centred {
		left = room / 2
	}
	return line[:cell.from] + strings.Repeat(" ", left) + text + strings.Repeat(" ", room-left) + line[cell.to:]
}

// Remove returns the text without a row.
func (t *FigureText) Remove(row int) []byte {
	return slices.Concat(t.text[:t.rows[row].from], t.text[t.rows[row].to:])
}

// Fact returns the value of a fact above the chart, as of "starts", or "".
func (t *FigureText) Fact(name string) string {
	_, value, _ := strings.Cut(string(t.text[t.facts[name].from:t.facts[name].to]), ":")
	return strings.TrimSpace(value)
}

// Set returns the text with a fact above the chart, as in "ends", "open facing"; "" as the value takes it away.
func (t *FigureText) Set(fact, value string) []byte {
	set, ok := t.facts[fact]
	value = strings.TrimSpace(Plain(value))
	switch line := lineAround(t.text, set.from); {
	case !ok && value == "":
		return t.text
	case ok && value == "":
		return slices.Concat(t.text[:line.from], t.text[line.to:])
	case ok:
		return slices.Concat(t.text[:set.from], []byte(fact+": "+value), t.text[set.to:])
	}
	said := "- " + fact + ": " + value + t.eol
	if t.factsEnd > 0 {
		return slices.Concat(t.text[:t.factsEnd], []byte(said), t.text[t.factsEnd:])
	}
	return slices.Concat(t.text[:t.heading], []byte(t.eol+said), t.text[t.heading:])
}

// Section returns the figure's section as it stands, and Without the sheet's text without it.
func (t *FigureText) Section() []byte { return bytes.Clone(t.text[t.section.from:t.section.to]) }

// Without returns the text without the figure's section.
func (t *FigureText) Without() []byte {
	before := bytes.TrimRight(t.text[:t.section.from], " \t\r\n")
	if t.section.to < len(t.text) || len(before) == t.section.from {
		before = t.text[:t.section.from]
	} else {
		before = t.text[:len(before)+lineLength(t.text[len(before):])]
	}
	return slices.Concat(before, t.text[t.section.to:])
}
