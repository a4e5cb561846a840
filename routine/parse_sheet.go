package routine

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	mdparser "github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// LargestSheet is the size, in bytes, above which a sheet is not read at all; a finding says so.
const LargestSheet = 1 << 20

// The bounds of a sheet. They are far beyond what anyone dances.
const (
	longestCell = 2000    // bytes; of a step or a stance
	deepest     = 100     // nested lists and quotes
	mostCells   = 250_000 // of all tables, including cells that short rows lack
	mostMarks   = 500     // Markdown's marks in one paragraph, heading or cell
	allMarks    = 20_000  // Markdown's marks in the whole sheet
	mostSteps   = 200_000 // of a routine, repeats included
)

// parse always returns a sheet, with all that could be read, and every finding that does not need the
// order to be danced through.
func parse(name string, src []byte, book Book) (*Sheet, *findings) {
	p := newParser(name, src, book)
	if !p.readable(src) {
		return p.sheet, p.findings
	}
	f := p.findings
	m := mended(f.src)
	f.src = m.src
	p.top()
	m.pass(func(m *mender) { m.announced(p.has) })
	m.pass((*mender).struck)
	m.pass((*mender).barred)
	m.pass(func(m *mender) { m.parts(p.has) })
	m.pass(func(m *mender) { m.spoken(p.has) })
	m.pass((*mender).spaces) // of lines that are items now
	m.pass(func(m *mender) { m.order(p.has) })
	m.pass((*mender).spaces)
	f.src, p.sheet.src = m.src, m.src // nothing has been read of the body
	for _, slip := range m.slips {
		f.list = append(f.list, NewFinding("loose-form", slip.at, slip.what, "slowquick tidy writes it so"))
	}
	p.rest()
	return p.sheet, f
}

// readable reports whether src is text of a size that is read, and says why if not.
func (p *parser) readable(src []byte) bool {
	switch {
	case len(src) > LargestSheet:
		p.findings.add("too-large", extent{}, fmt.Sprintf("the sheet is larger than %d MiB", LargestSheet>>20), "")
		return false
	case !utf8.Valid(src):
		at := 0
		for at < len(src) {
			r, size := utf8.DecodeRune(src[at:])
			if r == utf8.RuneError && size == 1 {
				break
			}
			at += size
		}
		what := "the file is not UTF-8 text"
		if bytes.HasPrefix(src, []byte("\xff\xfe")) || bytes.HasPrefix(src, []byte("\xfe\xff")) {
			what = "the file is UTF-16 text, not UTF-8"
		}
		p.findings.add("not-utf8", extent{at, at + 1}, what, "save it as UTF-8")
		return false
	}
	return true
}

// top reads the front matter.
func (p *parser) top() {
	front, _ := frontEnd(p.findings.src.text)
	p.frontMatter(front)
}

// rest reads what follows the front matter.
func (p *parser) rest() {
	p.unsafeText()
	_, body := frontMatter(p.findings.src.text)
	if p.shallow(body) && p.fewCells(body) {
		p.body(body)
	}
}

// listPattern matches the mark of a list's item.
var listPattern = lazily(`[-*+.)][ \t]`)

// shallow reports whether lists and quotes are nested as people nest them. The time to read them grows
// with the square of their depth.
func (p *parser) shallow(body []byte) bool {
	at := 0
	for line := range bytes.Lines(body) {
		marks := line[:len(line)-len(bytes.TrimLeft(line, " \t>-+*.)0123456789"))]
		if 4*len(marks) <= 2*deepest { // quickly: no mark, nor the space after it, counts for more
			at += len(line)
			continue
		}
		depth := bytes.Count(marks, []byte(" ")) + 4*bytes.Count(marks, []byte("\t")) // in columns; a list or a quote takes at least two
		depth += bytes.Count(marks, []byte(">")) + len(listPattern.FindAll(marks, -1))
		if depth > 2*deepest && len(bytes.TrimSpace(line)) > 0 {
			p.add("too-large", extent{at, at + len(marks)}, fmt.Sprintf("more than %d lists or quotes are nested here", deepest), "")
			return false
		}
		at += len(line)
	}
	return true
}

