package handout

import (
	"fmt"
	"html/template"
	"math"
	"strings"
	"unicode"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/glossary"
)

// pagePart is a programme on a page; Name keeps its anchors apart from other parts'.
type pagePart struct {
	*programme
	Name   string
	Drawn  []drawnFigure // in the order in which they fill pages best
	Route  *drawnRoute   // nil for a dance on the spot
	layout *layout
}

// drawnRoute is where a routine leads in the room, for a page and for a phone.
type drawnRoute struct {
	SVG, Narrow template.HTML
	Said        string // in words, and how it is read
	high        float64
}

func newRoute(path *floor.Path, l *layout) *drawnRoute {
	broad, said := drawing.Route(path, (l.width-2)/l.zoom, l.tallest/1.3)
	slim, _ := drawing.Route(path, narrow, narrow)
	return &drawnRoute{svg(&broad, l.zoom), svg(&slim, 1), routeRead(said), broad.Size.Y * l.zoom}
}

// routeRead adds to what a route shows how it is read.
func routeRead(said string) string {
	return said + " Triangles point where the leader faces as a figure begins."
}

// Anchor returns a figure's name within the page.
func (p pagePart) Anchor(figure int) string {
	if elsewhere, ok := p.elsewhere[figure]; ok {
		return elsewhere
	}
	return anchor(p.Name, figure)
}

func anchor(part string, figure int) string { return fmt.Sprintf("%s-figure-%d", part, figure) }

// layout is how large a page and the drawings on it are, in millimetres.
type layout struct {
	width, height float64   // within the margins
	widths        []float64 // of drawings: beside a chart, and across the page
	tallest       float64   // of a drawing
	zoom          float64   // by which drawings are enlarged
}

var (
	layouts = [...]layout{
		A4:     {186, 273, []float64{narrow, 184}, tallest, 1},
		Letter: {191.9, 255.4, []float64{narrow, 184}, tallest, 1},
	}
	large = layout{186, 255.4, []float64{81}, 60, 2.25} // letters of 8 points become 18
)

const (
	narrow  = 93.0  // the width of drawings beside a chart and on a phone, in millimetres
	tallest = 150.0 // the height of a drawing on a page, in millimetres
)

// up returns which direction of the hall is up in the drawing of a figure.
func up(p *programme, f *figurePart) routine.Direction {
	return plan.Behind.Up(p.path, f.passage, p.set.Shown)
}

// Drawings says how the figures' drawings are read.
func (p *programme) Drawings() string {
	return "The drawings show where the feet go, seen " + plan.Behind.Of(p.set.Shown) + " as each figure begins. Arrows lead from where a foot stood to where it goes next. Of hands that hold, the leader’s is named first."
}

// hidden keeps a drawing from screen readers, because the page says the same in words.
const hidden = `aria-hidden="true" focusable="false"`

// Key draws what the marks of drawings mean.
func (p pagePart) Key() template.HTML {
	key := drawing.Key(p.set.Shown, p.layout.width/p.layout.zoom-2)
	return svg(&key, p.layout.zoom)
}

// NarrowKey draws the same for a phone.
func (p pagePart) NarrowKey() template.HTML {
	key := drawing.Key(p.set.Shown, narrow)
	return svg(&key, 1)
}

// svg returns a drawing, enlarged. A drawing escapes its text.
func svg(d *drawing.Drawing, zoom float64) template.HTML {
	attributes := hidden
	if zoom != 1 {
		attributes += fmt.Sprintf(` style="width:%smm"`, number(d.Size.X*zoom))
	}
	return template.HTML(d.SVG(attributes))
}

// drawnFigure is a figure and its drawing on a page.
type drawnFigure struct {
	figurePart
	Beside bool        // it is narrow enough to stand beside the chart
	Next   bool        // it begins a page
	size   floor.Point // of all its drawings, in millimetres
	zoom   float64     // by which they are enlarged
	list   []drawing.Drawing
	slim   []drawing.Drawing // the same for a phone; none if they are as narrow already
	drawer *drawing.Drawer
	as     drawing.Options
}

// leastFoot is the length in millimetres of a foot that can hold its number, before it is enlarged.
const leastFoot = 8.0

func footOf(list []drawing.Drawing) float64 {
	least := math.Inf(1)
	for i := range list {
		least = min(least, 27*list[i].Scale) // drawn feet are 27 cm long
	}
	return least
}

// set sets a figure's drawings.
func (f *drawnFigure) set(list []drawing.Drawing) {
	f.list, f.size = list, floor.Point{}
	for i := range list {
		f.size.X = max(f.size.X, list[i].Size.X)
		f.size.Y += list[i].Size.Y
	}
}

// SVG returns a figure's drawing for a page.
func (f drawnFigure) SVG() template.HTML { return svgs(f.list, f.zoom) }

// Wide reports whether it is wider than a phone.
func (f drawnFigure) Wide() bool { return len(f.slim) > 0 }

// Narrow returns the same for a phone.
func (f drawnFigure) Narrow() template.HTML { return svgs(f.slim, 1) }

func svgs(list []drawing.Drawing, zoom float64) (all template.HTML) {
	for i := range list {
		all += svg(&list[i], zoom)
	}
	return all
}

// ShortForms says what the short forms in the charts mean: those that are used.
func (p *programme) ShortForms() (list []glossary.Entry) {
	var steps []*routine.Step
	for _, f := range p.Figures {
		passage := &p.timeline.Score.Passages[f.passage]
		for row := passage.From; row < passage.To; row++ {
			for _, q := range p.set.Partners() {
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
