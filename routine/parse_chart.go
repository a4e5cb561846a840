package routine

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// headingMarks are ignored in the heading of a column: "Man's", "No.".
var headingMarks = strings.NewReplacer("'", "", "’", "", ".", "", ":", "", "/", " ")

// columnKey returns the form in which headings of columns are compared. Accents count: "cavaliere" leads in
// Italian, "cavalière" follows in French.
func columnKey(heading string) string {
	key := strings.ToLower(unmarked(heading))
	if strings.ContainsAny(key, "'’.:/") {
		key = headingMarks.Replace(key)
	}
	return strings.Join(strings.Fields(key), " ")
}

// columnOf returns the kind of a column by its heading, or by the first words of it.
func columnOf(heading string) (c column, known bool) {
	heading = strings.TrimSpace(heading)
	if c, known = lex().columns[strings.ToLower(heading)]; known {
		return c, true
	}
	// Most cells and lines of prose are dismissed by their first word.
	if end := strings.IndexFunc(heading, unicode.IsSpace); end >= 0 {
		if first := firstWord(columnKey(heading[:end])); first != "" && !lex().columnBegins[first] {
			return otherColumn, false
		}
	}
	key := columnKey(heading)
	if first, last, two := strings.Cut(key, " "); two { // "Steps (leader)"
		if c := lex().columns[strings.Trim(last, "()")]; lex().columns[first] == otherColumn && (c == leaderColumn || c == followerColumn) {
			return c, true
		}
	}
	for key != "" {
		if c, known = lex().columns[key]; known {
			return c, true
		}
		key = key[:max(0, strings.LastIndexByte(key, ' '))]
	}
	return otherColumn, unmarked(heading) == ""
}

func firstWord(text string) string {
	first, _, _ := strings.Cut(text, " ")
	return first
}

// isChart reports whether a table has a column of counts, or steps in its cells.
func (p *parser) isChart(tt *tableText) bool {
	cells := make([]string, len(tt.cells[0]))
	for i, at := range tt.cells[0] {
		cells[i] = p.src.slice(at)
	}
	if counted, _, _ := headings(cells); counted {
		return true
	}
	steps := 0
	for i := 1; i < len(tt.cells) && steps < 2; i++ {
		if slices.ContainsFunc(tt.cells[i], func(at extent) bool { return stepPattern.MatchString(p.src.slice(at)) }) {
			steps++
		}
	}
	return steps > 1
}

// chart reads the rows of a table below a heading into fig.
func (p *parser) chart(fig *Figure, tt tableText, heading string) {
	before := len(p.list)
	has := p.columns(&tt, heading)
	_, counted := has[countColumn]
	if counted {
		p.spread(&tt, has)
	}
	fig.text.tables = append(fig.text.tables, tt)
	top := extent{tt.cells[0][0].from, tt.cells[0][len(tt.cells[0])-1].to}
	sides, ok := p.sides(fig, has, top)
	switch {
	case !ok:
		p.add("column-missing", top, "the chart has no column of steps", "head a column Leader or Follower")
	case !counted:
		p.add("column-missing", top, "the chart has no column of counts", "head a column Count")
	}
	if !ok || !counted { // the column may be one that is not known
		known := slices.DeleteFunc(p.list[before:], func(f Finding) bool { return f.Code == "unknown-column" })
		p.list = p.list[:before+len(known)]
		fig.unplaced = true
		return
	}
	rows := p.rows(fig, &tt, has, sides)
	fig.text.tables[len(fig.text.tables)-1].rows = rows
	for _, side := range sides {
		fig.Has[side] = true
	}
	if len(rows) == 0 {
		p.add("chart-empty", top, "the chart has no steps", "")
		fig.unplaced = true
		return
	}
	if fig.unplaced {
		fig.Rows = append(fig.Rows, rows...)
		return
	}
	at := func(row int) extent { return tt.cells[row+1][has[countColumn]] }
	placed := p.placeRows(fig, rows, at)
	if len(fig.Rows) == 0 {
		fig.Rows, fig.End, fig.Floating = rows, placed.end, placed.floating
		return
	}
	p.merge(fig, rows, placed, extent{at(0).from, at(len(rows) - 1).to})
}