// delimiterPattern matches the line of dashes below a table's heading, also in a list or a quote.
var delimiterPattern = lazily(`^[ \t>*+.)\d-]*[|:\- \t]*-[|:\- \t]*\r?\n?$`)

// fewCells reports whether the tables have as many cells as people write. Markdown fills each row up to
// the heading's columns, so a wide heading above many short rows takes gigabytes.
func (p *parser) fewCells(body []byte) bool {
	at, columns, cells := 0, 0, 0
	for line := range bytes.Lines(body) {
		switch {
		case len(bytes.Trim(line, " \t>\r\n")) == 0:
			columns = 0
		case bytes.IndexByte(line, '-') >= 0 && delimiterPattern.Match(line):
			columns = max(columns, bytes.Count(bytes.Trim(line, " \t|\r\n"), []byte("|"))+1)
		}
		if cells += columns; cells > mostCells {
			p.add("too-large", extent{at, at + len(bytes.TrimRight(line, "\r\n"))}, fmt.Sprintf("the tables up to here have more than %d cells (columns times rows)", mostCells), "")
			return false
		}
		at += len(line)
	}
	return true
}

// fewMarks reports a finding if there are more of Markdown's marks than anyone writes. The time to read
// a paragraph for a handout grows with the square of its marks, or faster.
func (p *parser) fewMarks(doc ast.Node) {
	whole := extent{0, len(p.src.text)}
	if p.marks(whole) <= mostMarks {
		return
	}
	all := 0
	few := func(marks int, at extent) ast.WalkStatus {
		if marks > mostMarks {
			p.add("too-large", at, fmt.Sprintf("one paragraph or cell has more than %d of the marks * _ [ ] < > `", mostMarks), "")
		}
		if all += marks; all > allMarks {
			p.add("too-large", at, fmt.Sprintf("the sheet up to here has more than %d of the marks * _ [ ] < > `", allMarks), "")
			return ast.WalkStop
		}
		return ast.WalkContinue
	}
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) { // the function never returns an error
		if !entering || n.Type() != ast.TypeBlock || n.Kind() == ast.KindCodeBlock || n.Kind() == ast.KindFencedCodeBlock || n.Kind() == ast.KindHTMLBlock {
			return ast.WalkContinue, nil
		}
		if t, ok := n.(*table); ok {
			for _, cell := range slices.Concat(t.text.cells...) {
				if status := few(p.marks(cell), cell); status == ast.WalkStop {
					return status, nil
				}
			}
			return ast.WalkContinue, nil
		}
		marks := 0
		for i := range n.Lines().Len() {
			line := n.Lines().At(i)
			marks += p.marks(extent{line.Start, line.Stop})
		}
		return few(marks, p.lines(n)), nil
	})
}

// marks returns how many of Markdown's marks stand in a text.
func (p *parser) marks(at extent) (n int) {
	for _, c := range []byte("*_[]<>`") {
		n += bytes.Count(p.src.text[at.from:at.to], []byte{c})
	}
	return n
}

// frontEnd finds the YAML between two lines of "---" at the top of src, and where the rest begins.
func frontEnd(src []byte) (front extent, end int) {
	top := len(src) - len(bytes.TrimPrefix(src, []byte("\ufeff")))
	from := lineAt(src, top)
	if !isFence(src[top:from]) {
		return extent{}, top
	}
	for at := from; at < len(src); {
		next := lineAt(src, at)
		if isFence(src[at:next]) {
			return extent{from, at}, at + len(bytes.TrimSuffix(src[at:next], []byte("\n")))
		}
		at = next
	}
	return extent{}, top
}

// isFence reports whether a line is one of "---", which stands above and below the YAML.
func isFence(line []byte) bool {
	rest, found := bytes.CutPrefix(line, []byte("---"))
	return found && len(bytes.Trim(rest, " \t\r\n")) == 0
}

// frontMatter finds the YAML at the top of src, and returns the rest as Markdown in which every byte is
// where it was.
func frontMatter(src []byte) (front extent, body []byte) {
	front, blank := frontEnd(src)
	body = bytes.Clone(src)
	for i := range blank {
		if body[i] != '\n' {
			body[i] = ' '
		}
	}
	return front, body
}

