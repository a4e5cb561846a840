package routine

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// LargestSheet is how many bytes a sheet may have. What is larger is not read at all, and
// a finding says so.
const LargestSheet = 1 << 20

// The bounds of a sheet. They are far above what anyone dances.
const (
	longestCell = 2000 // bytes; of a step or a stance
	deepest     = 100  // lists and quotes in each other
	mostTimes   = 99
	mostSteps   = 200_000 // of a routine, repeats counted
)

// parse reads a sheet. It always gives a sheet, with all that could be read,
// and every finding that does not need the order to be danced through.
func parse(name string, src []byte, book Book) (*Sheet, *findings) {
	f := &findings{src: newSource(src)}
	s := &Sheet{Name: name, Title: plain(name), Dance: plainDance(), src: f.src, book: book,
		byKey: map[string]*Figure{}, prose: map[string]bool{}}
	switch {
	case len(src) > LargestSheet:
		f.add("too-large", stretch{}, fmt.Sprintf("a sheet has at most %d MiB", LargestSheet>>20), "")
		return s, f
	case !utf8.Valid(src):
		at := 0
		for at < len(src) {
			r, size := utf8.DecodeRune(src[at:])
			if r == utf8.RuneError && size == 1 {
				break
			}
			at += size
		}
		f.add("not-utf8", stretch{at, at + 1}, "the file is not text in UTF-8", "save it as UTF-8")
		return s, f
	}
	p := sheetParser{findings: f, sheet: s}
	p.unsafeText()
	front, body := frontMatter(src)
	p.frontMatter(front)
	if p.shallow(body) {
		p.body(body)
	}
	return s, f
}

// shallow reports whether lists and quotes are nested as people nest them, as
// the time to read them grows with the square of their depth.
func (p *sheetParser) shallow(body []byte) bool {
	at := 0
	for line := range bytes.Lines(body) {
		depth, i := 0, 0 // in columns, of which a list or a quote takes at least two
		for ; i < len(line) && bytes.IndexByte([]byte(" \t>-+*.)0123456789"), line[i]) >= 0; i++ {
			switch c := line[i]; {
			case c == ' ':
				depth++
			case c == '\t':
				depth += 4
			case c == '>', bytes.IndexByte([]byte("-+*.)"), c) >= 0 && i+1 < len(line) && (line[i+1] == ' ' || line[i+1] == '\t'):
				depth++
			}
		}
		if depth > 2*deepest && len(bytes.TrimSpace(line)) > 0 {
			p.add("too-large", stretch{at, at + i}, fmt.Sprintf("more than %d lists or quotes stand in each other here", deepest), "")
			return false
		}
		at += len(line)
	}
	return true
}

// frontMatter finds the YAML between two lines of "---" at the top of src, and
// gives the rest as Markdown in which every byte stands where it did.
func frontMatter(src []byte) (front stretch, body []byte) {
	body = bytes.Clone(src)
	start := 0
	if bytes.HasPrefix(src, []byte("\ufeff")) {
		start = 3
		copy(body, "   ")
	}
	isFence := func(line []byte) bool { return string(bytes.TrimRight(line, " \t\r\n")) == "---" }
	first := lineAt(src, start)
	if !isFence(src[start:first]) {
		return stretch{}, body
	}
	for at := first; at < len(src); {
		next := lineAt(src, at)
		if isFence(src[at:next]) {
			for i := range next {
				if body[i] != '\n' {
					body[i] = ' '
				}
			}
			return stretch{first, at}, body
		}
		at = next
	}
	return stretch{}, body
}

// lineAt is where the line that begins at from ends, its line end included.
func lineAt(src []byte, from int) int {
	if i := bytes.IndexByte(src[from:], '\n'); i >= 0 {
		return from + i + 1
	}
	return len(src)
}

type sheetParser struct {
	*findings
	sheet *Sheet
}