// columns reads a table's heading and returns the index of each kind of column there is, or -1 where
// two columns claim the same partner. Below a heading that names a partner, the first column with steps is that partner's.
func (p *parser) columns(tt *tableText, heading string) map[column]int {
	has := map[column]int{}
	var unknown []int
	owner, owned := ownerOf(heading)
	for _, cell := range tt.cells[0] {
		c, _ := columnOf(p.src.slice(cell))
		owned = owned && c != leaderColumn && c != followerColumn
	}
	for i, cell := range tt.cells[0] {
		c, known := columnOf(p.src.slice(cell))
		if owned && c == otherColumn && p.hasSteps(tt, i) {
			c, known, owned = leaderColumn+column(owner), true, false
		}
		_, again := has[c]
		switch {
		case !known:
			unknown = append(unknown, i)
		case c > followerColumn:
		case c != otherColumn && again:
			p.add("column-again", cell, "the chart already has a column of this kind", "keep one")
			if c != countColumn {
				has[c] = -1
			}
			c = otherColumn
		case c != otherColumn:
			has[c] = i
		}
		tt.columns = append(tt.columns, c)
	}
	if _, counted := has[countColumn]; !counted {
		if i := slices.Index(tt.columns, otherColumn); i >= 0 && p.areAllCounts(tt, i) {
			tt.columns[i], has[countColumn] = countColumn, i
			name := "without a heading"
			if cell := p.src.slice(tt.cells[0][i]); cell != "" {
				name = quoted(cell)
			}
			p.add("loose-form", tt.cells[0][i], "the column "+name+" is read as the one of counts", "head it Count")
		}
	}
	for _, i := range unknown {
		if tt.columns[i] != countColumn {
			p.add("unknown-column", tt.cells[0][i], "unknown column "+quoted(p.src.slice(tt.cells[0][i])), "name a column Count, Leader, Follower, Step or Note")
		}
	}
	tt.assign()
	return has
}

// areAllCounts reports whether each row of a column that is headed otherwise is a count.
func (p *parser) areAllCounts(tt *tableText, column int) bool {
	return !slices.ContainsFunc(tt.cells[1:], func(row []extent) bool { return p.counts(row[column], holds) == nil })
}

// hasSteps reports whether a cell of a column is a step.
func (p *parser) hasSteps(tt *tableText, column int) bool {
	return slices.ContainsFunc(tt.cells[1:], func(row []extent) bool { return isStep(p.src.slice(row[column])) })
}

// sides returns the partners whose steps a chart adds to a figure; ok is false if it has a column for
// neither.
func (p *parser) sides(fig *Figure, has map[column]int, heading extent) (sides []Partner, ok bool) {
	var again []string
	for _, side := range Partners() {
		i, told := has[leaderColumn+column(side)]
		ok = ok || told
		switch {
		case told && fig.Has[side]:
			again = append(again, "the "+side.String()+"'s")
		case told && i >= 0:
			sides = append(sides, side)
		}
	}
	if again != nil {
		p.add("column-again", heading, strings.Join(again, " and ")+" steps are given twice in this figure", "keep one; or if the chart goes on here, put the rows below those of the first")
	}
	return sides, ok
}

