package motion

import (
	"math"

	"dance.example/slowquick/routine/floor"
)

// turned returns p turned about the origin by eighths of a turn, clockwise.
func turned(p floor.Point, eighths float64) floor.Point {
	s, c := math.Sincos(eighths * math.Pi / 4)
	return floor.Point{X: p.X*c - p.Y*s, Y: p.X*s + p.Y*c}
}

func between(p, q floor.Point, u float64) floor.Point {
	return floor.Point{X: p.X + (q.X-p.X)*u, Y: p.Y + (q.Y-p.Y)*u}
}

// Toward returns the way of length 1 in the direction of an angle.
func Toward(angle float64) floor.Point { return turned(floor.Point{X: 1}, angle) }

// soft returns how much of a movement is done after a part u of its time: that of least jerk.
func soft(u float64) float64 {
	u = min(max(u, 0), 1)
	return u * u * u * (10 + u*(6*u-15))
}

func smoothstep(u float64) float64 {
	u = min(max(u, 0), 1)
	return u * u * (3 - 2*u)
}

// slope returns the speed at a place between two others that lie h0 before it and h1 after
// it. It is 0 where the movement turns back.
func slope(was, is, will, h0, h1 float64) float64 {
	d0, d1 := (is-was)/h0, (will-is)/h1
	if d0*d1 <= 0 {
		return 0
	}
	w0, w1 := 2*h1+h0, h1+2*h0
	return (w0 + w1) / (w0/d0 + w1/d1)
}

// hermite returns a place after a part u of h beats, between two places with given speeds.
func hermite(from, to, fromSpeed, toSpeed, h, u float64) float64 {
	d := to - from
	a, b := fromSpeed*h-d, d-toSpeed*h
	return from + u*d + u*(1-u)*((1-u)*a+u*b)
}

// Way is the way of a foot: a quadratic Bézier curve.
type Way struct{ From, Over, To floor.Point }

// At returns the place after a part s, from 0 to 1, of the way.
func (w Way) At(s float64) floor.Point {
	switch {
	case s <= 0:
		return w.From
	case s >= 1:
		return w.To
	}
	return between(between(w.From, w.Over, s), between(w.Over, w.To, s), s)
}

// After returns the rest of the way after a part s.
func (w Way) After(s float64) Way {
	return Way{w.At(s), between(w.Over, w.To, s), w.To}
}

// Measures of a way round the standing foot, in centimetres.
const (
	passing = 14.0 // between the middles of two feet that pass: that of closed feet
	tight   = 8.0  // a way that begins or ends nearer to the passing place does not go there
	roomy   = 30.0 // one that begins and ends farther off does
	clear   = 9.0  // the least distance from the middle of the standing foot
	closer  = 0.8  // of the distance at which a way begins or ends, if that is less
	longer  = 1.8  // a foot is as much longer than it is broad
	bulge   = 40.0 // how far a way is pushed off at most
)

// wayPast returns the way of a foot past the other, which stands. Side is the way of
// length 1 out to the moving foot's side.
func wayPast(from, to floor.Point, stand Pose, side floor.Point) Way {
	via := stand.At.Plus(side.Times(passing))
	first, second := via.Distance(from), via.Distance(to)
	u := min(max(first/max(first+second, 1), 0.25), 0.75)
	wide := smoothstep((min(first, second) - tight) / (roomy - tight))
	over := between(between(from, to, u), via, 0.8*wide)
	chord := to.Minus(from)
	length := math.Hypot(chord.X, chord.Y)
	if length < 1 {
		return Way{from, between(from, to, 0.5), to}
	}
	across := floor.Point{X: -chord.Y / length, Y: chord.X / length}
	w := through(from, over, to, u)
	least := min(clear, closer*around(from, stand), closer*around(to, stand))
	best, most := w, -1.0
	for _, sign := range [...]float64{0, 1, -1} { // on the side where it is, then on either
		pushed := 0.0
		p := over
		for range 12 {
			try := through(from, p, to, u)
			at, off := nearest(try, stand)
			if off > most {
				best, most = try, off
			}
			if off >= least-1e-9 || pushed >= bulge {
				break
			}
			way := sign
			if way == 0 {
				way = 1
				if by := at.Minus(stand.At); by.X*across.X+by.Y*across.Y < 0 {
					way = -1
				}
			}
			by := least - off + 1
			pushed += by
			p = p.Plus(across.Times(way * by))
		}
		if most >= least-1e-9 {
			break
		}
	}
	return best
}

// through returns the way that is at a place after a part u.
func through(from, over, to floor.Point, u float64) Way {
	rest := over.Minus(from.Times((1 - u) * (1 - u))).Minus(to.Times(u * u))
	return Way{from, rest.Times(1 / (2 * u * (1 - u))), to}
}

// around returns how far a place is from the middle of a foot, where lengths along the foot
// count less, as it is longer than it is broad.
func around(p floor.Point, foot Pose) float64 {
	p = onto(p, foot)
	return math.Hypot(p.X, p.Y)
}

// onto returns a place as seen from a foot, with lengths along the foot shortened.
func onto(p floor.Point, foot Pose) floor.Point {
	off := turned(p.Minus(foot.At), -foot.Angle)
	return floor.Point{X: off.X / longer, Y: off.Y}
}

// nearest returns where a way is nearest to a foot.
func nearest(w Way, foot Pose) (at floor.Point, off float64) {
	const parts = 48
	seen := Way{onto(w.From, foot), onto(w.Over, foot), onto(w.To, foot)} // a curve through the same parts
	best, off := 0.0, math.Inf(1)
	for i := range parts + 1 {
		u := float64(i) / parts
		a, b, c := (1-u)*(1-u), 2*u*(1-u), u*u
		x, y := a*seen.From.X+b*seen.Over.X+c*seen.To.X, a*seen.From.Y+b*seen.Over.Y+c*seen.To.Y
		if d := x*x + y*y; d < off {
			best, off = u, d
		}
	}
	return w.At(best), math.Sqrt(off)
}

// Pose is a place, and where whatever is there points.
type Pose struct {
	At    floor.Point
	Angle float64 // in eighths of a turn
}
