package drawing

import (
	"math"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Feet are drawn so long, in millimetres, wherever the figure fits.
const (
	longestFoot  = 15.0
	shortestFoot = 12.0
	tiniestFoot  = 8.0 // smaller ones can't hold a number
)

// paper is what a layout must fit.
type paper struct {
	room floor.Point       // for all of it, in millimetres
	foot float64           // how long feet are at most, in millimetres
	up   routine.Direction // of the hall, up on the paper
	both bool              // both partners are drawn, so that their stances are
}

// layout is how some rows are drawn: pictures beside each other, of which each has all rows and
// some partners, or all partners and one row.
type layout struct {
	*subject
	from, to int
	strip    bool // a picture for each row
	pictures []*picture
	paper
	scale float64 // millimetres to the centimetre
	boxes []box   // where the pictures are, in millimetres on paper
	size  floor.Point
	key   [keyParts]box // where the parts of the key are; none for those that are not drawn
}

// layouts returns the best layout of rows [from, to), or those of its parts.
func (s *subject) layouts(from, to int, partners []routine.Partner, on paper) []*layout {
	var best *layout
	most := 0.0
	try := func(l *layout, worth float64) {
		if l == nil {
			return
		}
		l.paper = on
		l.arrange()
		if score := worth * l.scale; score > most {
			best, most = l, score
		}
	}
	together := 1.0 // what it is worth that partners are in one picture
	for _, tangle := range [...]int{mostTangle, oneTangle} {
		if l := s.whole(from, to, tangle, partners); l != nil {
			try(l, together*(1-l.pictures[0].crowded()/2))
		}
		if len(partners) == 2 {
			try(s.whole(from, to, tangle, partners[:1], partners[1:]), 0.9)
		}
		if best != nil && best.scale*footLength >= tiniestFoot {
			return []*layout{best}
		}
		if to-from > fewRows || s.stays(from, to) {
			break
		}
		together = 0.6
	}
	if to-from <= mostCells && s.stays(from, to) || to-from <= 1 {
		try(s.unrolled(from, to, partners), 10)
		return []*layout{best}
	}
	half := s.half(from, to)
	return append(s.layouts(from, half, partners, on), s.layouts(half, to, partners, on)...)
}

const (
	fewRows   = 8     // of a figure that travels and isn't split
	mostRows  = 64    // of a figure that are drawn
	mostCells = 12    // of what is unrolled
	spot      = 130.0 // centimetres: whoever goes no further stays on the spot
)

// stays reports whether no body goes far.
func (s *subject) stays(from, to int) bool {
	for i := from; i <= to; i++ {
		for q := range s.couples[i] {
			if s.couples[i][q].Body.Distance(s.couples[from][q].Body) > spot {
				return false
			}
		}
	}
	return true
}

// half returns the row at which rows are best parted: that which begins a bar and is nearest to the
// middle, or the middle.
func (s *subject) half(from, to int) int {
	bar := s.drawer.path.Score.Dance.Metre.Bar()
	best, off := (from+to)/2, math.Inf(1)
	for i := from + 1; i < to; i++ {
		if d := math.Abs(float64(2*i - from - to)); (s.row(i).At-s.row(0).At)%bar == 0 && d < off {
			best, off = i, d
		}
	}
	return best
}

// whole returns a layout with a picture of the rows for each group of partners, or nil if one of
// them can't be read.
func (s *subject) whole(from, to, tangle int, groups ...[]routine.Partner) *layout {
	l := &layout{subject: s, from: from, to: to}
	for _, g := range groups {
		p := s.nudged(from, to, g)
		if !p.untangled(tangle) {
			return nil
		}
		l.pictures = append(l.pictures, p)
	}
	return l
}

// unrolled returns a layout with a picture for each row.
func (s *subject) unrolled(from, to int, partners []routine.Partner) *layout {
	l := &layout{subject: s, from: from, to: to, strip: true}
	for i := from; i < to; i++ {
		l.pictures = append(l.pictures, s.nudged(i, i+1, partners))
	}
	return l
}

// The space that parts take, in millimetres.
const (
	edge     = 6.0 // around a picture, for labels
	headline = 5.0 // above a picture
	gap      = 3.0 // between two
)

// headline is how high the line above a picture is: none if it is the only one.
func (l *layout) headline() float64 {
	if l.strip || len(l.pictures) > 1 {
		return headline
	}
	return 0
}

// turn is how much the hall is turned on paper: to the right, in eighths.
func (l *layout) turn() routine.Turn { return routine.Turn(routine.Centre) - routine.Turn(l.up) }

func (l *layout) direction(d routine.Direction) routine.Direction { return d.Turned(l.turn()) }

// bounds returns what a picture needs, in centimetres on the turned floor.
func (l *layout) bounds(p *picture) (b box) {
	take := func(at floor.Point, by float64) {
		at = at.Turned(l.turn())
		b = b.Including(at.Plus(floor.Point{X: by, Y: by})).Including(at.Minus(floor.Point{X: by, Y: by}))
	}
	for i := range p.prints {
		for k := range discs {
			take(p.disc(&p.prints[i], k), radius)
		}
	}
	for i := range p.ways {
		for _, at := range p.curve(&p.ways[i], 6) {
			take(at, 0)
		}
	}
	for _, q := range p.partners {
		take(p.couples[p.to][q].Body, shoulders)
	}
	return b
}

// arrange chooses the scale and places the pictures, in rows from left to right.
func (l *layout) arrange() {
	bounds := make([]box, len(l.pictures))
	for i, p := range l.pictures {
		bounds[i] = l.bounds(p)
	}
	if !l.strip { // partners beside each other stand as they do in the hall, side by side
		for i := range bounds {
			for _, b := range bounds {
				bounds[i].Min.Y, bounds[i].Max.Y = min(bounds[i].Min.Y, b.Min.Y), max(bounds[i].Max.Y, b.Max.Y)
			}
		}
	}
	for l.scale = l.foot / footLength; l.scale > 0.02; l.scale *= 0.96 {
		if l.flow(bounds) {
			return
		}
	}
}

// flow places the pictures at the layout's scale, and reports whether they fit.
func (l *layout) flow(bounds []box) bool {
	l.boxes = l.boxes[:0:0]
	at, line, widest := floor.Point{}, 0.0, 0.0
	for i := range bounds {
		size := bounds[i].Max.Minus(bounds[i].Min).Times(l.scale).Plus(floor.Point{X: 2 * edge, Y: 2*edge + l.headline()})
		if at.X > 0 && at.X+size.X > l.room.X {
			at, line = floor.Point{Y: at.Y + line + gap}, 0
		}
		l.boxes = append(l.boxes, box{Min: at, Max: at.Plus(size)})
		at.X += size.X + gap
		line = max(line, size.Y)
		widest = max(widest, at.X-gap)
	}
	l.size = floor.Point{X: max(widest, l.keyWidth()), Y: at.Y + line + keyHeight}
	for i := range l.boxes {
		by := floor.Point{X: (l.size.X - widest) / 2}
		l.boxes[i] = box{Min: l.boxes[i].Min.Plus(by), Max: l.boxes[i].Max.Plus(by)}
	}
	return l.size.X <= l.room.X && l.size.Y <= l.room.Y
}

// shift returns how far a picture is moved on paper, once it is turned and scaled: into the middle of its box.
func (l *layout) shift(i int) floor.Point {
	b, room := l.bounds(l.pictures[i]), l.boxes[i]
	size := b.Max.Minus(b.Min).Times(l.scale)
	head := floor.Point{Y: l.headline()}
	spare := room.Max.Minus(room.Min).Minus(size).Minus(head).Times(0.5)
	return room.Min.Plus(spare).Plus(head).Minus(b.Min.Times(l.scale))
}

// onPaper returns where a place in the hall is on paper, in a picture that is moved so far.
func (l *layout) onPaper(at, shift floor.Point) floor.Point {
	return at.Turned(l.turn()).Times(l.scale).Plus(shift)
}

// The parts of a layout's key: the scale, how the couple begins and ends, and where the hall's sides are.
const (
	scalePart = iota
	beginsPart
	endsPart
	compassPart
	keyParts
)

// The space that they take, in millimetres.
const (
	keyHeight     = 14.0 // at most
	barRoom       = 9.0  // for what the scale's bar measures
	barHeight     = 8.0
	compassRoom   = 27.0
	compassHeight = 12.0
)

const bar = 50.0 // centimetres: the scale's

// keySizes returns how large the parts of the key are.
func (l *layout) keySizes() (sizes [keyParts]floor.Point) {
	sizes[scalePart] = floor.Point{X: 2 + max(bar*l.scale, barRoom), Y: barHeight}
	if l.both {
		sizes[beginsPart] = floor.Point{X: stanceWidth, Y: stanceHeight}
		sizes[endsPart] = sizes[beginsPart]
	}
	if placed(l.drawer.path.Score) {
		sizes[compassPart] = floor.Point{X: compassRoom, Y: compassHeight}
	}
	return sizes
}

// keyWidth is how wide the key is, in millimetres.
func (l *layout) keyWidth() (wide float64) {
	for _, size := range l.keySizes() {
		wide += size.X
	}
	return wide
}

// placed reports whether the couple has a place in the hall, so that its sides can be named.
func placed(score *routine.Score) bool { return score.Dance.Travels || score.Faces != nil }
