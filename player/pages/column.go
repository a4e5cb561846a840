package pages

import (
	"fmt"
	"strings"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/pdf"
	"dance.example/slowquick/player/typeface"
	"dance.example/slowquick/routine/floor"
)

// Column is a column of text. What is set in it stands below what was set before.
type Column struct {
	Width float64 // in millimetres

	look *Look
	pdf  *pdf.Document
	in   *pdf.Element
	rows []*row
}

// within returns a column for what stands in an element.
func (c *Column) within(width float64, e *pdf.Element) *Column {
	return &Column{Width: width, look: c.look, pdf: c.pdf, in: e}
}

// leading is the height of a line, in units of its letters' size.
const leading = 1.3

// Space leaves room, in lines.
func (c *Column) Space(lines float64) { c.space(lines, false) }

func (c *Column) space(lines float64, keep bool) {
	c.rows = append(c.rows, &row{height: lines * c.look.Size * leading, keep: keep})
}

// FreshPage begins a page.
func (c *Column) FreshPage() { c.rows = append(c.rows, &row{fresh: true}) }

// Heading sets a heading; level 1 is the title. It stands on the page of what follows.
func (c *Column) Heading(level int, words string) *Place {
	style := typeface.Bold
	if level < 3 {
		style = typeface.Regular
	}
	return c.heading(level, [...]float64{1: 1.9, 2: 1.3, 3: 1.15}[level], style, words)
}

// CardHeading sets the heading of a card.
func (c *Column) CardHeading(words string) { c.heading(1, 1.2, typeface.Bold, words) }

// heading sets a heading whose letters are so much larger than the usual ones.
func (c *Column) heading(level int, larger float64, style typeface.Style, words string) *Place {
	place, size := new(Place), c.look.Size*larger
	first := len(c.rows)
	c.lines(c.in.Add(fmt.Sprintf("H%d", level)), styled(words, style), size, black)
	for _, r := range c.rows[first:] {
		r.keep = true
	}
	top := c.rows[first]
	top.place = place
	draw := top.draw
	top.draw = func(p *pdf.Page, at floor.Point) {
		c.pdf.Bookmark(level, words, p, at.Y)
		draw(p, at)
	}
	c.space(0.25, true)
	return place
}

// Text sets a paragraph.
func (c *Column) Text(spans []Span) {
	c.lines(c.in.Add("P"), spans, c.look.Size, black)
	c.Space(0.3)
}

// Note sets a paragraph that matters less.
func (c *Column) Note(spans []Span) {
	c.lines(c.in.Add("P"), spans, c.look.small(), grey)
	c.Space(0.3)
}

// lines sets the lines of a text. None stands alone at the end or the beginning of a page.
func (c *Column) lines(e *pdf.Element, spans []Span, size float64, ink drawing.Color) {
	list := wrapped(spans, c.Width/size)
	for i, l := range list {
		c.rows = append(c.rows, &row{height: size * leading, keep: len(list) > 1 && (i == 0 || i == len(list)-2), draw: func(p *pdf.Page, at floor.Point) {
			p.Mark(e)
			l.set(p, at, size, ink)
		}})
	}
}

// set sets a line whose box begins at a place.
func (l line) set(p *pdf.Page, at floor.Point, size float64, ink drawing.Color) {
	at.Y += size
	for _, s := range l {
		p.Text(at, pdf.Lettering{Style: s.Style, Size: size, Ink: ink}, s.Words)
		at.X += typeface.Of(s.Style).Width(s.Words) * size
	}
}

// Code sets lines as they are, in letters of one width.
func (c *Column) Code(text string) {
	e := c.in.Add("P")
	for words := range strings.Lines(text) {
		words = strings.TrimRight(words, "\n")
		rest := styled(strings.ReplaceAll(words, " ", "\u00a0"), typeface.Mono) // no space breaks a line
		c.lines(e, rest, 0.9*c.look.Size, black)
	}
	c.Space(0.3)
}

// Indented sets what set sets further in, below an element of its own. A mark, as of a list, stands before
// its first line.
func (c *Column) Indented(tag, mark string, by float64, set func(*Column)) {
	by *= c.look.Size
	e := c.in.Add(tag)
	inner := c.within(max(c.Width-by, 10), e)
	var label *pdf.Element
	if mark != "" {
		label = e.Add("Lbl")
		inner.in = e.Add("LBody")
	}
	set(inner)
	for i, r := range inner.rows {
		draw := r.draw
		if draw == nil {
			continue
		}
		r.draw = func(p *pdf.Page, at floor.Point) {
			if i == 0 && label != nil {
				p.Mark(label)
				line(Plain(mark)).set(p, at, c.look.Size, black)
			}
			draw(p, at.Plus(floor.Point{X: by}))
		}
	}
	c.rows = append(c.rows, inner.rows...)
}