// lineAt returns the end of the line that begins at from, including its line end.
func lineAt(src []byte, from int) int {
	if i := bytes.IndexByte(src[from:], '\n'); i >= 0 {
		return from + i + 1
	}
	return len(src)
}

type parser struct {
	*findings
	sheet *Sheet
	// Steps and stances without faults, by their texts.
	steps   map[string]Step
	stances map[string]Stance
}

func newParser(name string, src []byte, book Book) parser {
	f := &findings{src: newSource(src)}
	return parser{f, &Sheet{Name: name, Title: Plain(name), Dance: plainDance(), src: f.src, book: book,
		byKey: map[string]*Figure{}, prose: map[string]extent{}, places: map[int]*Figure{}}, map[string]Step{}, map[string]Stance{}}
}

// unsafeText reports characters that would upset a terminal, the first of each line.
func (p *parser) unsafeText() {
	text := p.src.text
	reported := false
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		switch {
		case r == '\n':
			reported = false
		case r == '\t', reported, r == '\r' && i+1 < len(text) && text[i+1] == '\n':
		case UnsafeRune(r):
			p.add("control-character", extent{i, i + size}, fmt.Sprintf("there is a control character (U+%04X) in the text", r), "delete it")
			reported = true
		}
		i += size
	}
}

// markdown parses only what a sheet is made of: headings, lists, tables and the prose between. Nothing
// is rendered, so inline markup is left as it is.
var markdown = mdparser.NewParser(
	mdparser.WithBlockParsers(mdparser.DefaultBlockParsers()...),
	mdparser.WithParagraphTransformers(util.Prioritized(tabling{}, 200)),
)

// section is a heading and the blocks below it.
type section struct {
	name   string
	at     extent // its heading's text
	pos    int    // where the heading begins
	level  int
	blocks []ast.Node
	until  int // where the next section begins, or math.MaxInt
}

func (p *parser) body(body []byte) {
	doc := markdown.Parse(text.NewReader(body))
	p.fewMarks(doc)
	sections := p.sections(doc)
	heads := make([]head, len(sections))
	for i := range sections {
		heads[i] = p.head(&sections[i])
	}
	roles := rolesOf(heads)
	var order, again []*section
	for i := range sections {
		sec := &sections[i]
		switch roles[i] {
		case orderRole, partRole:
			order = append(order, sec)
			p.sheet.places[sec.pos] = nil
		case secondRole:
			again = append(again, sec)
		case figureRole:
			charts := []*section{sec}
			for j := i + 1; j < len(sections) && heads[j].level > heads[i].level && roles[j] != figureRole; j++ {
				if roles[j] == chartRole {
					charts = append(charts, &sections[j])
				}
			}
			p.figure(charts)
		}
	}
	p.title(sections, roles)
	for _, fig := range p.sheet.Figures {
		for _, alias := range slices.Concat(fig.Aliases, fig.partNames()) {
			if key := Key(alias); p.sheet.byKey[key] == nil {
				p.sheet.byKey[key] = fig
			}
		}
	}
	for _, sec := range again {
		p.add("order-again", sec.at, "there is a second order", "keep one of them, or name this one as a part: \"### Part B\" in the order", Related{p.src.span(order[0].at.from, order[0].at.to), "the first is here"})
	}
	switch {
	case order != nil:
		p.order(order)
	case !p.sheet.Defines:
		p.orderMissing(sections)
	}
	p.proseIn(sections, roles)
}

// proseIn reads the sections that are neither the order nor figures.
func (p *parser) proseIn(sections []section, roles []role) {
	named, level := "", 0 // a section that the order names, above
	for i := range sections {
		if roles[i] != proseRole {
			named = ""
			continue
		}
		if sections[i].level <= level {
			named = ""
		}
		if named == "" {
			level = sections[i].level
		}
		named = p.prose(&sections[i], named)
	}
}

// sections returns the headings of a document with the blocks below each.
func (p *parser) sections(doc ast.Node) []section {
	sections := []section{{}} // what stands above the first heading
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		last := &sections[len(sections)-1]
		h, ok := n.(*ast.Heading)
		if !ok {
			last.blocks = append(last.blocks, n)
			continue
		}
		at := p.lines(h)
		if at == (extent{}) {
			at = extent{h.Pos(), h.Pos()}
		}
		last.until = at.from
		sections = append(sections, section{name: headingText(p.src.slice(at)), at: at, pos: h.Pos(), level: h.Level, until: math.MaxInt})
	}
	return sections
}

