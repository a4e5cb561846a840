package pdf

import (
	"bytes"
	"fmt"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/typeface"
	"dance.example/slowquick/routine/floor"
)

// points is how many of PDF's units a millimetre is.
const points = 72 / 25.4

// Page is a page in the making.
type Page struct {
	Size floor.Point

	fonts *fonts
	out   bytes.Buffer
	open  bool // something is marked
	marks int  // how many marks belong to elements
	own   int  // its object
}

func (p *Page) end() {
	if p.open {
		p.out.WriteString("EMC\n")
	}
	p.open = false
}

// content returns what is drawn, Y down and in millimetres.
func (p *Page) content() []byte {
	p.end()
	head := fmt.Appendf(nil, "%s 0 0 %s 0 %s cm\n1 J 1 j\n", exact(points), exact(-points), number(p.Size.Y*points))
	return append(head, p.out.Bytes()...)
}

func exact(f float64) string { return fmt.Sprintf("%.8f", f) }

// Draw draws a drawing, larger by a factor, with its upper left corner at a place.
func (p *Page) Draw(d *drawing.Drawing, at floor.Point, larger float64) {
	fmt.Fprintf(&p.out, "q %s 0 0 %s %s %s cm\n", exact(larger), exact(larger), number(at.X), number(at.Y))
	for i := range d.Shapes {
		p.shape(&d.Shapes[i])
	}
	p.out.WriteString("Q\n")
}

// Path draws an outline.
func (p *Page) Path(l drawing.Look, path drawing.Path) { p.shape(&drawing.Shape{Look: l, Path: path}) }

func (p *Page) shape(s *drawing.Shape) {
	if s.Text.Words != "" {
		p.drawnText(s)
		return
	}
	if s.Fill != 0 {
		p.colour(s.Fill, "rg")
	}
	if s.Ink != 0 {
		p.colour(s.Ink, "RG")
		fmt.Fprintf(&p.out, "%s w ", number(s.Width))
		if s.Dash > 0 {
			fmt.Fprintf(&p.out, "[%s] 0 d ", number(s.Dash))
		} else {
			p.out.WriteString("[] 0 d ")
		}
	}
	p.path(&s.Path)
	switch {
	case s.Fill != 0 && s.Ink != 0:
		p.out.WriteString("B\n")
	case s.Fill != 0:
		p.out.WriteString("f\n")
	case s.Ink != 0:
		p.out.WriteString("S\n")
	default:
		p.out.WriteString("n\n")
	}
}

func (p *Page) colour(c drawing.Color, operator string) {
	part := func(shift int) string { return number(float64(c>>shift&0xff) / 255) }
	fmt.Fprintf(&p.out, "%s %s %s %s ", part(16), part(8), part(0), operator)
}

// path writes a path; a curve with one control point becomes one with two.
func (p *Page) path(path *drawing.Path) {
	var last floor.Point
	places := path.Places
	take := func() floor.Point {
		last, places = places[0], places[1:]
		fmt.Fprintf(&p.out, "%s %s ", number(last.X), number(last.Y))
		return last
	}
	for _, letter := range path.Letters {
		switch letter {
		case 'M':
			take()
			p.out.WriteString("m ")
		case 'L':
			take()
			p.out.WriteString("l ")
		case 'Q':
			from, over, to := last, places[0], places[1]
			third := func(end floor.Point) floor.Point { return end.Plus(over.Minus(end).Times(2.0 / 3)) }
			places = append([]floor.Point{third(from), third(to)}, places[1:]...)
			fallthrough
		case 'C':
			take()
			take()
			take()
			p.out.WriteString("c ")
		case 'Z':
			p.out.WriteString("h ")
		}
	}
}

// drawnText writes a text of a drawing where it is anchored.
func (p *Page) drawnText(s *drawing.Shape) {
	t := &s.Text
	l := Lettering{Size: t.Size, Ink: s.Fill}
	if t.Bold {
		l.Style = typeface.Bold
	}
	at, stretch := t.Placed(typeface.Of(l.Style).Width(t.Words) * t.Size)
	l.Stretch = stretch
	p.Text(at, l, t.Words)
}

// Lettering is how a line of text is set.
type Lettering struct {
	Style   typeface.Style
	Size    float64 // in millimetres
	Ink     drawing.Color
	Stretch float64 // how many times as wide as is usual; 0 for 1
}

// Text sets a line of text with its baseline at a place.
func (p *Page) Text(at floor.Point, l Lettering, words string) {
	f := p.fonts.of(l.Style)
	p.colour(l.Ink, "rg")
	stretch := 100.0
	if l.Stretch != 0 {
		stretch *= l.Stretch
	}
	fmt.Fprintf(&p.out, "BT /%s %s Tf %s Tz 1 0 0 -1 %s %s Tm <%s> Tj ET\n",
		f.face.Name, number(l.Size), number(stretch), number(at.X), number(at.Y), f.codes(words))
}
