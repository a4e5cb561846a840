package plan

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strings"
	"unicode"

	"github.com/mattn/go-runewidth"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// pen writes the elements of an SVG document. Its lengths and places are in
// millimetres on paper, X to the right and Y down.
type pen struct{ out bytes.Buffer }

// open begins a group. Its title is for anyone who hears the document instead of seeing it.
func (p *pen) open(class, title string) {
	fmt.Fprintf(&p.out, "<g class=\"%s\">\n", class)
	if title != "" {
		p.element("title", cut(title, mostLetters))
	}
}

func (p *pen) close() { p.out.WriteString("</g>\n") }

// element writes an element with only text in it.
func (p *pen) element(name, text string) {
	fmt.Fprintf(&p.out, "<%s>%s</%s>\n", name, escaped(text), name)
}

// path writes a path. Its commands are letters and places.
func (p *pen) path(class string, commands ...any) {
	fmt.Fprintf(&p.out, "<path class=\"%s\" d=\"", class)
	for _, c := range commands {
		switch c := c.(type) {
		case string:
			p.out.WriteString(c)
		case floor.Point:
			p.out.WriteString(number(c.X) + " " + number(c.Y) + " ")
		}
	}
	p.out.WriteString("\"/>\n")
}

// line writes a line through places.
func (p *pen) line(class string, places ...floor.Point) {
	commands := []any{"M"}
	for i, at := range places {
		if i == 1 {
			commands = append(commands, "L")
		}
		commands = append(commands, at)
	}
	p.path(class, commands...)
}

func (p *pen) circle(class string, at floor.Point, r float64) {
	fmt.Fprintf(&p.out, "<circle class=\"%s\" cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", class, number(at.X), number(at.Y), number(r))
}

func (p *pen) rectangle(class string, r rectangle) {
	fmt.Fprintf(&p.out, "<rect class=\"%s\" x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/>\n",
		class, number(r.min.X), number(r.min.Y), number(r.max.X-r.min.X), number(r.max.Y-r.min.Y))
}

// lettering is a style of text.
type lettering struct {
	class string
	size  float64 // as set by the class
	width float64 // the text is cut to this; 0 for a short text
}

// text writes text with its baseline at a place. Text that is cut is made to
// fit, whatever fonts the reader has.
func (p *pen) text(at floor.Point, l lettering, text string) {
	fit := ""
	if short := cut(text, l.width/l.size); l.width > 0 && short != text {
		text = short
		if width := textWidth(text) * l.size; width > 0.7*l.width {
			fit = fmt.Sprintf(" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\"", number(width))
		}
	}
	fmt.Fprintf(&p.out, "<text class=\"%s\" x=\"%s\" y=\"%s\"%s>%s</text>\n", l.class, number(at.X), number(at.Y), fit, escaped(text))
}

// number formats a length to a hundredth.
func number(f float64) string { return routine.Decimal(f, 2) }

// escaped returns text made safe for a document: none of it is markup, none of it reorders
// what is around it, and characters that no document may hold become visible marks.
func escaped(text string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(routine.Plain(text))) // writing to a buffer can't fail
	return b.String()
}

// mostLetters is the length in letters to which any text is cut.
const mostLetters = 160

// cut shortens text to a width, in units of its size.
func cut(text string, width float64) string {
	left, fits := width-widthOf('…'), 0
	letters := []rune(text)
	for i, r := range letters {
		width -= widthOf(r)
		if width < 0 || i >= mostLetters {
			return strings.TrimRight(string(letters[:fits]), " ") + "…"
		}
		if left -= widthOf(r); left >= 0 {
			fits = i + 1
		}
	}
	return text
}

// widthOf returns about how wide a letter is in the usual sans-serif fonts, in
// units of its size: a little more than in most.
func widthOf(r rune) float64 {
	switch {
	case strings.ContainsRune("WMm@%—…", r):
		return 1
	case strings.ContainsRune("iljtfrI.,:;'|!()[]- ", r):
		return 0.36
	case unicode.IsUpper(r):
		return 0.76
	case runewidth.RuneWidth(r) == 1:
		return 0.58
	}
	return float64(runewidth.RuneWidth(r))
}

// textWidth returns about how wide text is, in units of its size.
func textWidth(text string) (width float64) {
	for _, r := range text {
		width += widthOf(r)
	}
	return width
}

// rectangle is an upright rectangle on paper.
type rectangle struct{ min, max floor.Point }

// around returns the rectangle of a size around a middle.
func around(middle floor.Point, width, height float64) rectangle {
	half := floor.Point{X: width / 2, Y: height / 2}
	return rectangle{middle.Minus(half), middle.Plus(half)}
}

func (r rectangle) middle() floor.Point { return r.min.Plus(r.max).Times(0.5) }
func (r rectangle) width() float64      { return r.max.X - r.min.X }
func (r rectangle) height() float64     { return r.max.Y - r.min.Y }

func (r rectangle) grown(by float64) rectangle {
	return around(r.middle(), r.width()+2*by, r.height()+2*by)
}

// common returns the area that two rectangles share.
func (r rectangle) common(q rectangle) float64 {
	return max(0, min(r.max.X, q.max.X)-max(r.min.X, q.min.X)) * max(0, min(r.max.Y, q.max.Y)-max(r.min.Y, q.min.Y))
}

// toward returns the way of length 1 in a direction on paper.
func toward(d routine.Direction) floor.Point {
	return floor.Point{X: 1}.Turned(routine.Turn(d))
}

// along returns a way given as forward and to the right of someone who faces d.
func along(d routine.Direction, forward, right float64) floor.Point {
	return floor.Point{X: forward, Y: right}.Turned(routine.Turn(d))
}

// tip writes the head of an arrow that ends at a place.
func (p *pen) tip(class string, at, way floor.Point, size float64) {
	length := math.Hypot(way.X, way.Y)
	if length == 0 {
		return
	}
	way = way.Times(size / length)
	across := floor.Point{X: -way.Y, Y: way.X}.Times(0.4)
	back := at.Minus(way)
	p.path(class, "M", at, "L", back.Plus(across), back.Minus(across), "Z")
}
