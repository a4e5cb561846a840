package drawing

import (
	"math"
	"slices"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// tuck places the key: the scale and the compass in the lower corners, as far beside the pictures as there is
// room, and the stances where nothing else is or, if that is nowhere, below what is.
func (l *layout) tuck() {
	sizes, taken := l.keySizes(), l.taken()
	l.size.Y -= keyHeight // the end of the pictures
	for _, part := range [...]int{scalePart, compassPart} {
		l.size.Y = max(l.size.Y, below(taken, corner(part, l.size.X, sizes[part]), sizes[part])+sizes[part].Y)
	}
	corners := func() {
		for _, part := range [...]int{scalePart, compassPart} {
			at := floor.Point{X: corner(part, l.size.X, sizes[part]), Y: l.size.Y - sizes[part].Y}
			l.key[part] = box{Min: at, Max: at.Plus(sizes[part])}
		}
	}
	corners()
	if l.both {
		l.placeStances(taken)
		l.size.Y = max(l.size.Y, l.key[beginsPart].Max.Y)
		corners()
	}
}

// placeStances places the stances beside each other where nothing is, or apart, or below the pictures between the
// scale and the compass.
func (l *layout) placeStances(taken []box) {
	taken = append(taken, l.key[scalePart], l.key[compassPart])
	one, pair := floor.Point{X: stanceWidth, Y: stanceHeight}, floor.Point{X: 2 * stanceWidth, Y: stanceHeight}
	begins, ok := l.vacant(taken, pair)
	ends := begins.Plus(floor.Point{X: stanceWidth})
	if !ok {
		if begins, ok = l.vacant(taken, one); ok {
			ends, ok = l.vacant(append(taken, box{Min: begins, Max: begins.Plus(one)}), one)
		}
	}
	if !ok {
		begins = l.beneath(taken, pair)
		ends = begins.Plus(floor.Point{X: stanceWidth})
	}
	l.key[beginsPart], l.key[endsPart] = box{Min: begins, Max: begins.Plus(one)}, box{Min: ends, Max: ends.Plus(one)}
}

// corner returns where the scale or the compass begins in a width.
func corner(part int, width float64, size floor.Point) float64 {
	if part == scalePart {
		return 0
	}
	return width - size.X
}

const every = 3.0 // millimetres, between places that are tried

// vacant returns the lowest place of a size in a drawing where nothing is.
func (l *layout) vacant(taken []box, size floor.Point) (at floor.Point, ok bool) {
	for y := l.size.Y - size.Y; y >= 0; y -= every {
		for x := 0.0; x <= l.size.X-size.X; {
			at := floor.Point{X: x, Y: y}
			room := grown(box{Min: at, Max: at.Plus(size)}, 1)
			in := slices.IndexFunc(taken, func(b box) bool {
				return b.Min.X < room.Max.X && room.Min.X < b.Max.X && b.Min.Y < room.Max.Y && room.Min.Y < b.Max.Y
			})
			if in < 0 {
				return at, true
			}
			x = taken[in].Max.X + 1.01 // beside what is in the way, whatever is lost by rounding
		}
	}
	return floor.Point{}, false
}

// beneath returns the highest place of a size below the pictures, between the scale and the compass.
func (l *layout) beneath(taken []box, size floor.Point) floor.Point {
	best := floor.Point{Y: math.Inf(1)}
	for x := l.key[scalePart].Max.X; x <= l.key[compassPart].Min.X-size.X+0.01; x += every {
		if y := below(taken, x, size); y < best.Y {
			best = floor.Point{X: x, Y: y}
		}
	}
	return best
}

// below returns the height below which nothing is where something of a size and its left side stands.
func below(taken []box, x float64, size floor.Point) (y float64) {
	for _, b := range taken {
		if b.Max.X > x && b.Min.X < x+size.X {
			y = max(y, b.Max.Y)
		}
	}
	return y
}

// taken returns boxes around all that is drawn in the pictures, with a millimetre to spare.
func (l *layout) taken() (list []box) {
	for i, p := range l.pictures {
		shift := l.shift(i)
		take := func(at floor.Point, by float64) {
			at = l.onPaper(at, shift)
			list = append(list, around(at, 2*by+2, 2*by+2))
		}
		if l.strip { // what stood between the feet of a step would seem to be of it
			list = append(list, l.boxes[i])
		} else if top := l.boxes[i].Min; l.headline() > 0 {
			list = append(list, box{Min: top, Max: top.Plus(floor.Point{X: 25, Y: headline})})
		}
		for i := range p.prints {
			for k := range discs {
				take(p.disc(&p.prints[i], k), radius*l.scale)
			}
		}
		for i := range p.ways {
			for _, at := range p.curve(&p.ways[i], 20) {
				take(at, 0)
			}
		}
		for _, q := range p.partners {
			take(p.couples[p.to][q].Body, shoulders*l.scale)
		}
	}
	return list
}

// drawKey draws the key where it was placed.
func (l *layout) drawKey(s *sheet) {
	s.scaleBar(floor.Point{X: 1, Y: l.key[scalePart].Max.Y - 2}, bar*l.scale, "50 cm")
	if l.both {
		s.stance(l.key[beginsPart], "begins", l.stance(l.from), l.turn())
		s.stance(l.key[endsPart], "ends", l.stance(l.to), l.turn())
	}
	if score := l.drawer.path.Score; placed(score) {
		at := floor.Point{X: middle(l.key[compassPart]).X, Y: l.key[compassPart].Max.Y - 6}
		s.compass(at, score.Dance.Travels, func(d routine.Direction) routine.Direction {
			return l.direction(d.Turned(-routine.CornerTurn * routine.Turn(l.Corners)))
		})
	}
}