// head says of a section what decides its role.
func (p *parser) head(sec *section) head {
	h := head{name: sec.name, level: sec.level}
	for _, b := range sec.blocks {
		switch b := b.(type) {
		case *ast.List:
			h.list = true
		case *table:
			h.chart = h.chart || p.isChart(&b.text)
		case *ast.Paragraph:
			h.chart = h.chart || p.brokenChart(p.lines(b)) != ""
		}
	}
	return h
}

// title takes the sheet's title from the first heading of level 1, if its settings name none.
func (p *parser) title(sections []section, roles []role) {
	if p.sheet.Title != Plain(p.sheet.Name) {
		return
	}
	for i, sec := range sections {
		if sec.level == 1 && sec.name != "" && roles[i] != orderRole && roles[i] != secondRole {
			p.sheet.Title = sec.name
			return
		}
	}
}

// What is said of a chart that is no figure's.
const (
	noName   = "this chart stands below no figure's name"
	nameHint = "put the name above it, as a heading: \"## Boathouse step\""
)

// prose passes over a section for people, but not over a chart or steps in it. If they are those of a figure that the order
// names, or of a section below its heading, they are reported with its name.
func (p *parser) prose(sec *section, above string) (named string) {
	key := Key(sec.name)
	first := extent{} // of what it says
	if len(sec.blocks) > 0 {
		if lines := p.linesIn(sec.blocks[0]); len(lines) > 0 {
			first = lines[0]
		}
	}
	p.sheet.prose[key] = first
	if named = above; named == "" && p.sheet.figure(sec.name) == nil && slices.ContainsFunc(p.sheet.written, func(item Item) bool { return Key(item.Name) == key }) {
		named = key
	}
	for _, b := range sec.blocks {
		t, isTable := b.(*table)
		switch at, message, hint := p.unread(b); {
		case isTable && p.isChart(&t.text):
			p.add("chart-broken", p.extentOf(b), noName, nameHint)
		case message == "":
			p.listedBeside(b)
			p.settingsBeside(sec.level < 2, b)
		case named != "" && key != "":
			p.sheet.prose[named] = at
			key = "" // the first only
		case named == "":
			p.add(unreadCode(hint), at, message, hint)
		}
	}
	return named
}

// listedBeside reports a numbered list of figures beside the order.
func (p *parser) listedBeside(b ast.Node) {
	list, ok := b.(*ast.List)
	if !ok || !list.IsOrdered() || len(p.sheet.written) == 0 {
		return
	}
	for item := list.FirstChild(); item != nil; item = item.NextSibling() {
		at := p.itemText(item)
		if name := say(p.src.slice(at), p.has).name; !p.has(headingText(p.src.slice(at)[name.from:name.to])) {
			return
		}
	}
	p.add("order-not-read", p.extentOf(b), "this list of figures is not danced: it is not in the order", "put it below \"## Order\", with a heading of its own if it is a part: \"### Part B\"")
}

// settingsBeside reports the settings in a paragraph where they are not read, if they may be meant to be.
func (p *parser) settingsBeside(meant bool, b ast.Node) {
	if _, ok := b.(*ast.Paragraph); ok && meant {
		for _, at := range p.linesIn(b) {
			p.settingBeside(at)
		}
	}
}

// unreadCode tells steps from a chart that is broken.
func unreadCode(hint string) Code {
	if hint == chartHint {
		return "steps-not-read"
	}
	return "chart-broken"
}

// unread returns where a block that is no chart has steps, and what to do about it; message is "" if it has none.
func (p *parser) unread(b ast.Node) (at extent, message, hint string) {
	switch b := b.(type) {
	case *ast.Paragraph:
		if hint := p.brokenChart(p.lines(b)); hint != "" {
			return p.lines(b), "this looks like a chart but is not a table", hint
		}
		if lines := p.linesIn(b); p.areSteps(lines) {
			return lines[0], "the steps on these lines are not read", chartHint
		}
	case *ast.List:
		var items []extent
		for item := b.FirstChild(); item != nil; item = item.NextSibling() {
			items = append(items, p.itemText(item))
		}
		if p.areSteps(items) {
			return p.extentOf(b), "the steps in this list are not read", chartHint
		}
	case *ast.HTMLBlock, *ast.Blockquote:
		if lines := p.linesIn(b); p.areSteps(lines) {
			return lines[0], "the steps on these lines are not read", chartHint
		}
	}
	return extent{}, "", ""
}

