package pages

import (
	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/pdf"
	"dance.example/slowquick/player/typeface"
	"dance.example/slowquick/routine/floor"
)

// Table is a table with headings.
type Table struct {
	Heads []string // of the columns; nil for none
	Rows  [][]Cell
	Bands bool // every other row is shaded
}

// Cell is a cell of a table.
type Cell struct {
	Spans []Span
	Notes []string // below it, in letters that matter less
	Heads bool     // it is the heading of its row
}

// Words returns a cell with text.
func Words(text string) Cell { return Cell{Spans: Plain(text)} }

// The room around the text of a cell, in units of its letters' size.
const (
	cellSide  = 0.45
	cellAbove = 0.22
)

// tableSize is the size of letters in a table, in units of the usual one.
const tableSize = 0.95

// measured returns how wide each column is if none of its text is broken, and if it is broken between any two
// words; and the room around both.
func (c *Column) measured(t *Table) (natural, least []float64, pad float64) {
	size := tableSize * c.look.Size
	take := func(i int, spans []Span) {
		for len(natural) <= i {
			natural, least = append(natural, 0), append(least, 0)
		}
		natural[i], least[i] = max(natural[i], width(spans)*size), max(least[i], longest(spans)*size)
	}
	for i, words := range t.Heads {
		take(i, Plain(words))
	}
	for _, cells := range t.Rows {
		for i, cell := range cells {
			take(i, cell.Spans)
			for _, note := range cell.Notes {
				take(i, styled(note, typeface.Italic))
			}
		}
	}
	const little = 0.01 // so that text fits whose width is the column's
	return natural, least, 2*cellSide*size + little
}

// columns returns how wide the columns are for a table to be as wide as c: as wide as their text, or
// narrower in proportion to what can be broken.
func (c *Column) columns(t *Table) []float64 {
	natural, least, pad := c.measured(t)
	room, all, needed := c.Width, 0.0, 0.0
	for i := range natural {
		room -= pad
		all += natural[i]
		needed += least[i]
	}
	widths := make([]float64, len(natural))
	for i := range widths {
		switch {
		case all <= room:
			widths[i] = natural[i] + (room-all)*natural[i]/max(all, 1)
		case needed <= room:
			widths[i] = least[i] + (room-needed)*(natural[i]-least[i])/(all-needed)
		default:
			widths[i] = max(room, 1) * least[i] / needed
		}
		widths[i] += pad
	}
	return widths
}

// Least returns how wide a column must be at least for no word of a table in it to be broken.
func (c *Column) Least(t *Table) float64 {
	natural, least, pad := c.measured(t)
	sum := 0.0
	for i := range natural {
		sum += least[i] + pad
	}
	return sum
}

// Table sets a table. Its headings are repeated on each page.
func (c *Column) Table(t Table) {
	widths := c.columns(&t)
	e := c.in.Add("Table")
	var again *row // the headings, on another page
	if t.Heads != nil {
		tr := e.Add("TR")
		heads, repeated := make([]setCell, len(t.Heads)), make([]setCell, len(t.Heads))
		for i, words := range t.Heads {
			repeated[i] = setCell{Cell: Cell{Spans: Plain(words)}, ink: grey}
			heads[i] = repeated[i]
			heads[i].element = tr.Add("TH").Heads("Column")
		}
		head := c.cells(widths, heads, false)
		head.keep = true
		c.rows = append(c.rows, head)
		again = c.cells(widths, repeated, false)
	}
	for k, cells := range t.Rows {
		tr := e.Add("TR")
		list := make([]setCell, len(cells))
		for i, cell := range cells {
			list[i] = setCell{Cell: cell, ink: black}
			if cell.Heads {
				list[i].element = tr.Add("TH").Heads("Row")
			} else {
				list[i].element = tr.Add("TD")
			}
		}
		r := c.cells(widths, list, t.Bands && k%2 == 1)
		r.head = again
		c.rows = append(c.rows, r)
	}
	c.Space(0.4)
}

// setCell is a cell as it is set; without an element it repeats another.
type setCell struct {
	Cell
	element *pdf.Element
	ink     drawing.Color
}

// cells returns a row of a table, with a line below it.
func (c *Column) cells(widths []float64, cells []setCell, shade bool) *row {
	size := tableSize * c.look.Size
	text, notes := make([][]line, len(cells)), make([][]line, len(cells))
	most := 0
	for i, cell := range cells {
		room := (widths[i] - 2*cellSide*size) / size
		text[i] = wrapped(cell.Spans, room)
		for _, note := range cell.Notes {
			notes[i] = append(notes[i], wrapped(styled(note, typeface.Italic), room)...)
		}
		most = max(most, len(text[i])+len(notes[i]))
	}
	height := (float64(most)*leading + 2*cellAbove) * size
	return &row{height: height, draw: func(p *pdf.Page, at floor.Point) {
		p.Mark(nil)
		if shade {
			p.Path(drawing.Look{Fill: band}, shaded(at, floor.Point{X: c.Width, Y: height}))
		}
		p.Path(drawing.Look{Ink: rule, Width: 0.2}, across(at.Plus(floor.Point{Y: height}), c.Width))
		at.Y += cellAbove * size
		for i, cell := range cells {
			p.Mark(cell.element)
			place := at.Plus(floor.Point{X: cellSide * size})
			for _, l := range text[i] {
				l.set(p, place, size, cell.ink)
				place.Y += leading * size
			}
			for _, l := range notes[i] {
				l.set(p, place, size, grey)
				place.Y += leading * size
			}
			at.X += widths[i]
		}
	}}
}
