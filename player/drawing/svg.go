package drawing

import (
	"bytes"
	"encoding/xml"
	"fmt"

	"dance.example/slowquick/routine"
)

// kind is for what an SVG element is.
type kind uint8

const (
	still kind = iota // a part of a page, which says itself what it shows
	live              // a part of a page that changes it
	told              // a document, or a part of one, that says in words what it shows
)

// SVG returns a drawing as an svg element with some more attributes, as large as it is. Its looks stand in
// its parts, so that it needs no style sheet and affects nothing else in a page.
func (d *Drawing) SVG(attributes string) []byte { return d.svg("mm", attributes, still) }

// Live returns the same, for a page that changes it: what is a partner's has the class "leader" or
// "follower", and what is of one of their steps also "step-3", by its number in the figure.
func (d *Drawing) Live(attributes string) []byte { return d.svg("mm", attributes, live) }

// Document returns the same as a document of its own, whose title and description say what it shows.
func (d *Drawing) Document() []byte {
	return d.svg("mm", `xmlns="http://www.w3.org/2000/svg" style="background:#fff"`, told)
}

// svg returns a drawing as an svg element whose size is in millimetres, or in the units of what is around it.
func (d *Drawing) svg(unit, attributes string, as kind) []byte {
	var out bytes.Buffer
	w, h := decimal(d.Size.X), decimal(d.Size.Y)
	fmt.Fprintf(&out, "<svg viewBox=\"0 0 %[1]s %[2]s\" width=\"%[1]s%[3]s\" height=\"%[2]s%[3]s\" %[4]s>\n", w, h, unit, attributes)
	if as == told && d.Said != "" {
		fmt.Fprintf(&out, "<title>%s</title>\n<desc>%s</desc>\n", escaped(cut(d.Name, mostLetters)), escaped(d.Said))
	}
	out.WriteString("<g font-family=\"Helvetica,Arial,'Liberation Sans','DejaVu Sans',sans-serif\" stroke-linejoin=\"round\" stroke-linecap=\"round\">\n")
	of := ""
	for i := range d.Shapes {
		s := &d.Shapes[i]
		if as == live && s.Of != of {
			if of != "" {
				out.WriteString("</g>\n")
			}
			if of = s.Of; of != "" {
				fmt.Fprintf(&out, "<g class=\"%s\">\n", of)
			}
		}
		if s.Text.Words != "" {
			s.writeText(&out)
		} else {
			s.writePath(&out)
		}
	}
	if of != "" {
		out.WriteString("</g>\n")
	}
	out.WriteString("</g>\n</svg>\n")
	return out.Bytes()
}

func (s *Shape) writePath(out *bytes.Buffer) {
	out.WriteString("<path d=\"")
	i := 0
	for _, letter := range s.Path.Letters {
		out.WriteRune(letter)
		for k := range places[letter] {
			if k > 0 {
				out.WriteByte(' ')
			}
			at := s.Path.Places[i]
			out.WriteString(decimal(at.X) + " " + decimal(at.Y))
			i++
		}
	}
	fmt.Fprintf(out, "\" fill=\"%s\"", s.Fill)
	if s.Ink != 0 {
		fmt.Fprintf(out, " stroke=\"%s\" stroke-width=\"%s\"", s.Ink, decimal(s.Width))
	}
	if s.Dash != 0 {
		fmt.Fprintf(out, " stroke-dasharray=\"%s\"", decimal(s.Dash))
	}
	out.WriteString("/>\n")
}

func (s *Shape) writeText(out *bytes.Buffer) {
	t := &s.Text
	fmt.Fprintf(out, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" fill=\"%s\"", decimal(t.At.X), decimal(t.At.Y), decimal(t.Size), s.Fill)
	if t.Bold {
		out.WriteString(" font-weight=\"bold\"")
	}
	if t.Anchor != Begin {
		fmt.Fprintf(out, " text-anchor=\"%s\"", [...]string{Middle: "middle", End: "end"}[t.Anchor])
	}
	if t.Length > 0 {
		fmt.Fprintf(out, " textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\"", decimal(t.Length))
	}
	fmt.Fprintf(out, ">%s</text>\n", escaped(t.Words))
}

// String returns a colour as SVG has it.
func (c Color) String() string {
	if c == 0 {
		return "none"
	}
	return fmt.Sprintf("#%06x", uint32(c)&0xffffff)
}

func decimal(f float64) string { return routine.Decimal(f, 2) }

// escaped makes text safe: none of it is markup, and none reorders what is around it.
func escaped(text string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(routine.Plain(text))) // writing to a buffer can't fail
	return b.String()
}
