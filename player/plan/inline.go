package plan

import (
	"bytes"
	"fmt"
	"strings"

	"dance.example/slowquick/routine/floor"
)

// Figure draws the figure of one passage as a run of svg elements for an HTML page, each at
// most width millimetres wide: one for each stage, and one with the scale and the compass.
// The page itself gives the figure's name, and needs the rules of [Style].
func (paper Paper) Figure(path *floor.Path, passage int, width float64) []byte {
	f := &panel{subject: subject{path: path, passage: passage}}
	f.arrange(paper.Shown, paper.View, width+2*panelEdge)
	var out bytes.Buffer
	for i := range f.stages {
		s := &f.stages[i]
		p := new(pen)
		s.draw(p, floor.Point{}.Minus(s.at))
		inline(&out, p, s.size())
	}
	p := new(pen)
	scaleBar(p, floor.Point{X: 0.5, Y: keySize.Y - 1}, f.scale)
	if d, name, known := f.compass(); known {
		compass(p, floor.Point{X: keySize.X - 4, Y: keySize.Y - 4}, d, name)
	}
	inline(&out, p, keySize)
	return out.Bytes()
}

// keySize is the size, in millimetres, of the drawing of the scale and the compass: room
// for a metre at the largest scale, beside the compass and its name.
var keySize = floor.Point{X: 58, Y: 8}

// inline writes what p drew as an svg element. It is hidden from screen
// readers, because the page says the same in words.
func inline(out *bytes.Buffer, p *pen, size floor.Point) {
	x, y := number(size.X), number(size.Y)
	fmt.Fprintf(out, "<svg viewBox=\"0 0 %s %s\" width=\"%smm\" height=\"%smm\" aria-hidden=\"true\" focusable=\"false\">\n", x, y, x, y)
	out.Write(p.out.Bytes())
	out.WriteString("</svg>\n")
}

// Style returns the CSS rules for drawings by [Paper.Figure] inside the element
// that selector names. They affect nothing else in the page.
func Style(selector string) string {
	var out strings.Builder
	for rule := range strings.SplitSeq(style, "}") {
		names, looks, ok := strings.Cut(strings.TrimSpace(rule), "{")
		if !ok || strings.HasPrefix(names, "@") {
			continue
		}
		for i, name := range strings.Split(names, ",") {
			if i > 0 {
				out.WriteString(",")
			}
			out.WriteString(selector + " " + name)
		}
		out.WriteString("{" + looks + "}\n")
	}
	return out.String()
}