// List returns a column for the items of a list, which [Column.Indented] sets, and a function that ends it.
func (c *Column) List() (list *Column, end func()) {
	list = c.within(c.Width, c.in.Add("L"))
	return list, func() { c.rows = append(c.rows, list.rows...) }
}

// Together has what set sets stand on one page, if a page has room for it.
func (c *Column) Together(set func()) {
	first := len(c.rows)
	set()
	group := new(int)
	for _, r := range c.rows[first:] {
		r.group = group
	}
}

// Height returns how high what set sets is, in millimetres, and sets nothing.
func (c *Column) Height(set func(*Column)) float64 { return c.Within(c.Width, set) }

// Within returns the same for a column of another width.
func (c *Column) Within(width float64, set func(*Column)) float64 {
	before := *c.in
	trial := c.within(width, c.in)
	set(trial)
	*c.in = before
	return trial.height()
}

// Figure sets drawings beside each other, each larger by a factor, in lines from left to right; words say
// what they show.
func (c *Column) Figure(list []drawing.Drawing, larger float64, words string) {
	const between = 4.0
	e := c.in.Add("Figure").Instead(words)
	for len(list) > 0 {
		n, wide, high := 0, 0.0, 0.0
		for _, d := range list {
			if n > 0 && wide+between+d.Size.X*larger > c.Width {
				break
			}
			if n > 0 {
				wide += between
			}
			wide += d.Size.X * larger
			high = max(high, d.Size.Y*larger)
			n++
		}
		side := list[:n]
		shrunk := larger * min(1, c.Width/wide, c.look.tall()/high)
		c.rows = append(c.rows, &row{height: high * shrunk / larger, draw: func(p *pdf.Page, at floor.Point) {
			p.Mark(e)
			for i := range side {
				p.Draw(&side[i], at, shrunk)
				at.X += side[i].Size.X*shrunk + between
			}
		}})
		list = list[n:]
		c.Space(0.4)
	}
}

// Beside sets two columns beside each other, the right one as wide as is said. If one is higher than a page
// it sets nothing, and returns false.
func (c *Column) Beside(right, gap float64, setLeft, setRight func(*Column)) bool {
	before := *c.in
	l := c.within(c.Width-right-gap, c.in)
	r := c.within(right, c.in)
	setLeft(l)
	setRight(r)
	high := max(l.height(), r.height())
	if high > c.look.tall() {
		*c.in = before
		return false
	}
	c.rows = append(c.rows, &row{height: high, draw: func(p *pdf.Page, at floor.Point) {
		l.draw(p, at)
		r.draw(p, at.Plus(floor.Point{X: l.Width + gap}))
	}})
	return true
}

func (c *Column) height() (sum float64) {
	for _, r := range c.rows {
		sum += r.height
	}
	return sum
}

func (c *Column) draw(p *pdf.Page, at floor.Point) {
	for _, r := range c.rows {
		if r.draw != nil {
			r.draw(p, at)
		}
		at.Y += r.height
	}
}

// Contents sets the words of headings with the numbers of their pages.
func (c *Column) Contents(words []string, places []*Place) {
	toc := c.in.Add("TOC")
	size := c.look.Size
	for i := range words {
		e := toc.Add("TOCI")
		lines := wrapped(Plain(words[i]), (c.Width-12)/size)
		for k, l := range lines {
			c.rows = append(c.rows, &row{height: size * leading * 1.15, draw: func(p *pdf.Page, at floor.Point) {
				p.Mark(e)
				l.set(p, at, size, black)
				if k == len(lines)-1 {
					page := fmt.Sprint(places[i].Page)
					line(Plain(page)).set(p, at.Plus(floor.Point{X: c.Width - width(Plain(page))*size}), size, black)
				}
			}})
		}
	}
}

// Rule draws a line across the column.
func (c *Column) Rule() {
	c.rows = append(c.rows, &row{height: 0.5 * c.look.Size, keep: true, draw: func(p *pdf.Page, at floor.Point) {
		p.Mark(nil)
		p.Path(drawing.Look{Ink: rule, Width: 0.3}, across(at, c.Width))
	}})
}

// across returns a line to the right.
func across(at floor.Point, length float64) drawing.Path {
	return drawing.Path{Letters: "ML", Places: []floor.Point{at, at.Plus(floor.Point{X: length})}}
}

// shaded returns the path around a box.
func shaded(at, size floor.Point) drawing.Path {
	end := at.Plus(size)
	return drawing.Path{Letters: "MLLLZ", Places: []floor.Point{at, {X: end.X, Y: at.Y}, end, {X: at.X, Y: end.Y}}}
}
