// Package prose reads what a sheet says to people beside its order and charts. Begin with [Read].
package prose

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

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/routine"
)

// Block is a piece of a sheet's prose. Everything in it is text: links lead nowhere, pictures are their
// descriptions, and tags are letters.
type Block struct {
	Kind  string // "p", "h", "ol", "ul", "quote", "code", "table"
	Spans []Span
	Items [][]Block // of a list; a quote has one
	Rows  [][][]Span
}

// Span is a run of text.
type Span struct {
	Text             string
	Strong, Emphasis bool
	Code             bool
}

// Section is the prose below one heading.
type Section struct {
	Name   string // "" above the first heading
	Level  int
	Blocks []Block
	at     int // where it begins in the sheet's Markdown
}

// Sheet is what a sheet says to people.
type Sheet struct {
	Intro   []Section // in order: everything but the order and the figures
	Order   []Block   // beside the list
	Figures map[*routine.Figure][]Block
}

var markdown = goldmark.New(goldmark.WithExtensions(extension.Table))

// Read reads the prose of a sheet that was read as score s.
func Read(s *routine.Score) Sheet {
	body := s.Markdown()
	out := Sheet{Figures: map[*routine.Figure][]Block{}}
	now := Section{at: -1}
	read := reader{src: body}
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
			now = Section{Name: PlainText(read.inline(h, Span{})), Level: h.Level, at: h.Pos()}
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

// PlainText returns the text of spans without their looks.
func PlainText(spans []Span) string {
	var b strings.Builder
	for _, s := range spans {
		b.WriteString(s.Text)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

type reader struct{ src []byte }

// block reads a block, and what is in it.
func (r reader) block(n ast.Node) []Block {
	switch n := n.(type) {
	case *ast.Paragraph, *ast.TextBlock:
		return []Block{{Kind: "p", Spans: r.inline(n, Span{})}}
	case *ast.Heading:
		return []Block{{Kind: "h", Spans: r.inline(n, Span{})}}
	case *ast.List:
		b := Block{Kind: "ul"}
		if n.IsOrdered() {
			b.Kind = "ol"
		}
		for item := n.FirstChild(); item != nil; item = item.NextSibling() {
			b.Items = append(b.Items, r.children(item))
		}
		return []Block{b}
	case *ast.Blockquote:
		return []Block{{Kind: "quote", Items: [][]Block{r.children(n)}}}
	case *ast.CodeBlock, *ast.FencedCodeBlock:
		return []Block{{Kind: "code", Spans: []Span{{Text: r.lines(n)}}}}
	case *ast.HTMLBlock:
		text := r.lines(n)
		if n.HasClosure() {
			text += string(n.ClosureLine.Value(r.src))
		}
		return []Block{{Kind: "p", Spans: []Span{{Text: harmless.Handout(strings.TrimSpace(text))}}}}
	case *east.Table:
		return []Block{r.table(n)}
	}
	return nil // a rule between two blocks
}

func (r reader) children(n ast.Node) (blocks []Block) {
	for child := n.FirstChild(); child != nil; child = child.NextSibling() {
		blocks = append(blocks, r.block(child)...)
	}
	return blocks
}

func (r reader) table(t *east.Table) Block {
	b := Block{Kind: "table"}
	for row := t.FirstChild(); row != nil; row = row.NextSibling() {
		var cells [][]Span
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			cells = append(cells, r.inline(cell, Span{}))
		}
		b.Rows = append(b.Rows, cells)
	}
	return b
}

// lines returns the text of a block that is not parsed further.
func (r reader) lines(n ast.Node) string {
	var b strings.Builder
	for i := range n.Lines().Len() {
		line := n.Lines().At(i)
		b.WriteString(harmless.Handout(strings.TrimRight(string(line.Value(r.src)), "\r\n")) + "\n")
	}
	return b.String()
}

// inline reads the text of a block; as says how it looks.
func (r reader) inline(n ast.Node, as Span) (spans []Span) {
	add := func(text string) {
		as.Text = harmless.Handout(text)
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
			if to := string(c.Destination); to != PlainText(r.inline(c, as)) {
				add(" (" + to + ")")
			}
		default:
			spans = append(spans, r.inline(c, as)...)
		}
	}
	return spans
}
