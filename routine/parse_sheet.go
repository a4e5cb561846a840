package routine

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	east "github.com/yuin/goldmark/extension/ast"
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
	mostTimes   = 99
	mostSteps   = 200_000 // of a routine, repeats included
)

// parse always returns a sheet, with all that could be read, and every finding that does not need the
// order to be danced through.
func parse(name string, src []byte, book Book) (*Sheet, *findings) {
	f := &findings{src: newSource(src)}
	s := &Sheet{Name: name, Title: Plain(name), Dance: plainDance(), src: f.src, book: book,
		byKey: map[string]*Figure{}, prose: map[string]bool{}}
	switch {
	case len(src) > LargestSheet:
		f.add("too-large", extent{}, fmt.Sprintf("the sheet is larger than %d MiB", LargestSheet>>20), "")
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
		f.add("not-utf8", extent{at, at + 1}, "the file is not UTF-8 text", "save it as UTF-8")
		return s, f
	}
	p := parser{findings: f, sheet: s}
	p.unsafeText()
	front, body := frontMatter(src)
	p.frontMatter(front)
	if p.shallow(body) && p.fewCells(body) {
		p.body(body)
	}
	return s, f
}

// listPattern matches the mark of a list's item.
var listPattern = regexp.MustCompile(`[-*+.)][ \t]`)

// shallow reports whether lists and quotes are nested as people nest them. The time to read them grows
// with the square of their depth.
func (p *parser) shallow(body []byte) bool {
	at := 0
	for line := range bytes.Lines(body) {
		marks := line[:len(line)-len(bytes.TrimLeft(line, " \t>-+*.)0123456789"))]
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
var delimiterPattern = regexp.MustCompile(`^[ \t>*+.)\d-]*[|:\- \t]*-[|:\- \t]*\r?\n?$`)

// fewCells reports whether the tables have as many cells as people write. Markdown fills each row up to
// the heading's columns, so a wide heading above many short rows takes gigabytes.
func (p *parser) fewCells(body []byte) bool {
	at, columns, cells := 0, 0, 0
	for line := range bytes.Lines(body) {
		switch {
		case len(bytes.Trim(line, " \t>\r\n")) == 0:
			columns = 0
		case delimiterPattern.Match(line):
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
	all := 0
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) { // the function never returns an error
		if !entering || n.Type() != ast.TypeBlock || n.Kind() == ast.KindCodeBlock || n.Kind() == ast.KindFencedCodeBlock || n.Kind() == ast.KindHTMLBlock {
			return ast.WalkContinue, nil
		}
		marks := 0
		for i := range n.Lines().Len() {
			line := n.Lines().At(i)
			for _, c := range line.Value(p.src.text) {
				if strings.IndexByte("*_[]<>`", c) >= 0 {
					marks++
				}
			}
		}
		if marks > mostMarks {
			p.add("too-large", p.lines(n), fmt.Sprintf("one paragraph or cell has more than %d of the marks * _ [ ] < > `", mostMarks), "")
		}
		if all += marks; all > allMarks {
			p.add("too-large", p.lines(n), fmt.Sprintf("the sheet up to here has more than %d of the marks * _ [ ] < > `", allMarks), "")
			return ast.WalkStop, nil
		}
		return ast.WalkContinue, nil
	})
}

// frontPattern matches the YAML between two lines of "---" at the top of a sheet.
var frontPattern = regexp.MustCompile(`(?m)\A(?:\x{FEFF})?---[ \t\r]*\n((?s:.*?))^---[ \t\r]*$`)

// frontMatter finds the YAML between two lines of "---" at the top of src, and returns the rest as
// Markdown in which every byte is where it was.
func frontMatter(src []byte) (front extent, body []byte) {
	blank := len(src) - len(bytes.TrimPrefix(src, []byte("\ufeff")))
	if m := frontPattern.FindSubmatchIndex(src); m != nil {
		front, blank = extent{m[2], m[3]}, m[1]
	}
	body = bytes.Clone(src)
	for i := range blank {
		if body[i] != '\n' {
			body[i] = ' '
		}
	}
	return front, body
}

// Markdown returns a sheet's text with its front matter blanked, so that every byte is where it was.
func Markdown(src []byte) []byte {
	_, body := frontMatter(src)
	return body
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
var markdown = goldmark.New(
	goldmark.WithExtensions(extension.Table),
	goldmark.WithParser(mdparser.NewParser(
		mdparser.WithBlockParsers(mdparser.DefaultBlockParsers()...),
		mdparser.WithParagraphTransformers(util.Prioritized(extension.NewTableParagraphTransformer(), 200)),
	)),
)

// section is a heading and the blocks below it.
type section struct {
	name   string
	at     extent
	level  int
	blocks []ast.Node
	until  int // where the next section begins, or math.MaxInt
}

func (p *parser) body(body []byte) {
	doc := markdown.Parser().Parse(text.NewReader(body))
	p.fewMarks(doc)
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
		sections = append(sections, section{name: headingText(p.src.slice(at)), at: at, level: h.Level, until: math.MaxInt})
	}
	titled := p.sheet.Title != Plain(p.sheet.Name)
	var order *section
	for i := range sections[1:] {
		sec := &sections[i+1]
		isOrder := Key(sec.name) == "order"
		if sec.level == 1 && !titled && sec.name != "" && !isOrder {
			p.sheet.Title, titled = sec.name, true
		}
		switch {
		case !isOrder:
			p.figure(sec)
		case order != nil:
			p.add("order-again", sec.at, "there is a second \"## Order\"", "keep one of them", Related{p.src.span(order.at.from, order.at.to), "the first is here"})
		default:
			order = sec
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
		p.add("order-missing", extent{end, end}, "no \"## Order\" list found", "add a heading \"## Order\" and, below it, a numbered list of figures")
	}
}

var inlineMarks = strings.NewReplacer("**", "", "__", "", "*", "", "`", "")

// headingText returns a heading or a name without its markup.
func headingText(s string) string {
	return strings.Join(strings.Fields(Plain(inlineMarks.Replace(s))), " ")
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

// figure reads a section as a figure if it contains a chart; otherwise it is prose.
func (p *parser) figure(sec *section) {
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
				p.add("chart-broken", at, "this looks like a chart but is not a table", "the second line needs a |---| for each column of the first")
			}
		}
	}
	key := Key(sec.name)
	if len(charts) == 0 && !broken {
		p.sheet.prose[key] = true
		return
	}
	fig := &Figure{Name: sec.name, At: p.src.span(sec.at.from, sec.at.to), unplaced: broken, text: figureText{until: sec.until}}
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
		p.add("figure-again", sec.at, "there is a second figure named "+quoted(fig.Name), "give it another name", Related{first.At, "the first is here"})
		return
	}
	p.sheet.byKey[key] = fig
	p.sheet.Figures = append(p.sheet.Figures, fig)
}