// rows reads the rows of a table for some partners. Where a cell may belong to another column, the
// row's steps are unclear; without all counts the figure can't be placed.
func (p *parser) rows(fig *Figure, tt *tableText, has map[column]int, sides []Partner) (rows []Row) {
	numbers := p.stepNumbers(tt)
	rows = make([]Row, len(tt.cells)-1)
	for i, cells := range tt.cells[1:] {
		shifted := false // it is unclear which cell is whose
		if rest := restOfLine(p.src.text, cells[len(cells)-1].to); !tt.spread[i+1] && strings.Trim(p.src.slice(rest), "| \t\r") != "" {
			p.add("row-too-long", rest, "this row has more cells than the chart has columns", "write a | inside a note as \\|")
			shifted = true
		}
		cell := cells[has[countColumn]]
		text := p.src.slice(cell)
		c, ok := p.count(text)
		if !ok {
			message, hint := quoted(text)+" is not a count", "write the number of a beat, 4-1 for a held count, &, a, e, S or Q; two, 2. and quick are read too"
			if strings.TrimSpace(text) == "" {
				message = "this row has no count"
			}
			switch several := len(p.counts(cell, holds)); {
			case shifted:
			case several > 1:
				p.severalCounts(cell, several)
				shifted = true
			default:
				p.add("count-unreadable", cell, message, hint)
				shifted = p.blankSteps(cells, has, sides)
			}
			fig.unplaced, shifted = true, shifted || tt.short[i+1]
		}
		row := &rows[i]
		row.Count = c
		for _, side := range sides {
			cell := cells[has[leaderColumn+column(side)]]
			row.Written[side] = true
			if shifted {
				row.Steps[side] = Step{At: p.src.span(cell.from, cell.to), unclear: true}
			} else {
				row.Steps[side] = p.step(cell, tt.technique(i+1, side), numbers[i])
			}
		}
	}
	for _, side := range sides {
		p.foldTurns(tt, rows, side, numbers)
	}
	return rows
}

// blankSteps reports whether a row says nothing of any partner's step: it may be a heading, or more of a note.
func (p *parser) blankSteps(cells []extent, has map[column]int, sides []Partner) bool {
	return !slices.ContainsFunc(sides, func(side Partner) bool {
		return strings.TrimSpace(p.src.slice(cells[has[leaderColumn+column(side)]])) != ""
	})
}

// placeRows finds the beats of a chart's rows; at returns where a row's count stands.
func (p *parser) placeRows(fig *Figure, rows []Row, at func(row int) extent) placement {
	counts := make([]Count, len(rows))
	for i := range rows {
		counts[i] = rows[i].Count
	}
	placed := place(counts, p.sheet.Dance)
	fig.doubtful = fig.doubtful || len(placed.troubles) > 0
	fig.text.counted = append(fig.text.counted, counted{placed.troubles, at})
	for i := range rows {
		rows[i].At = placed.at[i]
	}
	return placed
}

// merge lays a second partner's rows beside the first's, beat by beat.
func (p *parser) merge(fig *Figure, rows []Row, placed placement, at extent) {
	if placed.floating != fig.Floating || placed.end != fig.End || rows[0].At != fig.Rows[0].At {
		p.add("parts-differ", at, fmt.Sprintf("the partners do not fill the same beats: %s here, %s in the other chart",
			(placed.end-rows[0].At).InBeats(), (fig.End-fig.Rows[0].At).InBeats()), "")
		fig.doubtful = true
	}
	fig.End = max(fig.End, placed.end)
	for _, r := range rows {
		i, found := slices.BinarySearchFunc(fig.Rows, r.At, func(have Row, at Beats) int { return int(have.At - at) })
		if !found {
			fig.Rows = slices.Insert(fig.Rows, i, r)
			continue
		}
		for _, side := range Partners() {
			if r.Written[side] {
				fig.Rows[i].Steps[side], fig.Rows[i].Written[side] = r.Steps[side], true
			}
		}
	}
}

// place settles what depends on the whole figure.
func (p *parser) place(fig *Figure) {
	if fig.unplaced { // a length that does no harm to what follows
		fig.End, fig.Floating = Beats(len(fig.Rows))*Beat, true
		for i := range fig.Rows {
			fig.Rows[i].At = Beats(i) * Beat
		}
	}
}

// restOfLine is the text from a place to the end of its line.
func restOfLine(text []byte, from int) extent {
	to := len(text)
	if i := bytes.IndexByte(text[from:], '\n'); i >= 0 {
		to = from + i
	}
	for to > from && text[to-1] == '\r' {
		to--
	}
	return extent{from, to}
}
