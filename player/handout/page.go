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
	Book       bool
	Large      bool
	Style      template.CSS
	Programmes []pagePart
}

// newPart draws a sheet's figures.
func newPart(name string, s Sheet) pagePart {
	p := pagePart{programme: newProgramme(s.Line, s.Options), Name: name, layout: &layouts[s.Options.Paper]}
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
	p := page{Title: name, Book: len(sheets) > 1}
	paper := A4
	for i, s := range sheets {
		p.Programmes = append(p.Programmes, newPart(fmt.Sprintf("sheet-%d", i+1), s))
		p.Large = p.Large || s.Options.Large
		paper = s.Options.Paper
	}
	if !p.Book {
		p.Title = p.Programmes[0].Title
	}
	p.Style = Style(paper, p.foot())
	if err := pageTemplate().Execute(w, p); err != nil {
		return fmt.Errorf("write handout: %w", err)
	}
	return nil
}

// Style returns how pages look, printed on a paper with a line at the foot of each.
func Style(paper Paper, foot string) template.CSS {
	return template.CSS(strings.NewReplacer("/*paper*/", [...]string{A4: "A4", Letter: "letter"}[paper], "/*foot*/", foot).Replace(pageStyle))
}

// foot returns what stands below each page that is printed: the title, for whom it is, and the page.
func (p *page) foot() string {
	whose := ""
	for i, part := range p.Programmes {
		said := part.lesson()
		if i > 0 && said != whose {
			said = ""
		}
		whose = said
	}
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
