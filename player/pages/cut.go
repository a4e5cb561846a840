package pages

import (
	"fmt"
	"io"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/pdf"
	"dance.example/slowquick/routine/floor"
)

// Cut writes a long drawing as pages of A4, each of which shows that much of its height. A shape that the end
// of a page would cut stands on the page where it begins.
func Cut(w io.Writer, title string, d *drawing.Drawing, height float64) error {
	doc := pdf.New(title, "en")
	n := int(d.Size.Y/height) + 1
	parts := make([]drawing.Drawing, n)
	for i := range d.Shapes {
		k := min(max(int(top(&d.Shapes[i])/height), 0), n-1)
		parts[k].Shapes = append(parts[k].Shapes, d.Shapes[i])
	}
	for i := range parts {
		if len(parts[i].Shapes) == 0 {
			continue
		}
		p := doc.Page(A4)
		p.Mark(doc.Root().Add("Figure").Instead(fmt.Sprintf("%s, drawn: part %d", title, i+1)))
		margin := floor.Point{X: (A4.X - d.Size.X) / 2, Y: (A4.Y - height) / 2}
		p.Draw(&parts[i], margin.Minus(floor.Point{Y: float64(i) * height}), 1)
	}
	return doc.Write(w)
}

// top returns where the highest place of a shape is.
func top(s *drawing.Shape) float64 {
	if s.Text.Words != "" {
		return s.Text.At.Y - s.Text.Size
	}
	y := s.Path.Places[0].Y
	for _, at := range s.Path.Places {
		y = min(y, at.Y)
	}
	return y
}
