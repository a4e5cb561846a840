package pages

import (
	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/pdf"
	"dance.example/slowquick/routine/floor"
)

// Look is how a book is set. Lengths are in millimetres.
type Look struct {
	Paper  floor.Point
	Margin floor.Point // at the sides, and above and below
	Size   float64     // of the usual letters
	Foot   string      // what each page says below, beside its number
}

// The paper, in millimetres: ISO 216, and ANSI A.
var (
	A4     = floor.Point{X: 210, Y: 297}
	Letter = floor.Point{X: 215.9, Y: 279.4}
)

// Point is the printer's measure of letters, in millimetres.
const Point = 25.4 / 72

// small returns the size of letters that matter less: 8.5 points, or what large print needs.
func (l *Look) small() float64 { return max(0.9*l.Size, 8.5*Point) }

// The inks: on white each has a contrast of 5:1 at least, but for lines and bands, which mean nothing.
const (
	black drawing.Color = 1<<24 | 0x1a1a1a
	grey  drawing.Color = 1<<24 | 0x595959
	rule  drawing.Color = 1<<24 | 0xb5b5b5
	band  drawing.Color = 1<<24 | 0xf2f2f2
)

// tall returns how much of a page's height is for text.
func (l *Look) tall() float64 { return l.Paper.Y - 2*l.Margin.Y }

// row is what no end of a page parts.
type row struct {
	height float64
	keep   bool // it stands on the same page as the next
	fresh  bool // it begins a page
	group  *int // of the rows that stand on one page if that has room for them; nil for none
	head   *row // drawn again above it if it is the first of its page
	draw   func(p *pdf.Page, at floor.Point)
	place  *Place
}

// Place is where a heading stands, once the book is written.
type Place struct{ Page int }
