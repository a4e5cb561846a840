package handout

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"
	"unicode"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/glossary"
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
	Name   string
	drawer *drawing.Drawer
}

// Anchor returns a figure's name within the page.
func (p pagePart) Anchor(figure int) string { return fmt.Sprintf("%s-figure-%d", p.Name, figure) }

// Widths of drawings, in millimetres: beside a chart, or on a phone; and of a page.
var widths = []float64{88, 184}

// tallest is the most height of a drawing, in millimetres.
const tallest = 150

// Seen says from where the drawings are seen.
func (p pagePart) Seen() string { return plan.Behind.Of(p.set.Shown) }

// hidden keeps a drawing from screen readers, because the page says the same in words.
const hidden = `aria-hidden="true" focusable="false"`

// Key draws what the marks of drawings mean.
func (p pagePart) Key() template.HTML {
	key := drawing.Key(p.set.Shown)
	return template.HTML(key.SVG(hidden))
}

// drawn is a figure's drawing on a page.
type drawn struct {
	SVG    template.HTML
	Beside bool // it is narrow enough to stand beside the chart
}

// Drawing draws where the feet go in a figure.
func (p pagePart) Drawing(f figurePart) drawn {
	list := p.drawer.Figure(f.passage, drawing.Options{
		Shown:  p.set.Shown,
		Up:     plan.Behind.Up(p.path, f.passage, p.set.Shown),
		Widths: widths,
		Height: tallest,
		Foot:   12,
	})
	var all []byte
	for _, d := range list {
		all = append(all, d.SVG(hidden)...)
	}
	return drawn{template.HTML(all), len(list) == 1 && list[0].Size.X <= widths[0]} // a drawing escapes its text
}

var pageTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("page").Parse(pageText)) })

// HTML writes a handout as one self-contained page: no scripts, no pictures, no addresses. Several
// sheets make a class book, with contents.
func HTML(w io.Writer, name string, sheets ...Sheet) error {
	p := page{Title: name, Book: len(sheets) > 1}
	paper := A4
	for i, s := range sheets {
		programme := newProgramme(s.Line, s.Options)
		part := pagePart{programme, fmt.Sprintf("sheet-%d", i+1), drawing.New(programme.path)}
		p.Programmes = append(p.Programmes, part)
		p.Large = p.Large || s.Options.Large
		paper = s.Options.Paper
	}
	if !p.Book {
		p.Title = p.Programmes[0].Title
	}
	p.Style = style(paper, p.foot())
	if err := pageTemplate().Execute(w, p); err != nil {
		return fmt.Errorf("write handout: %w", err)
	}
	return nil
}

// style returns how pages look, printed on a paper with a line at the foot of each.
func style(paper Paper, foot string) template.CSS {
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
	const look = "font:8pt Georgia,serif;vertical-align:top;padding-top:2mm;"
	return "@bottom-left{" + look + "content:" + cssText(p.Title) + "}@bottom-center{" + look + "content:" + cssText(whose) +
		"}@bottom-right{" + look + "content:\"page \" counter(page) \" of \" counter(pages)}"
}

// cssText returns text as a string of a style sheet.
func cssText(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range oneLine(text) {
		if strings.ContainsRune("\"\\<>", r) || r < ' ' {
			fmt.Fprintf(&b, "\\%x ", r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String() + "\""
}

// ShortForms says what the short forms in the charts mean: those that are used.
func (p *programme) ShortForms() (list []glossary.Entry) {
	var steps []*routine.Step
	for _, f := range p.Figures {
		passage := &p.timeline.Score.Passages[f.passage]
		for row := passage.From; row < passage.To; row++ {
			for _, q := range p.set.partners() {
				if f.figure.Rows[row].Written[q] {
					steps = append(steps, &f.figure.Rows[row].Steps[q])
				}
			}
		}
	}
	turned := false // one turn explains them all
	for _, e := range glossary.Of(steps...) {
		turns := strings.ContainsFunc(e.Word, unicode.IsDigit)
		if strings.ToUpper(e.Word) == e.Word && e.Word != "–" && !(turns && turned) {
			list = append(list, e)
			turned = turned || turns
		}
	}
	return list
}

// Sources says where the figures' charts are from.
func (p *programme) Sources() (list []fact) {
	for _, f := range p.Figures {
		if f.figure.Source != "" {
			list = append(list, fact{f.figure.Name, f.figure.Source})
		}
	}
	return list
}
