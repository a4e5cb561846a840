package handout

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/harmless"
)

//go:embed page.html
var pageText string

//go:embed cards.html
var cardsText string

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
	Book       *book // nil for one sheet
	Large      bool
	Style      template.CSS
	Programmes []pagePart
}

// newPart draws a sheet's figures, in a book those that are new.
func newPart(name string, s Sheet, b *book) pagePart {
	p := pagePart{programme: newProgramme(s.Line, s.Options), Name: name, layout: &layouts[s.Options.Paper]}
	if b != nil {
		b.add(p.programme, func(figure int) string { return anchor(name, figure) })
	}
	if s.Options.Large {
		p.layout = &large
	}
	drawer := drawing.New(p.path)
	for i := range p.Figures {
		p.Drawn = append(p.Drawn, p.draw(drawer, &p.Figures[i]))
	}
	if drawing.Routed(p.timeline.Score) {
		p.Route = newRoute(p.path, p.layout)
	}
	if !s.Options.Large {
		p.pack()
	}
	return p
}

var pageTemplate = sync.OnceValue(func() *template.Template {
	all := template.Must(template.New("page").Parse(pageText))
	template.Must(all.New("cards").Parse(cardsText))
	return all
})

// HTML writes a handout as one self-contained page: no scripts, no pictures, no addresses. Several
// sheets make a class book, with contents.
func HTML(w io.Writer, name string, sheets ...Sheet) error {
	p := page{Title: name}
	if len(sheets) > 1 {
		p.Book = new(book)
	}
	paper := A4
	for i, s := range sheets {
		p.Programmes = append(p.Programmes, newPart(fmt.Sprintf("sheet-%d", i+1), s, p.Book))
		p.Large = p.Large || s.Options.Large
		paper = s.Options.Paper
	}
	if p.Book == nil {
		p.Title = p.Programmes[0].Title
	}
	p.Style = Style(paper, p.foot())
	if err := pageTemplate().Execute(w, &p); err != nil {
		return fmt.Errorf("write handout: %w", err)
	}
	return nil
}

// Style returns how pages look, printed on a paper with a line at the foot of each.
func Style(paper Paper, foot string) template.CSS {
	return template.CSS(strings.NewReplacer("/*paper*/", [...]string{A4: "A4", Letter: "letter"}[paper], "/*foot*/", foot).Replace(pageStyle))
}

// Whose says for whom the sheets are, if all are for the same.
func (p *page) Whose() string {
	whose := p.Programmes[0].lesson()
	for _, part := range p.Programmes {
		if part.lesson() != whose {
			return ""
		}
	}
	return whose
}

// foot returns what stands below each page that is printed: the title, for whom it is, and the page.
func (p *page) foot() string {
	whose := p.Whose()
	look := "font:8pt Georgia,serif;vertical-align:top;padding-top:2mm;"
	if p.Large {
		look = strings.Replace(look, "8pt", "18pt", 1)
	}
	return "@bottom-left{" + look + "content:" + cssText(p.Title) + "}@bottom-center{" + look + "content:" + cssText(whose) +
		"}@bottom-right{" + look + "content:\"page \" counter(page) \" of \" counter(pages)}"
}

// cssText returns text as a string of a style sheet.
func cssText(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range harmless.Handout(text) {
		if strings.ContainsRune("\"\\<>", r) || r < ' ' {
			fmt.Fprintf(&b, "\\%x ", r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String() + "\""
}