// orderMissing reports that no order was found: at a numbered list, which may be it, or at the end.
func (p *parser) orderMissing(sections []section) {
	for _, sec := range sections {
		for _, b := range sec.blocks {
			if list, ok := b.(*ast.List); ok && list.IsOrdered() {
				p.add("order-missing", p.itemText(list.FirstChild()), "no \"## Order\" list found", "if this list is the order, put a heading \"## Order\" above it")
				return
			}
		}
	}
	for _, sec := range sections {
		for _, b := range sec.blocks {
			for _, at := range p.linesIn(b) {
				text := p.src.slice(at)
				if a, ok := leadOf(text); ok {
					text = text[a.to:]
				}
				text = text[len(itemPattern.FindString(text)):]
				if name := say(text, p.has).name; p.has(headingText(text[name.from:name.to])) {
					p.add("order-missing", at, "no \"## Order\" list found", "if these figures are the order, put a heading \"## Order\" above them")
					return
				}
			}
		}
	}
	end := len(p.src.text)
	p.add("order-missing", extent{end, end}, "no \"## Order\" list found", "add a heading \"## Order\" and, below it, a numbered list of figures")
}

// stepPattern matches the beginning of a step in running text.
var stepPattern = lazily(`^(?:[^A-Za-z]{0,6}|\w{1,10}[:.)]\s*)(?:LF|RF)\b`)

// chartHint says how steps are written.
const chartHint = "write them as a table with the columns Count, Leader and Follower"

// countedPattern matches what may stand before a step in running text: its count, or whose it is.
var countedPattern = lazily(`^[ \t]*(?:\w{1,10}[ \t]*[:.)][ \t]*|[^\pL]{1,8})`)

// areSteps reports whether several texts are steps.
func (p *parser) areSteps(texts []extent) bool {
	steps := 0
	for _, at := range texts {
		text := p.src.slice(at)
		if strings.IndexByte(text, '<') >= 0 {
			text = htmlTag.ReplaceAllString(text, " ")
		}
		if name, _, named := strings.Cut(text, ":"); named && lex().facts[strings.ToLower(name)] != "" {
			continue
		}
		for piece := range strings.FieldsFuncSeq(text, func(r rune) bool { return strings.ContainsRune(",;/|", r) }) {
			if isStep(strings.Trim(piece, " \t.")) {
				steps++
			}
		}
	}
	return steps > 1
}

// isStep reports whether a text is a step, which may have its count before it.
func isStep(text string) bool {
	if stepPattern.MatchString(text) {
		return true
	}
	if len(text) > longestCell {
		return false
	}
	step, found := ParseStep(text[len(countedPattern.FindString(text)):])
	return len(found) == 0 && !step.Stands()
}

// brokenChart returns what to do about a paragraph that looks like a chart, or "" if it doesn't.
func (p *parser) brokenChart(at extent) string {
	first, rest, _ := strings.Cut(p.src.slice(at), "\n")
	switch form := chartHeading(first); {
	case form == piped:
		return "the second line needs a |---| for each column of the first"
	case form != noChart && form != spaced && rest != "":
		return "put | between the cells, or a cell that contains the mark between the others in quotes"
	}
	cells := pipedCells(first)
	if len(cells) < 2 {
		return ""
	}
	if _, ok := ParseCount(unmarked(cells[0])); ok && stepPattern.MatchString(strings.TrimSpace(cells[1])) {
		return "put a heading above its rows: | Count | Leader | Follower |, and |---|---|---| below that"
	}
	return ""
}

var inlineMarks = strings.NewReplacer("**", "", "__", "", "*", "", "`", "")

// unmarked returns a text without the marks of bold, italics and code.
func unmarked(text string) string {
	if !strings.ContainsAny(text, "*_`") {
		return text
	}
	return inlineMarks.Replace(text)
}

