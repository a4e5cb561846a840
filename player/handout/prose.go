package handout

import (
	"bufio"
	"bytes"
	"html"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	east "github.com/yuin/goldmark/extension/ast"
	mdhtml "github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/text"

	"dance.example/slowquick/routine"
)

// block is a piece of a sheet's prose. Everything in it is text: links lead nowhere, pictures are their
// descriptions, and tags are letters.
type block struct {
	Kind  string // "p", "h", "ol", "ul", "quote", "code", "table"
	Spans []span
	Items [][]block // of a list; a quote has one
	Rows  [][][]span
}

// span is a run of text.
type span struct {
	Text             string
	Strong, Emphasis bool
	Code             bool
}

// section is the prose below one heading.
type section struct {
	Name   string // "" above the first heading
	Level  int
	Blocks []block
	at     int // where it begins in the sheet's Markdown
}

// sheetProse is what a sheet says to people.
type sheetProse struct {
	Intro   []section // in order: everything but the order and the figures
	Order   []block   // beside the list
	Figures map[*routine.Figure][]block
}

var markdown = goldmark.New(goldmark.WithExtensions(extension.Table))

// readProse reads the prose of a sheet that was read as score s.
func readProse(s *routine.Score) sheetProse {
	body := s.Markdown()
	out := sheetProse{Figures: map[*routine.Figure][]block{}}
	now := section{at: -1}
	read := proseReader{src: body}
	end := func() {
		key := routine.Key(now.Name)
		switch fig := s.FigureAt(now.at); {
		case s.InOrder(now.at):
			out.Order = append(out.Order, now.Blocks...)
		case fig != nil:
			out.Figures[fig] = append(out.Figures[fig], now.Blocks...)
		case len(now.Blocks) > 0:
			if key == routine.Key(s.Title) {
				now.Name = ""
			}
			out.Intro = append(out.Intro, now)
		}
	}
	doc := markdown.Parser().Parse(text.NewReader(body))
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		if h, ok := n.(*ast.Heading); ok {
			end()
			now = section{Name: plainText(read.inline(h, span{})), Level: h.Level, at: h.Pos()}
			continue
		}
		if s.InOrder(now.at) && isOrdered(n) || s.FigureAt(now.at) != nil && isChartOrFacts(n) {
			continue // shown elsewhere
		}
		now.Blocks = append(now.Blocks, read.block(n)...)
	}
	end()
	return out
}

func isOrdered(n ast.Node) bool {
	list, ok := n.(*ast.List)
	return ok && list.IsOrdered()
}

func isChartOrFacts(n ast.Node) bool {
	_, table := n.(*east.Table)
	list, ok := n.(*ast.List)
	return table || ok && !list.IsOrdered()
}

// unescape reads Markdown text, in which a backslash or an entity stands for a letter.
func unescape(text string) string {
	var b bytes.Buffer
	w := bufio.NewWriter(&b)
	mdhtml.DefaultWriter.Write(w, []byte(text))
	_ = w.Flush() // a buffer takes everything
	return html.UnescapeString(b.String())
}

// plainText returns the text of spans without their looks.
func plainText(spans []span) string {
	var b strings.Builder
	for _, s := range spans {
		b.WriteString(s.Text)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

type proseReader struct{ src []byte }

// block reads a block, and what is in it.
func (r proseReader) block(n ast.Node) []block {
	switch n := n.(type) {
	case *ast.Paragraph, *ast.TextBlock:
		return []block{{Kind: "p", Spans: r.inline(n, span{})}}
	case *ast.Heading:
		return []block{{Kind: "h", Spans: r.inline(n, span{})}}
	case *ast.List:
		b := block{Kind: "ul"}
		if n.IsOrdered() {
			b.Kind = "ol"
		}
		for item := n.FirstChild(); item != nil; item = item.NextSibling() {
			b.Items = append(b.Items, r.children(item))
		}
		return []block{b}
	case *ast.Blockquote:
		return []block{{Kind: "quote", Items: [][]block{r.children(n)}}}
	case *ast.CodeBlock, *ast.FencedCodeBlock:
		return []block{{Kind: "code", Spans: []span{{Text: r.lines(n)}}}}
	case *ast.HTMLBlock:
		text := r.lines(n)
		if n.HasClosure() {
			text += string(n.ClosureLine.Value(r.src))
		}
		return []block{{Kind: "p", Spans: []span{{Text: OneLine(strings.TrimSpace(text))}}}}
	case *east.Table:
		return []block{r.table(n)}
	}
	return nil // a rule between two blocks
}

func (r proseReader) children(n ast.Node) (blocks []block) {
	for child := n.FirstChild(); child != nil; child = child.NextSibling() {
		blocks = append(blocks, r.block(child)...)
	}
	return blocks
}

func (r proseReader) table(t *east.Table) block {
	b := block{Kind: "table"}
	for row := t.FirstChild(); row != nil; row = row.NextSibling() {
		var cells [][]span
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			cells = append(cells, r.inline(cell, span{}))
		}
		b.Rows = append(b.Rows, cells)
	}
	return b
}

// lines returns the text of a block that is not parsed further.
func (r proseReader) lines(n ast.Node) string {
	var b strings.Builder
	for i := range n.Lines().Len() {
		line := n.Lines().At(i)
		b.WriteString(OneLine(strings.TrimRight(string(line.Value(r.src)), "\r\n")) + "\n")
	}
	return b.String()
}

// inline reads the text of a block; as says how it looks.
func (r proseReader) inline(n ast.Node, as span) (spans []span) {
	add := func(text string) {
		as.Text = OneLine(text)
		spans = append(spans, as)
	}
	for child := n.FirstChild(); child != nil; child = child.NextSibling() {
		switch c := child.(type) {
		case *ast.Text:
			text := string(c.Value(r.src))
			if !c.IsRaw() {
				text = unescape(text)
			}
			if c.SoftLineBreak() || c.HardLineBreak() {
				text += " "
			}
			add(text)
		case *ast.String:
			add(string(c.Value))
		case *ast.CodeSpan:
			code := as
			code.Code = true
			spans = append(spans, r.inline(c, code)...)
		case *ast.Emphasis:
			stressed := as
			stressed.Strong, stressed.Emphasis = as.Strong || c.Level == 2, as.Emphasis || c.Level == 1
			spans = append(spans, r.inline(c, stressed)...)
		case *ast.AutoLink:
			add(string(c.Label(r.src)))
		case *ast.RawHTML:
			for i := range c.Segments.Len() {
				segment := c.Segments.At(i)
				add(string(segment.Value(r.src)))
			}
		case *ast.Link:
			spans = append(spans, r.inline(c, as)...)
			if to := string(c.Destination); to != plainText(r.inline(c, as)) {
				add(" (" + to + ")")
			}
		default:
			spans = append(spans, r.inline(c, as)...)
		}
	}
	return spans
}
