package pages

import (
	"slices"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/pdf"
	"dance.example/slowquick/player/typeface"
	"dance.example/slowquick/routine/floor"
)

// Card is what stands on a card. What has no room on it goes over to another.
type Card struct {
	Name string
	Set  func(*Column)
}

const (
	cardEdge = 4.0 // around what stands on a card, in millimetres
	cutMark  = 2.0 // how long a mark is, from where two cuts meet
)

// CardRoom returns the room on a card, if so many stand across a page and down it.
func (b *Book) CardRoom(across, down int) floor.Point {
	return floor.Point{X: b.Width/float64(across) - 2*cardEdge, Y: b.look.tall()/float64(down) - 2*cardEdge}
}

// Cards sets cards to cut out, with a cross wherever cuts meet.
func (b *Book) Cards(across, down int, list []Card) {
	room := b.CardRoom(across, down)
	var all []*sheet
	for _, card := range list {
		all = append(all, b.card(card, room)...)
	}
	for n := across * down; len(all) > 0; all = all[min(n, len(all)):] {
		page := all[:min(n, len(all))]
		b.rows = append(b.rows, &row{height: b.look.tall(), draw: func(p *pdf.Page, at floor.Point) {
			for i, s := range page {
				corner := at.Plus(floor.Point{X: float64(i%across) * (room.X + 2*cardEdge), Y: float64(i/across) * (room.Y + 2*cardEdge)})
				cutMarks(p, corner, room.Plus(floor.Point{X: 2 * cardEdge, Y: 2 * cardEdge}))
				s.draw(p, corner.Plus(floor.Point{X: cardEdge, Y: cardEdge}))
			}
		}})
	}
}

// card sets a card, and those to which it goes over.
func (b *Book) card(card Card, room floor.Point) []*sheet {
	c := b.within(room.X, b.in.Add("Sect"))
	card.Set(c)
	sheets := share(c.rows, room.Y)
	if len(sheets) == 1 {
		return sheets
	}
	again := c.within(room.X, nil)
	again.lines(nil, styled(card.Name+", goes on", typeface.Bold), c.look.Size, black)
	again.rows = again.rows[:1] // of a long name
	sheets = share(c.rows, room.Y-again.height())
	for _, s := range sheets[1:] {
		s.rows = slices.Concat(again.rows, s.rows)
	}
	return sheets
}

// cutMarks draws the corners of a card.
func cutMarks(p *pdf.Page, at, size floor.Point) {
	p.Mark(nil)
	for _, x := range []float64{at.X, at.X + size.X} {
		for _, y := range []float64{at.Y, at.Y + size.Y} {
			for _, way := range []floor.Point{{X: cutMark}, {Y: cutMark}} {
				middle := floor.Point{X: x, Y: y}
				p.Path(drawing.Look{Ink: grey, Width: 0.2}, drawing.Path{Letters: "ML", Places: []floor.Point{middle.Minus(way), middle.Plus(way)}})
			}
		}
	}
}
