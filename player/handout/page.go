package handout

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/plan"
)

//go:embed page.html
var pageText string

//go:embed page.css
var pageStyle string

// Sheet is a sheet to hand out: its text, and its timeline.
type Sheet struct {
	Text    []byte
	Line    *player.Timeline
	Options Options
}

// page is one document: a handout, or a class book with contents.
type page struct {
	Title      string
	Book       bool
	Large      bool
	Style      template.CSS
	Programmes []pagePart
}

// pagePart is a programme on a page; Name keeps its anchors apart from other parts'.
type pagePart struct {
	*programme
	Name string
}

// Anchor returns a figure's name within the page.
func (p pagePart) Anchor(figure int) string { return fmt.Sprintf("%s-figure-%d", p.Name, figure) }

// planWidth is the largest width of a drawing, in millimetres: that of a phone, so that its marks can
// be read there too. On paper several fit side by side.
const planWidth = 90

// Seen says from where the plans are seen.
func (p pagePart) Seen() string { return plan.Behind.Of(p.set.Shown) }

// Plan draws where the feet go in a figure.
func (p pagePart) Plan(f figurePart) template.HTML {
	// The drawing escapes the sheet's text.
	return template.HTML(plan.Paper{Shown: p.set.Shown, View: plan.Behind}.Figure(p.path, f.passage, planWidth))
}

var pageTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("page").Parse(pageText)) })

// HTML writes a handout as one self-contained page: no scripts, no pictures, no addresses. Several
// sheets make a class book, with contents.
func HTML(w io.Writer, name string, sheets ...Sheet) error {
	p := page{Title: name, Book: len(sheets) > 1}
	paper := A4
	for i, s := range sheets {
		part := pagePart{newProgramme(s.Line, s.Options), fmt.Sprintf("sheet-%d", i+1)}
		p.Programmes = append(p.Programmes, part)
		p.Large = p.Large || s.Options.Large
		paper = s.Options.Paper
	}
	if !p.Book {
		p.Title = p.Programmes[0].Title
	}
	p.Style = style(paper) + template.CSS(plan.Style(".plan"))
	if err := pageTemplate().Execute(w, p); err != nil {
		return fmt.Errorf("write handout: %w", err)
	}
	return nil
}

// style returns how pages look, printed on a paper.
func style(paper Paper) template.CSS {
	return template.CSS(strings.Replace(pageStyle, "/*paper*/", [...]string{A4: "A4", Letter: "letter"}[paper], 1))
}