// unsafeText reports characters that would upset a terminal, the first of each line.
func (p *sheetParser) unsafeText() {
	text := p.src.text
	reported := false
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		switch {
		case r == '\n':
			reported = false
		case r == '\t', reported, r == '\r' && i+1 < len(text) && text[i+1] == '\n':
		case UnsafeRune(r):
			p.add("control-character", stretch{i, i + size}, fmt.Sprintf("there is a control character (U+%04X) in the text", r), "delete it")
			reported = true
		}
		i += size
	}
}

// markdown reads only what a sheet is made of: headings, lists, tables and the
// prose between. Nothing is rendered, so inline markup is left as it is.
var markdown = goldmark.New(
	goldmark.WithExtensions(extension.Table),
	goldmark.WithParser(parser.NewParser(
		parser.WithBlockParsers(parser.DefaultBlockParsers()...),
		parser.WithParagraphTransformers(util.Prioritized(extension.NewTableParagraphTransformer(), 200)),
	)),
)

// section is a heading and the blocks below it.
type section struct {
	name   string
	at     stretch
	level  int
	blocks []ast.Node
}

func (p *sheetParser) body(body []byte) {
	doc := markdown.Parser().Parse(text.NewReader(body))
	var sections []section
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		if h, ok := n.(*ast.Heading); ok {
			at := p.lines(h)
			if at == (stretch{}) {
				at = stretch{h.Pos(), h.Pos()}
			}
			sections = append(sections, section{name: headingText(p.src.slice(at)), at: at, level: h.Level})
		} else if len(sections) > 0 {
			last := &sections[len(sections)-1]
			last.blocks = append(last.blocks, n)
		} else {
			sections = append(sections, section{blocks: []ast.Node{n}})
		}
	}
	titled := p.sheet.Title != plain(p.sheet.Name)
	var order *section
	for i := range sections {
		sec := &sections[i]
		isOrder := Key(sec.name) == "order"
		if sec.level == 1 && !titled && sec.name != "" && !isOrder {
			p.sheet.Title, titled = sec.name, true
		}
		switch {
		case sec.level > 0 && isOrder:
			if order != nil {
				p.add("order-again", sec.at, "there is a second order", "keep one", Related{p.src.span(order.at.from, order.at.to), "first order here"})
				continue
			}
			order = sec
		case sec.level > 0:
			p.figure(sec)
		}
	}
	for _, fig := range p.sheet.Figures {
		for _, alias := range fig.Aliases {
			if key := Key(alias); p.sheet.byKey[key] == nil {
				p.sheet.byKey[key] = fig
			}
		}
	}
	if order != nil {
		p.order(order)
	} else if !p.sheet.Defines {
		end := len(p.src.text)
		p.add("order-missing", stretch{end, end}, "the sheet has no order: nothing says which figures are danced", "a heading \"## Order\" and below it a numbered list of figures")
	}
}

var inlineMarks = strings.NewReplacer("**", "", "__", "", "*", "", "`", "")

// headingText is a heading or a name without its markup.
func headingText(s string) string {
	return strings.Join(strings.Fields(plain(inlineMarks.Replace(s))), " ")
}

// lines is the stretch of a block's own text.
func (p *sheetParser) lines(n ast.Node) stretch {
	l := n.Lines()
	if l.Len() == 0 {
		return stretch{}
	}
	at := stretch{l.At(0).Start, l.At(l.Len() - 1).Stop}
	for at.to > at.from && strings.ContainsRune(" \t\r\n", rune(p.src.text[at.to-1])) {
		at.to--
	}
	for at.from < at.to && strings.ContainsRune(" \t\r\n", rune(p.src.text[at.from])) {
		at.from++
	}
	return at
}

// itemText is the stretch of a list item's first line or paragraph.
func (p *sheetParser) itemText(item ast.Node) stretch {
	if first := item.FirstChild(); first != nil && (first.Kind() == ast.KindTextBlock || first.Kind() == ast.KindParagraph) {
		return p.lines(first)
	}
	return stretch{}
}

