package drawing

import (
	"math"
	"slices"

	"dance.example/slowquick/routine/floor"
)

// Drawing is a picture on paper.
type Drawing struct {
	Size   floor.Point // in millimetres, X to the right and Y down
	Shapes []Shape     // the last on top
	Scale  float64     // millimetres for a centimetre of the floor
	Strip  bool        // it has a picture for each step, whose number stands above the feet
	Name   string      // of what is drawn
	Said   string      // what the drawing shows, in words
}

// Moved returns the same drawing with its shapes elsewhere, as a part of a larger one.
func (d *Drawing) Moved(by floor.Point) Drawing {
	moved := *d
	moved.Shapes = slices.Clone(d.Shapes)
	for i := range moved.Shapes {
		s := &moved.Shapes[i]
		s.Text.At = s.Text.At.Plus(by)
		s.Path.Places = slices.Clone(s.Path.Places)
		for k := range s.Path.Places {
			s.Path.Places[k] = s.Path.Places[k].Plus(by)
		}
	}
	return moved
}

// Stack returns drawings as one, each below the last.
func Stack(list []Drawing) (all Drawing) {
	for i := range list {
		moved := list[i].Moved(floor.Point{Y: all.Size.Y})
		all.Shapes = append(all.Shapes, moved.Shapes...)
		all.Size = floor.Point{X: max(all.Size.X, list[i].Size.X), Y: all.Size.Y + list[i].Size.Y}
		all.Scale, all.Name, all.Said = list[i].Scale, list[i].Name, list[i].Said
	}
	return all
}

// Shape is an outline, or a text.
type Shape struct {
	Look
	Path Path
	Text Text
	Of   string // whose it is, and of which steps, in words of [Drawing.Live]; "" for nobody's
}

// Look is how a shape is painted.
type Look struct {
	Fill, Ink Color   // of its inside and of its edge; 0 for none
	Width     float64 // of the edge, in millimetres
	Dash      float64 // the length of its dashes, in millimetres; 0 for none
}

// Color is opaque: 1<<24 and eight bits each of red, green and blue; 0 is no colour.
type Color uint32

// Path is a line: letters, as SVG has them, M, L, Q, C and Z, and the places that they need.
type Path struct {
	Letters string
	Places  []floor.Point
}

// places is how many places a letter of a path needs.
var places = map[rune]int{'M': 1, 'L': 1, 'Q': 2, 'C': 3, 'Z': 0}

// Text is a line of text.
type Text struct {
	Words  string
	At     floor.Point // its baseline, and its middle if it is centred
	Size   float64     // in millimetres
	Bold   bool
	Anchor Anchor
	Length float64 // to which it is fitted, in millimetres; 0 for as long as it is
}

// Placed returns where a text begins, and how much it is stretched, if it is as wide as is said by itself.
func (t *Text) Placed(width float64) (at floor.Point, stretch float64) {
	at, stretch = t.At, 1
	if t.Length > 0 && width > 0 {
		width, stretch = t.Length, t.Length/width
	}
	switch t.Anchor {
	case Middle:
		at.X -= width / 2
	case End:
		at.X -= width
	}
	return at, stretch
}

// Anchor is which part of a text is at its place.
type Anchor uint8

const (
	Begin Anchor = iota
	Middle
	End
)

// sheet collects shapes.
type sheet struct {
	shapes []Shape
	of     string // what is drawn now
}

func (s *sheet) path(l Look, p Path) { s.shapes = append(s.shapes, Shape{Look: l, Path: p, Of: s.of}) }
func (s *sheet) text(c Color, t Text) {
	s.shapes = append(s.shapes, Shape{Look: Look{Fill: c}, Text: t, Of: s.of})
}

// line returns the path through places.
func line(places ...floor.Point) Path {
	letters := make([]byte, len(places))
	for i := range letters {
		letters[i] = 'L'
	}
	letters[0] = 'M'
	return Path{string(letters), places}
}

// closed returns the path around places.
func closed(places ...floor.Point) Path {
	p := line(places...)
	p.Letters += "Z"
	return p
}

// circle returns a circle, of four curves.
func circle(at floor.Point, r float64) Path {
	const k = 0.5523 // of the radius: how far the control points of a quarter lie off
	p := func(x, y float64) floor.Point { return at.Plus(floor.Point{X: x * r, Y: y * r}) }
	return Path{"MCCCCZ", []floor.Point{p(1, 0), p(1, k), p(k, 1), p(0, 1), p(-k, 1), p(-1, k), p(-1, 0),
		p(-1, -k), p(-k, -1), p(0, -1), p(k, -1), p(1, -k), p(1, 0)}}
}

// rounded returns a rectangle with round corners.
func rounded(r box, radius float64) Path {
	a, b := r.Min, r.Max
	p := func(x, y float64) floor.Point { return floor.Point{X: x, Y: y} }
	return Path{"MLQLQLQLQZ", []floor.Point{
		p(a.X+radius, a.Y), p(b.X-radius, a.Y), p(b.X, a.Y), p(b.X, a.Y+radius),
		p(b.X, b.Y-radius), b, p(b.X-radius, b.Y), p(a.X+radius, b.Y), p(a.X, b.Y), p(a.X, b.Y-radius),
		p(a.X, a.Y+radius), a, p(a.X+radius, a.Y)}}
}

// box is an upright rectangle.
type box = floor.Bounds

// around returns the box of a size around a middle.
func around(middle floor.Point, width, height float64) box {
	half := floor.Point{X: width / 2, Y: height / 2}
	return box{Min: middle.Minus(half), Max: middle.Plus(half)}
}

func middle(b box) floor.Point { return b.Min.Plus(b.Max).Times(0.5) }

func grown(b box, by float64) box {
	return box{Min: b.Min.Minus(floor.Point{X: by, Y: by}), Max: b.Max.Plus(floor.Point{X: by, Y: by})}
}

// overlap returns the area that two boxes share.
func overlap(a, b box) float64 {
	return max(0, min(a.Max.X, b.Max.X)-max(a.Min.X, b.Min.X)) * max(0, min(a.Max.Y, b.Max.Y)-max(a.Min.Y, b.Min.Y))
}

// rectangle returns the path around a box.
func rectangle(b box) Path {
	return closed(b.Min, floor.Point{X: b.Max.X, Y: b.Min.Y}, b.Max, floor.Point{X: b.Min.X, Y: b.Max.Y})
}

// headLength is how long the head of an arrow is, in millimetres.
const headLength = 2.2

// tip draws the head of an arrow that ends at a place.
func (s *sheet) tip(l Look, at, way floor.Point) {
	length := math.Hypot(way.X, way.Y)
	if length == 0 {
		return
	}
	way = way.Times(headLength / length)
	across := floor.Point{X: -way.Y, Y: way.X}.Times(0.4)
	back := at.Minus(way)
	s.path(l, closed(at, back.Plus(across), back.Minus(across)))
}
