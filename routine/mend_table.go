package routine

import (
	"strings"
)

// chartForm is what stands between the cells of a chart.
type chartForm uint8

const (
	noChart chartForm = iota
	piped
	tabbed
	semicolons
	commas
	spaced
)

var separators = [...]string{tabbed: "\t", semicolons: ";", commas: ",", spaced: "  "}

var cellPatterns = [...]*pattern{
	tabbed:     lazily(`[ ]*\t[ ]*`),
	semicolons: lazily(`[ \t]*;[ \t]*`),
	commas:     lazily(`[ \t]*,[ \t]*`),
	spaced:     lazily(`[ ]{2,}`),
}

// longestHeading is the length of a chart's heading, in bytes, above which a line is none.
const longestHeading = 400

// chartHeading returns the form of a chart whose heading a line is. Without bars between its cells, a line is
// a heading only if each cell is one of a chart's columns.
func chartHeading(line string) chartForm {
	if first := strings.TrimLeft(line, " \t|*`"); first == "" || first[0] == '&' || '0' <= first[0] && first[0] <= '9' || len(line) > longestHeading {
		return noChart
	}
	if strings.Contains(line, "|") {
		if counted, _, _ := headings(pipedCells(line)); counted {
			return piped
		}
		return noChart
	}
	for _, form := range []chartForm{tabbed, semicolons, commas, spaced} {
		if !strings.Contains(line, separators[form]) || !beginsWithColumn(line, form) {
			continue
		}
		texts := rowOf(line, form)
		if len(texts) < 2 {
			continue
		}
		if counted, partners, known := headings(texts); counted && partners > 0 && known {
			return form
		}
	}
	return noChart
}

// beginsWithColumn reports whether the first cell of a line may be the heading of a column, and so dismisses prose
// quickly.
func beginsWithColumn(line string, form chartForm) bool {
	line = strings.TrimLeft(line, " ")
	first, _, _ := strings.Cut(line, separators[form])
	_, known := columnOf(strings.TrimSpace(first))
	return known || strings.HasPrefix(line, `"`)
}

// headings says what columns a chart with these headings has: one of counts, how many of partners, and whether all
// are known. A column headed Time or Rhythm is one of counts only beside a partner's.
func headings(cells []string) (counted bool, partners int, known bool) {
	known, timed := true, false
	for _, cell := range cells {
		c, ok := columnOf(cell)
		switch {
		case !ok:
			known = false
		case c == countColumn:
			if key := Key(cell); key == "count" || key == "beat" {
				counted = true
			} else {
				timed = true
			}
		case c == leaderColumn || c == followerColumn:
			partners++
		}
	}
	return counted || timed && partners > 0, partners, known
}

// pipedCells returns the cells of a row of a Markdown table.
func pipedCells(line string) []string {
	line = strings.TrimSpace(line)
	line = strings.TrimSuffix(strings.TrimPrefix(line, "|"), "|")
	return strings.Split(line, "|")
}

// cellsOf returns where the cells of a line stand that is not a row of Markdown; a cell may stand in quotes.
func cellsOf(line string, form chartForm) (cells []extent) {
	between := cellPatterns[form]
	from := len(line) - len(strings.TrimLeft(line, " "))
	for {
		rest := line[from:]
		if strings.HasPrefix(rest, `"`) {
			if end := strings.Index(rest[1:], `"`); end >= 0 {
				cells = append(cells, extent{from + 1, from + 1 + end})
				next := between.FindStringIndex(rest[end+2:])
				if next == nil || next[0] > 0 {
					return cells
				}
				from += end + 2 + next[1]
				continue
			}
		}
		next := between.FindStringIndex(rest)
		if next == nil || form == spaced && from+next[1] == len(line) {
			return append(cells, extent{from, max(from, len(strings.TrimRight(line, " \t")))})
		}
		cells = append(cells, extent{from, from + next[0]})
		from += next[1]
	}
}

// ruled reports whether a line between rows has no cells.
func ruled(line string) bool {
	return line != "" && strings.Trim(line, " \t|+:=–—-") == "" && strings.Trim(line, " \t") != ""
}

// markdownRule matches the line below a heading as Markdown has it.
var markdownRule = lazily(`^[ ]{0,3}\|?[ \t]*:?-+:?[ \t]*(?:\|[ \t]*:?-+:?[ \t]*)*\|?[ \t]*$`)

// tables writes charts as Markdown's tables.
func (m *mender) tables() {
	lines := m.body()
	for i := 0; i < len(lines); {
		l := lines[i]
		if end := m.turned(lines, i); end > i {
			i = end
			continue
		}
		form := noChart
		if !l.prose && !strings.HasPrefix(strings.TrimSpace(l.text), ">") {
			form = chartHeading(l.text)
		}
		c := chartMender{mender: m, form: form, lines: lines, head: i}
		if form == noChart || form != piped && !c.isRow(c.following(i+1)) {
			i++
			continue
		}
		i = c.mend()
	}
}

// chartMender mends one chart, whose heading is the line head.
type chartMender struct {
	*mender
	form  chartForm
	lines []textLine
	head  int
	said  map[string]bool
}

func (c *chartMender) say(what string) {
	if c.said == nil {
		c.said = map[string]bool{}
	}
	if !c.said[what] {
		c.slip(c.lines[c.head].at, what)
	}
	c.said[what] = true
}

// following returns the first line from i on that is neither blank nor a rule.
func (c *chartMender) following(i int) int {
	for i < len(c.lines) && !c.lines[i].prose && (c.lines[i].blank() || c.isRule(i)) {
		i++
	}
	return i
}

// isRule reports whether a line is one of dashes.
func (c *chartMender) isRule(line int) bool {
	text := c.lines[line].text
	return ruled(text) && (line == c.head+1 || strings.ContainsAny(text, "=") || strings.Contains(text, "--") || strings.Contains(text, "——"))
}