// figure reads a section as a figure if it holds a chart; else it is prose.
func (p *sheetParser) figure(sec *section) {
	var charts []*east.Table
	broken := false
	for _, b := range sec.blocks {
		switch b := b.(type) {
		case *east.Table:
			if p.isChart(b) {
				charts = append(charts, b)
			}
		case *ast.Paragraph:
			at := p.lines(b)
			if looksLikeChart(p.src.slice(at)) {
				broken = true
				p.add("chart-broken", at, "this looks like a chart, but is no table", "the second line needs as many |---| as the first has columns")
			}
		}
	}
	key := Key(sec.name)
	if len(charts) == 0 && !broken {
		p.sheet.prose[key] = true
		return
	}
	fig := &Figure{Name: sec.name, At: p.src.span(sec.at.from, sec.at.to), unplaced: broken}
	for _, b := range sec.blocks {
		if list, ok := b.(*ast.List); ok && !list.IsOrdered() {
			for item := list.FirstChild(); item != nil; item = item.NextSibling() {
				p.fact(fig, p.itemText(item))
			}
		}
	}
	for _, c := range charts {
		p.chart(fig, c)
	}
	p.place(fig)
	if first := p.sheet.byKey[key]; first != nil {
		p.add("figure-again", sec.at, "there is a second figure named "+quoted(fig.Name), "give it another name", Related{first.At, "first here"})
		return
	}
	p.sheet.byKey[key] = fig
	p.sheet.Figures = append(p.sheet.Figures, fig)
}

var (
	headingPattern = regexp.MustCompile(`(?i)\bcounts?\b`)
	dashesPattern  = regexp.MustCompile(`^\s*\|?\s*:?-`)
)

func looksLikeChart(text string) bool {
	heading, rest, _ := strings.Cut(text, "\n")
	return strings.Contains(heading, "|") && headingPattern.MatchString(heading) && dashesPattern.MatchString(rest)
}

// columnNames are the headings of a chart's columns, by their first word.
var columnNames = map[string]column{
	"count": countColumn, "counts": countColumn, "timing": countColumn, "time": countColumn, "beat": countColumn, "rhythm": countColumn,
	"leader": leaderColumn, "lead": leaderColumn, "man": leaderColumn, "mans": leaderColumn, "leaders": leaderColumn, "gentleman": leaderColumn,
	"follower": followerColumn, "follow": followerColumn, "lady": followerColumn, "ladys": followerColumn, "woman": followerColumn, "followers": followerColumn,
}

// otherColumns are headings whose columns are for people only.
var otherColumns = []string{"step", "no", "nr", "number", "note", "notes", "#"}

// headingMarks are of no account in the heading of a column: "Man's", "No.".
var headingMarks = strings.NewReplacer("'", "", "’", "", ".", "", ":", "")

func columnOf(heading string) (c column, known bool) {
	fields := strings.Fields(strings.ToLower(inlineMarks.Replace(heading)))
	if len(fields) == 0 {
		return otherColumn, true
	}
	word := headingMarks.Replace(fields[0])
	if c, ok := columnNames[word]; ok {
		return c, true
	}
	return otherColumn, slices.Contains(otherColumns, word)
}

// isChart reports whether a table has a column of counts.
func (p *sheetParser) isChart(t *east.Table) bool {
	for cell := t.FirstChild().FirstChild(); cell != nil; cell = cell.NextSibling() {
		if c, _ := columnOf(p.src.slice(p.lines(cell))); c == countColumn {
			return true
		}
	}
	return false
}