// headingText returns a heading or a name without its markup.
func headingText(s string) string {
	return strings.Join(strings.Fields(Plain(unmarked(s))), " ")
}

// lines returns the extent of a block's own text.
func (p *parser) lines(n ast.Node) extent {
	l := n.Lines()
	if l.Len() == 0 {
		return extent{}
	}
	return p.trimmed(extent{l.At(0).Start, l.At(l.Len() - 1).Stop})
}

// trimmed returns an extent without the space around its text.
func (p *parser) trimmed(at extent) extent {
	text := p.src.text[at.from:at.to]
	at.to -= len(text) - len(bytes.TrimRight(text, " \t\r\n"))
	text = p.src.text[at.from:at.to]
	at.from += len(text) - len(bytes.TrimLeft(text, " \t\r\n"))
	return at
}

// itemText returns the extent of a list item's first line or paragraph.
func (p *parser) itemText(item ast.Node) extent {
	if first := item.FirstChild(); first != nil && (first.Kind() == ast.KindTextBlock || first.Kind() == ast.KindParagraph) {
		return p.lines(first)
	}
	return extent{}
}

// figure reads a section with a chart as a figure; the sections below it may have more of it.
func (p *parser) figure(sections []*section) {
	sec := sections[0]
	fig := &Figure{Name: sec.name, At: p.src.span(sec.at.from, sec.at.to), text: figureText{at: sec.at, until: math.MaxInt}}
	for _, s := range sections {
		if fig.text.until = s.until; s.until < math.MaxInt {
			fig.text.until = p.src.asWritten(s.until)
		}
		for _, b := range s.blocks {
			if list, ok := b.(*ast.List); ok && !list.IsOrdered() {
				p.facts(fig, list)
			}
			if at, message, hint := p.unread(b); message != "" {
				code := unreadCode(hint)
				fig.unplaced = fig.unplaced || code == "chart-broken"
				p.add(code, at, message, hint)
			}
			p.settingsBeside(true, b)
		}
	}
	for _, s := range sections {
		for _, b := range s.blocks {
			t, ok := b.(*table)
			switch {
			case ok && p.isChart(&t.text):
				p.chart(fig, t.text, s.name)
			case ok:
				p.add("not-read", p.extentOf(t), "this table is not read: it has no column of counts", "a chart has the columns Count, Leader and Follower")
			}
		}
	}
	p.toldOf(fig, sections)
	p.place(fig)
	p.beyond(fig)
	if fig.alternates() {
		fig.ways = &ways{}
	}
	key := Key(sec.name)
	if first := p.sheet.byKey[key]; first != nil {
		p.add("figure-again", sec.at, "there is a second figure named "+quoted(fig.Name), "give it another name", Related{first.At, "the first is here"})
		return
	}
	for _, s := range sections {
		p.sheet.places[s.pos] = fig
	}
	p.sheet.byKey[key] = fig
	p.sheet.Figures = append(p.sheet.Figures, fig)
}

// toldOf reports lines that tell in words what a partner dances who has no column: "Follower: natural opposite".
func (p *parser) toldOf(fig *Figure, sections []*section) {
	if fig.Has == [2]bool{true, true} {
		return
	}
	for _, s := range sections {
		for _, b := range s.blocks {
			if _, ok := b.(*table); ok {
				continue
			}
			for _, at := range p.linesIn(b) {
				if side, told := toldPartner(p.src.slice(at)); told && !fig.Has[side] {
					p.add("steps-not-read", at, "what this says of the "+side.String()+"'s steps is not read", "give the chart a column for the "+side.String())
				}
			}
		}
	}
}

// toldPartner returns the partner of whom a line tells: "Follower: natural opposite".
func toldPartner(line string) (Partner, bool) {
	m := announcedPattern.FindStringSubmatch(line)
	if m == nil || m[2] == "" {
		return 0, false
	}
	c, _ := columnOf(m[1])
	return Partner(c - leaderColumn), c == leaderColumn || c == followerColumn
}

// extentOf returns where the first line of a table or a list stands.
func (p *parser) extentOf(n ast.Node) extent {
	if list, ok := n.(*ast.List); ok {
		return p.itemText(list.FirstChild())
	}
	return p.trimmed(restOfLine(p.src.text, n.Pos()))
}