// countCell returns the index of the column of counts, or -1.
func (c *chartMender) countCell() int {
	for i, cell := range c.cells(c.head) {
		if kind, _ := columnOf(cell); kind == countColumn {
			return i
		}
	}
	return -1
}

func (c *chartMender) cells(line int) []string { return rowOf(c.lines[line].text, c.form) }

// rowOf returns the cells of a line of a table.
func rowOf(line string, form chartForm) (texts []string) {
	if form == piped {
		return pipedCells(line)
	}
	for _, at := range cellsOf(line, form) {
		texts = append(texts, line[at.from:at.to])
	}
	return texts
}

// isRow reports whether a line, which may stand apart from the rows before it, is a row of this chart.
func (c *chartMender) isRow(line int) bool {
	if line >= len(c.lines) || c.lines[line].prose || chartHeading(c.lines[line].text) != noChart {
		return false
	}
	text := strings.TrimSpace(c.lines[line].text)
	cells := c.cells(line)
	if len(cells) < 2 {
		return false
	}
	heads := line+1 < len(c.lines) && ruled(c.lines[line+1].text) && markdownRule.MatchString(c.lines[line+1].text) // another table, if it has no count
	if c.form == piped && strings.HasPrefix(text, "|") && !heads {
		return true
	}
	if i := c.countCell(); i >= 0 && i < len(cells) {
		cell := strings.TrimSpace(unmarked(cells[i]))
		_, ok := ParseCount(cell)
		return ok || cell != "" && '1' <= cell[0] && cell[0] <= '9' // of several
	}
	return false
}

// mend mends the chart, and returns the index of the first line after it.
func (c *chartMender) mend() int {
	if c.form != piped && !c.fits() {
		return c.head + 1 // it is reported where charts are read
	}
	above := c.head - 1
	if c.head > 0 && strings.Contains(c.lines[above].text, "+") && ruled(c.lines[above].text) {
		c.write(extent{c.lines[above].at.from, c.lines[c.head].at.from}, "")
		above--
	}
	if above >= 0 && !c.lines[above].blank() {
		c.write(extent{c.lines[c.head].at.from, c.lines[c.head].at.from}, "\n")
		if !isHeading(c.lines[above].text) {
			c.say("the chart is read without a blank line above it")
		}
	}
	c.row(c.head)
	at := c.following(c.head + 1)
	c.rule(at)
	end := at
	isRow := c.isRow(at)
	for at < len(c.lines) && (isRow || at == end && c.follows(at)) {
		c.row(at)
		end = at + 1
		at = c.following(end)
		if isRow = c.isRow(at); isRow {
			c.drop(end, at)
			end = at
		}
	}
	if end < len(c.lines) && !c.lines[end].blank() && c.form != piped {
		c.write(extent{c.lines[end].at.from, c.lines[end].at.from}, "\n")
	}
	return max(end, c.head+1)
}

// follows reports whether a line that stands right below a row of a Markdown table is one as well.
func (c *chartMender) follows(line int) bool {
	return c.form == piped && !c.lines[line].prose && strings.Contains(c.lines[line].text, "|") && chartHeading(c.lines[line].text) == noChart
}

// fits reports whether no row of a chart without bars has more cells than the heading.
func (c *chartMender) fits() bool {
	most := len(c.cells(c.head))
	for at := c.following(c.head + 1); c.isRow(at); at = c.following(at + 1) {
		if len(c.cells(at)) > most {
			return false
		}
	}
	return true
}

// rule writes the line below the heading; first is the first row.
func (c *chartMender) rule(first int) {
	columns := len(c.cells(c.head))
	if below := c.head + 1; c.form == piped && below < first && markdownRule.MatchString(c.lines[below].text) && c.lines[below].indent() < 4 &&
		len(pipedCells(c.lines[below].text)) == columns {
		if c.isRow(first) {
			c.drop(below+1, first)
		}
		return
	}
	ruled := false
	for i := c.head + 1; i < first; i++ {
		ruled = ruled || !c.lines[i].blank()
	}
	at := c.lines[c.head].at.to
	if c.form == piped && ruled {
		c.say("the line of dashes below the heading is read as it was meant")
	} else if c.form == piped {
		c.say("the chart is read without a line of dashes below its heading")
	}
	if first < len(c.lines) && c.isRow(first) || ruled {
		c.drop(c.head+1, first)
	}
	c.write(extent{at, at}, "\n|"+strings.Repeat("---|", columns))
}

// drop deletes the lines from one up to, but not including, another.
func (c *chartMender) drop(from, to int) {
	if from >= to {
		return
	}
	end := len(c.src.text)
	if to < len(c.lines) {
		end = c.lines[to].at.from
	}
	for i := from; i < to; i++ {
		if c.lines[i].blank() {
			c.say("the chart is read on, past a blank line")
		}
	}
	c.write(extent{c.lines[from].at.from, end}, "")
}

// row writes a row with bars between its cells, and without an indent.
func (c *chartMender) row(line int) {
	l := c.lines[line]
	if c.form == piped {
		if n := l.indent(); n > 0 {
			c.write(extent{l.at.from, l.at.from + n}, "")
			if n > 3 && line == c.head {
				c.say("the chart is read, though it is indented")
			}
		}
		return
	}
	c.say("the chart is read without bars between its cells")
	at := l.at.from
	for _, cell := range cellsOf(l.text, c.form) {
		c.write(extent{at, l.at.from + cell.from}, "| ")
		if at > l.at.from {
			c.edits[len(c.edits)-1].text = " | "
		}
		at = l.at.from + cell.to
	}
	c.write(extent{at, l.at.to}, " |")
}