// chart reads the rows of a table into fig.
func (p *sheetParser) chart(fig *Figure, t *east.Table) {
	tt := p.tableText(t)
	has := p.columns(&tt)
	fig.text.tables = append(fig.text.tables, tt)
	heading := stretch{tt.cells[0][0].from, tt.cells[0][len(tt.cells[0])-1].to}
	sides, ok := p.sides(fig, has, heading)
	if !ok {
		p.add("column-missing", heading, "the chart tells nobody's steps", "name a column Leader or Follower")
		fig.unplaced = true
		return
	}
	rows := p.rows(fig, &tt, has, sides)
	for _, side := range sides {
		fig.Has[side] = true
	}
	if len(rows) == 0 {
		p.add("chart-empty", heading, "the chart has no steps", "")
		fig.unplaced = true
		return
	}
	if fig.unplaced {
		fig.Rows = append(fig.Rows, rows...)
		return
	}
	at := func(row int) stretch { return tt.cells[row+1][has[countColumn]] }
	placed := p.placeRows(fig, rows, at)
	if len(fig.Rows) == 0 {
		fig.Rows, fig.End, fig.Floating = rows, placed.end, placed.floating
		return
	}
	p.merge(fig, rows, placed, stretch{at(0).from, at(len(rows) - 1).to})
}

// columns reads a table's heading: which column tells what, and where each that is there
// stands; -1 where whose steps it tells is not known.
func (p *sheetParser) columns(tt *tableText) map[column]int {
	has := map[column]int{}
	for i, cell := range tt.cells[0] {
		c, known := columnOf(p.src.slice(cell))
		_, again := has[c]
		switch {
		case !known:
			p.add("unknown-column", cell, "a chart has no column "+quoted(p.src.slice(cell)), "Count, Leader, Follower, Step, Note")
		case c != otherColumn && again:
			p.add("column-again", cell, "the chart has two columns of this kind", "")
			if c != countColumn {
				has[c] = -1
			}
			c = otherColumn
		case c != otherColumn:
			has[c] = i
		}
		tt.columns = append(tt.columns, c)
	}
	return has
}

// sides are the partners whose steps a chart adds to a figure; ok is false if it tells
// nobody's.
func (p *sheetParser) sides(fig *Figure, has map[column]int, heading stretch) (sides []Partner, ok bool) {
	for _, side := range Partners() {
		i, told := has[leaderColumn+column(side)]
		ok = ok || told
		switch {
		case told && fig.Has[side]:
			p.add("column-again", heading, "the "+side.String()+"'s steps are told twice in this figure", "")
		case told && i >= 0:
			sides = append(sides, side)
		}
	}
	return sides, ok
}

