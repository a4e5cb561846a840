package pages

import (
	"fmt"
	"io"

	"dance.example/slowquick/player/pdf"
	"dance.example/slowquick/player/typeface"
	"dance.example/slowquick/routine/floor"
)

// Book is pages in the making.
type Book struct {
	Column
}

// New returns a book without pages.
func New(title, language string, look Look) *Book {
	d := pdf.New(title, language)
	return &Book{Column{Width: look.Paper.X - 2*look.Margin.X, look: &look, pdf: d, in: d.Root()}}
}

// sheet is a page's rows.
type sheet struct {
	rows         []*row
	height, tall float64 // of the rows, and of what has room
}

// Write shares the rows out among pages, and writes them as a PDF.
func (b *Book) Write(w io.Writer) error {
	sheets := share(b.rows, b.look.tall())
	for i, s := range sheets {
		for _, r := range s.rows {
			if r.place != nil {
				r.place.Page = i + 1
			}
		}
	}
	for i, s := range sheets {
		p := b.pdf.Page(b.look.Paper)
		s.draw(p, b.look.Margin)
		b.foot(p, i+1, len(sheets))
	}
	return b.pdf.Write(w)
}

// share puts rows on pages of a height.
func share(rows []*row, tall float64) (sheets []*sheet) {
	now := &sheet{tall: tall}
	next := func() {
		if len(now.rows) > 0 {
			sheets = append(sheets, now)
		}
		now = &sheet{tall: tall}
	}
	for i := 0; i < len(rows); {
		if r := rows[i]; r.fresh || i > 0 && r.group != rows[i-1].group && now.over(together(rows[i:])) {
			next()
		}
		n := kept(rows[i:])
		if now.over(rows[i:i+n]) && len(now.rows) > 0 {
			next()
		}
		for _, r := range rows[i : i+n] {
			if now.over([]*row{r}) { // kept rows that no page holds
				next()
			}
			if len(now.rows) == 0 && r.head != nil {
				now.add(r.head)
			}
			if len(now.rows) > 0 || r.draw != nil { // no page begins with a space
				now.add(r)
			}
		}
		i += n
	}
	next()
	if len(sheets) == 0 {
		sheets = append(sheets, now)
	}
	return sheets
}

// Tall returns how much of a page's height is for text, in millimetres.
func (b *Book) Tall() float64 { return b.look.tall() }

// Left returns how much of that is left on the last page.
func (b *Book) Left() float64 {
	sheets := share(b.rows, b.look.tall())
	return b.Tall() - sheets[len(sheets)-1].height
}

func (s *sheet) add(r *row) {
	s.rows = append(s.rows, r)
	s.height += r.height
}

// draw draws a page's rows, from a place down.
func (s *sheet) draw(p *pdf.Page, at floor.Point) {
	for _, r := range s.rows {
		if r.draw != nil {
			r.draw(p, at)
		}
		at.Y += r.height
	}
}

// over reports whether a page has no room for more rows, and an empty one would.
func (s *sheet) over(rows []*row) bool {
	sum := 0.0
	for _, r := range rows {
		sum += r.height
	}
	return s.height > 0 && s.height+sum > s.tall+0.01 && (sum <= s.tall || len(rows) == 1)
}

// together returns the rows of the first one's group.
func together(rows []*row) []*row {
	n := 1
	for n < len(rows) && rows[0].group != nil && rows[n].group == rows[0].group {
		n++
	}
	return rows[:n]
}

// kept returns how many rows stand on the first one's page.
func kept(rows []*row) int {
	n := 1
	for n < len(rows) && rows[n-1].keep {
		n++
	}
	return n
}

// foot writes what stands below a page.
func (b *Book) foot(p *pdf.Page, n, of int) {
	p.Mark(nil)
	y := b.look.Paper.Y - b.look.Margin.Y*0.55
	size := b.look.small()
	l := pdf.Lettering{Size: size, Ink: grey}
	right := fmt.Sprintf("page %d of %d", n, of)
	end := b.look.Paper.X - b.look.Margin.X - typeface.Of(l.Style).Width(right)*size
	for _, s := range wrapped(Plain(b.look.Foot), (end-b.look.Margin.X)/size-2)[0] {
		p.Text(floor.Point{X: b.look.Margin.X, Y: y}, l, s.Words)
	}
	p.Text(floor.Point{X: end, Y: y}, l, right)
}
