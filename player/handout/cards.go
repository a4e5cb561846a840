package handout

import (
	"fmt"
	"html/template"
	"io"
	"slices"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/pages"
	"dance.example/slowquick/routine/floor"
)

// CardSize says how large cards to cut out are: four or eight of them stand on a page.
type CardSize uint8

// The sizes of cards.
const (
	LargeCards CardSize = iota
	SmallCards
)

// CardNumbers are how many cards of each size stand on a page.
var CardNumbers = [...]string{LargeCards: "4", SmallCards: "8"}

// cardsDown is how many stand below each other; two stand side by side.
var cardsDown = [...]int{LargeCards: 2, SmallCards: 4}

// card is a figure, or its drawing alone, on a card.
type card struct {
	*figurePart
	Chart bool
	Words string // what the drawing shows
	drawn []drawing.Drawing
}

// cards returns the cards of a sheet, each with what has room on it. High returns how high a card is as it is.
func (k CardSize) cards(sheet *programme, room floor.Point, high func(*card) float64) (list []*card) {
	drawer := drawing.New(sheet.path)
	for i := range sheet.Figures {
		c := &card{figurePart: &sheet.Figures[i], Chart: true}
		for _, c.Words = range []string{c.Said, ""} {
			if c.drawn = c.draw(sheet, drawer, room.X, room.Y-high(c)); c.drawn != nil {
				break
			}
		}
		if list = append(list, c); c.drawn != nil {
			continue
		}
		alone := &card{figurePart: c.figurePart}
		if k == LargeCards {
			alone.drawn = c.draw(sheet, drawer, room.X, room.Y-high(alone))
		}
		if alone.drawn != nil {
			list = append(list, alone)
		}
		if c.Words = c.Said; high(c) > room.Y && (alone.drawn != nil || k == SmallCards) {
			c.Words = ""
		}
	}
	return list
}

// draw draws a figure for what is left of a card, or returns none if its feet could not hold their numbers.
func (c *card) draw(sheet *programme, drawer *drawing.Drawer, width, height float64) []drawing.Drawing {
	const leastHeight, leastInStrip = 30.0, 5.0 // millimetres
	height -= 3
	if height < leastHeight {
		return nil
	}
	list := drawer.Figure(c.passage, drawing.Options{Shown: sheet.set.Shown, Up: up(sheet, c.figurePart), Widths: []float64{width}, Height: height})
	if len(list) != 1 || list[0].Size.Y > height {
		return nil
	}
	if foot := footOf(list); foot < leastInStrip || foot < leastFoot && !list[0].Strip {
		return nil
	}
	return list
}

// PDF writes a card for each figure, as pages to print and to cut. What has no room on a card goes over to another.
func (k CardSize) PDF(w io.Writer, s Sheet) error {
	sheet := newProgramme(s.Line, s.Options)
	look := look(s.Options, sheet.foot())
	if k == SmallCards {
		look.Size = 8.5 * pages.Point
	}
	book := pages.New(sheet.Title, "en", look)
	room := book.CardRoom(2, cardsDown[k])
	var list []pages.Card
	for _, c := range k.cards(sheet, room, func(c *card) float64 { return book.Within(room.X, c.setter(sheet)) }) {
		list = append(list, pages.Card{Name: c.Name, Set: c.setter(sheet)})
	}
	book.Cards(2, cardsDown[k], list)
	if err := book.Write(w); err != nil {
		return fmt.Errorf("write cards: %w", err)
	}
	return nil
}

// setter returns a function that sets a card.
func (c *card) setter(sheet *programme) func(*pages.Column) {
	return func(col *pages.Column) {
		col.CardHeading(c.Name)
		if c.Chart {
			facts(col, c.facts(sheet))
			col.Table(chartTable(sheet, c.figurePart))
		}
		if c.drawn != nil {
			col.Figure(c.drawn, 1, "Plan of the floor: "+c.Name+". "+c.Said)
		}
		if c.Words != "" {
			col.Note(pages.Plain(c.Words))
		}
	}
}

// facts returns what a card says besides its chart.
func (c *card) facts(sheet *programme) []fact {
	return append([]fact{{"Dance", sheet.Dance}}, slices.DeleteFunc(slices.Clone(c.Facts), func(x fact) bool { return x.Name != "Starts" && x.Name != "Ends" })...)
}

// SVG returns a card's drawing for a page.
func (c *card) SVG() template.HTML { return svgs(c.drawn, 1) }

// HTML writes the same as a page, on which a card is as high as what it holds.
func (k CardSize) HTML(w io.Writer, s Sheet) error {
	const edge = 8.0 // beside, or above and below what stands on a card, in millimetres
	page := layouts[s.Options.Paper]
	high := page.height / float64(cardsDown[k])
	room := floor.Point{X: page.width/2 - edge, Y: high - edge}
	p := pagePart{programme: newProgramme(s.Line, s.Options), layout: &layout{width: room.X}}
	whole := struct {
		*programme
		Cards []*card
		Style template.CSS
		High  string // of a card, in millimetres
	}{p.programme, nil, Style(s.Options.Paper, ""), number(high - 0.1)}
	whole.Cards = k.cards(p.programme, room, func(c *card) float64 {
		f := drawnFigure{figurePart: *c.figurePart}
		f.Said = c.Words
		if !c.Chart {
			f.Rows, f.Facts = nil, nil
		}
		return p.high(&f)
	})
	if err := pageTemplate().ExecuteTemplate(w, "cards", whole); err != nil {
		return fmt.Errorf("write cards: %w", err)
	}
	return nil
}