// rows reads the rows of a table for some partners. Where a row's cells may be another
// column's, its steps are unclear; without all counts the figure can't be placed.
func (p *sheetParser) rows(fig *Figure, tt *tableText, has map[column]int, sides []Partner) (rows []Row) {
	for i, cells := range tt.cells[1:] {
		shifted := false // which cell is whose is not known
		if rest := p.restOfLine(cells[len(cells)-1].to); strings.Trim(p.src.slice(rest), "| \t\r") != "" {
			p.add("row-too-long", rest, "this row has more cells than the chart has columns", "a | inside a note is written \\|")
			shifted = true
		}
		cell := cells[has[countColumn]]
		text := p.src.slice(cell)
		c, ok := ParseCount(inlineMarks.Replace(text))
		if !ok {
			message, hint := quoted(text)+" is no count", "a beat's number, 4-1 for a held count, &, a, e, S or Q"
			if strings.TrimSpace(text) == "" {
				message = "this row has no count"
			}
			if !shifted {
				p.add("count-unreadable", cell, message, hint)
			}
			fig.unplaced, shifted = true, shifted || tt.short[i+1]
		}
		row := Row{Count: c}
		for _, side := range sides {
			cell := cells[has[leaderColumn+column(side)]]
			row.Written[side] = true
			if shifted {
				row.Steps[side] = Step{At: p.src.span(cell.from, cell.to), unclear: true}
			} else {
				row.Steps[side] = p.step(cell)
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// placeRows finds the beats of a chart's rows, whose counts stand at some places.
func (p *sheetParser) placeRows(fig *Figure, rows []Row, at func(row int) stretch) placement {
	counts := make([]Count, len(rows))
	for i := range rows {
		counts[i] = rows[i].Count
	}
	placed := place(counts, p.sheet.Dance)
	fig.doubtful = fig.doubtful || len(placed.troubles) > 0
	if p.sheet.danceKnown {
		for _, t := range placed.troubles {
			p.add(t.code, at(t.row), t.message, t.hint)
		}
	}
	for i := range rows {
		rows[i].At = placed.at[i]
	}
	return placed
}

// merge lays a second partner's rows beside the first's, beat by beat.
func (p *sheetParser) merge(fig *Figure, rows []Row, placed placement, at stretch) {
	if placed.floating != fig.Floating || placed.end != fig.End || rows[0].At != fig.Rows[0].At {
		p.add("parts-differ", at, fmt.Sprintf("the partners do not fill the same beats: %s beats here, %s in the chart before",
			placed.end-rows[0].At, fig.End-fig.Rows[0].At), "")
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

// place settles what only the whole figure tells.
func (p *sheetParser) place(fig *Figure) {
	if fig.unplaced { // a length that does no harm to what comes after
		fig.End, fig.Floating = Beats(len(fig.Rows))*Beat, true
		for i := range fig.Rows {
			fig.Rows[i].At = Beats(i) * Beat
		}
	}
}

func (p *sheetParser) tableText(t *east.Table) tableText {
	tt := tableText{whole: stretch{-1, 0}}
	for _, a := range t.Alignments {
		tt.aligns = append(tt.aligns, a.String())
	}
	// A cell that is not written has no place of its own: it stands after the
	// cell before it, and the first of a row at the row's start.
	previous := 0
	for row := t.FirstChild(); row != nil; row = row.NextSibling() {
		var cells []stretch
		short := false
		previous = max(row.Pos(), previous)
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			at := p.lines(cell)
			if cell.Lines().Len() == 0 {
				at, short = stretch{previous, previous}, true
			}
			cells = append(cells, at)
			previous = at.to
		}
		tt.cells, tt.short = append(tt.cells, cells), append(tt.short, short)
	}
	tt.whole.from = p.src.lines[p.src.pos(t.FirstChild().Pos()).Line-1]
	tt.whole.to = p.restOfLine(previous).to
	return tt
}

// restOfLine is what stands between a place and the end of its line.
func (p *sheetParser) restOfLine(from int) stretch {
	to := len(p.src.text)
	if i := bytes.IndexByte(p.src.text[from:], '\n'); i >= 0 {
		to = from + i
	}
	for to > from && p.src.text[to-1] == '\r' {
		to--
	}
	return stretch{from, to}
}

var factPattern = regexp.MustCompile(`^(?s)\s*([A-Za-z][A-Za-z ]{0,30}?)\s*:\s*(.*)$`)

// splitFact cuts "starts: open facing" into its name and the stretch of its value.
func (p *sheetParser) splitFact(at stretch) (factText, bool) {
	m := factPattern.FindStringSubmatchIndex(p.src.slice(at))
	if m == nil {
		return factText{}, false
	}
	return factText{
		key:   stretch{at.from + m[2], at.from + m[3]},
		value: stretch{at.from + m[4], at.from + m[5]},
		name:  strings.ToLower(strings.Join(strings.Fields(p.src.slice(stretch{at.from + m[2], at.from + m[3]})), " ")),
	}, true
}

var factNames = []string{"starts", "ends", "also called", "level", "source", "note"}

// fact reads a bullet above a chart. A bullet that names no fact is prose.
func (p *sheetParser) fact(fig *Figure, at stretch) {
	fact, ok := p.splitFact(at)
	if !ok {
		return
	}
	value := p.src.slice(fact.value)
	switch fact.name {
	case "starts":
		fig.Starts = p.stance(fact.value)
	case "ends":
		fig.Ends = p.stance(fact.value)
	case "also called":
		for _, alias := range strings.FieldsFunc(value, func(r rune) bool { return r == ',' || r == ';' }) {
			fig.Aliases = append(fig.Aliases, headingText(alias))
		}
	case "level":
		n, err := strconv.ParseUint(strings.TrimSpace(value), 10, 8)
		if err != nil || n == 0 || n > mostLevels {
			p.add("bad-value", fact.value, quoted(value)+" is no teaching level", "1, 2 or 3")
			n = 0
		}
		fig.Level = int(n)
	case "source":
		fig.Source = headingText(value)
	case "note":
	default:
		if near := Nearest(fact.name, factNames); len(near) > 0 && len(Key(fact.name)) < len(Key(near[0]))+3 {
			p.add("unknown-fact", fact.key, quoted(fact.name)+" is no fact of a figure", "perhaps "+strings.Join(near, ", "))
		}
		return
	}
	if fact.name != "note" && slices.ContainsFunc(fig.text.facts, func(f factText) bool { return f.name == fact.name }) {
		p.add("said-twice", fact.key, quoted(fact.name)+" is said twice of this figure", "keep one")
	}
	fig.text.facts = append(fig.text.facts, fact)
}

// stance reads "closed or open facing, leader LF free, follower RF free, facing DW".
func (p *sheetParser) stance(at stretch) Stance {
	st := Stance{At: p.src.span(at.from, at.to)}
	if p.tooLong(at) {
		st.Positions = AnyPosition
		return st
	}
	words, note := splitWords(p.src.slice(at), at.from)
	st.Note = note
	if len(words) == 0 {
		p.add("bad-value", at, "nothing is said here", "closed or open facing, leader LF free, facing DW")
	}
	unclear := false
	unknown := func(at stretch, message, hint string) {
		p.add("unknown-word", at, message, hint)
		unclear = true
	}
	twice := func(at stretch, side Partner) {
		p.add("said-twice", at, "this is said twice of the "+side.String(), "keep one")
	}
	var r reading
	for i := 0; i < len(words); {
		w := words[i]
		if joined(words[i:]) == "as started" {
			st.AsStarted = true
			i += 2
			continue
		}
		side := Leader
		if c := columnNames[w.text]; c == leaderColumn || c == followerColumn {
			side = Partner(c - leaderColumn)
			if i++; i == len(words) || words[i].text == "," {
				unknown(w.at, "nothing is said of the "+side.String(), side.String()+" LF free, "+side.String()+" facing DW")
				continue
			}
			w = words[i]
			if foot := footNames[w.text]; foot != NoFoot {
				if st.Free[side] != NoFoot {
					twice(w.at, side)
					foot = NoFoot
				}
				st.Free[side] = foot
				for i++; i < len(words) && (words[i].text == "free" || words[i].text == "foot" || words[i].text == "is"); i++ {
				}
				continue
			}
		}
		r.step.Alignment = Alignment{}
		if n := p.alignment(&r, words[i:]); n > 0 {
			if st.Facing[side].Stand != NoStand {
				twice(w.at, side)
				r.step.Alignment = Alignment{}
			}
			st.Facing[side] = r.step.Alignment
			i += n
			continue
		}
		if n := stepVocabulary().match(&r, words[i:]); n > 0 && r.step.Position != 0 {
			st.Positions |= r.step.Position
			r = reading{}
			i += n
			continue
		}
		if w.text != "," && w.text != "or" && !fillers[w.text] {
			unknown(w.at, quoted(p.src.slice(w.at))+" is no hold or position", p.near(w.text, positionNames()))
		}
		i++
	}
	if unclear {
		st.Positions, st.AsStarted = AnyPosition, false
	}
	return st
}

func joined(words []word) string {
	var texts []string
	for _, w := range words[:min(2, len(words))] {
		texts = append(texts, w.text)
	}
	return strings.Join(texts, " ")
}

func positionNames() (names []string) {
	for _, fact := range positionFacts {
		names = append(names, fact.name)
	}
	return names
}
