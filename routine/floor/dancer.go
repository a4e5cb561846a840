package floor

import "dance.example/slowquick/routine"

type Print struct {
	At     Point
	Toward routine.Direction // relative to the first line of dance, like Dancer.Facing
}

type Dancer struct {
	feet   [2]Print // LF, RF
	Weight routine.Foot
	Body   Point             // the middle of the body
	Facing routine.Direction // of the body, relative to the first line of dance, whatever corners were taken
	lag    routine.Turn      // how much the body has yet to turn to where a foot points
}

// Foot returns where a foot is.
func (d *Dancer) Foot(f routine.Foot) Print { return d.feet[f-routine.LF] }

func (d *Dancer) foot(f routine.Foot) *Print { return &d.feet[f-routine.LF] }

type Couple [2]Dancer

// Apart returns the way from the leader's body to the follower's, as the leader
// sees it: forward, and to the right.
func (c *Couple) Apart() Point {
	return c[routine.Follower].Body.Minus(c[routine.Leader].Body).seenFrom(c[routine.Leader].Facing)
}

// Measures in centimetres, unless they say otherwise. Estimated; they set the proportions
// of a drawing, and cancel out of any figure that returns to its start.
const (
	hips      = 14.0 // between the middles of closed feet
	crossing  = 6.0  // how far a crossing foot passes the other
	behind    = 14.0 // and how far in front of the other or behind it
	slightly  = 0.3  // of a step's length
	small     = 0.5
	large     = 1.4
	pressed   = 0.5 // of the way, for part weight
	halfClose = 0.5 // of the way to the other foot
	inward    = 0.4 // of the way to the partner, for a foot that will pivot
)

// standing returns a dancer with closed feet.
func standing(body Point, facing routine.Direction, weight routine.Foot) Dancer {
	d := Dancer{Weight: weight, Body: body, Facing: facing}
	for _, f := range []routine.Foot{routine.LF, routine.RF} {
		*d.foot(f) = Print{d.beside(body, f), facing}
	}
	return d
}

// beside returns where a foot stands under a body.
func (d *Dancer) beside(body Point, f routine.Foot) Point {
	return body.Plus(Point{0, f.Outward() * hips / 2}.facing(d.Facing))
}

// step dances one step and returns how much its length may vary: one standard
// deviation, in centimetres.
//
// The step's way is seen from where the body faces after the step's turn, or late degrees before that. If
// the partners stand in a V, open is the direction of its open end, along which they travel whatever they
// face; otherwise it is zero.
func (d *Dancer) step(s *routine.Step, stride routine.Stride, open Point, late float64) (spread float64) {
	if s.Stands() || s.Pivots() {
		return 0
	}
	foot := d.foot(s.Foot)
	before := foot.At
	way, travels := stepWay(s, stride)
	way = way.facing(d.Facing).rotated(-late)
	if travels && open != (Point{}) {
		way = alongOpen(s, way, open)
	}
	body := d.Body.Plus(way)
	foot.At, foot.Toward = d.beside(body, s.Foot), d.Facing.Turned(d.lag)
	switch {
	case travels:
		spread = 2 + way.length()/5
	case s.Way == routine.Replace || s.Way == routine.InPlace:
		foot.At = before
		body = before.Plus(Point{0, -s.Foot.Outward() * hips / 2}.facing(d.Facing))
		if s.Way == routine.InPlace {
			spread = 2
		}
	case s.Way == routine.CrossInFront || s.Way == routine.CrossBehind:
		spread = 4
	case s.Way == routine.HalfClose:
		foot.At = foot.At.Plus(before.Minus(foot.At).Times(halfClose))
		spread = 4
	default: // closes, or taps beside the other foot
		spread = 4
	}
	if crossed, fore := crosses(s); crossed {
		over := Point{fore, -s.Foot.Outward() * (hips/2 + crossing)}
		foot.At = body.Plus(over.facing(d.Facing))
	}
	switch {
	case !s.Moves() && travels && lasting(s.Position) != 0: // the body comes into the hold, between both feet
		return hips / 2
	case !s.Moves():
		return 0
	case s.Weight == routine.Part || s.Weight == routine.Split:
		body = d.Body.Plus(body.Minus(d.Body).Times(pressed))
	}
	d.Body, d.Weight = body, s.Foot
	return spread
}

// late returns how many degrees of a step's turn a dancer in a body hold makes after the foot has gone. A foot
// goes to the side as seen from the body on its way, not from where it will be: of what turns more than a quarter,
// half comes after (estimated). More than a half is a spin on the standing foot, before the step.
func late(s *routine.Step) float64 {
	const quarter, most = 2, 4
	switch t := s.Turn; {
	case s.Way != routine.Side || t < -most || most < t:
		return 0
	case t > quarter:
		return degrees(t-quarter) / 2
	case t < -quarter:
		return degrees(t+quarter) / 2
	}
	return 0
}

// share has partners who will pivot put their feet between them, near the point that both turn about.
func (c *Couple) share() {
	way := c[routine.Follower].Body.Minus(c[routine.Leader].Body).Times(inward)
	for q, sign := range [2]float64{1, -1} {
		foot := c[q].foot(c[q].Weight)
		foot.At = foot.At.Plus(way.Times(sign))
	}
}

// turn turns the body about the standing foot. If less, as where a foot is said to point, the body turns an
// eighth less than the foot and completes its turn on the next step.
func (d *Dancer) turn(s *routine.Step, less bool) {
	t := s.Turn + d.lag
	d.lag = 0
	if less {
		d.lag = s.Turn / max(s.Turn, -s.Turn)
		t -= d.lag
	}
	d.rotate(t)
}

func points(s *routine.Step) bool { return s.Alignment.Stand == routine.Pointing && s.Turn != 0 }

// rotate turns the dancer on the standing foot.
func (d *Dancer) rotate(t routine.Turn) {
	if t == 0 {
		return
	}
	stand := d.foot(d.Weight)
	d.Body = stand.At.Plus(d.Body.Minus(stand.At).Turned(t))
	d.Facing = d.Facing.Turned(t)
	stand.Toward = d.Facing
}

// crosses reports whether the foot passes the other, and how far in front of
// it; behind it if negative.
func crosses(s *routine.Step) (yes bool, fore float64) {
	switch {
	case s.Way == routine.CrossInFront:
		return true, behind
	case s.Way == routine.CrossBehind:
		return true, -behind
	}
	return s.Way == routine.Across || s.Slightly == routine.Across, 0
}

// alongOpen returns the way of a step in a V. Forward steps, and side steps on
// the open side, go towards the open end; back steps go away from it.
func alongOpen(s *routine.Step, way, open Point) Point {
	switch {
	case s.Way == routine.Back, s.Way == routine.DiagonallyBack:
		return open.Times(-way.length())
	case s.Way != routine.Side, way.dot(open) > 1:
		return open.Times(way.length())
	}
	return way
}

// stepWay returns how far the body goes with a step, forward and to the right. Travels is
// false if the foot ends next to the standing foot or crossed over it.
func stepWay(s *routine.Step, stride routine.Stride) (way Point, travels bool) {
	side := Point{0, s.Foot.Outward() * float64(stride.Side)}
	forward := Point{float64(stride.Forward), 0}
	along := func(w routine.Way) (Point, bool) {
		switch w {
		case routine.Forward:
			return forward, true
		case routine.Back:
			return forward.Times(-1), true
		case routine.Side:
			return side, true
		case routine.DiagonallyForward:
			return Point{forward.X, s.Foot.Outward() * forward.X}.Times(diagonal), true
		case routine.DiagonallyBack:
			return Point{-forward.X, s.Foot.Outward() * forward.X}.Times(diagonal), true
		case routine.Across:
			return Point{forward.X, -s.Foot.Outward() * forward.X}.Times(diagonal), true
		}
		return Point{}, false
	}
	way, travels = along(s.Way)
	lesser, also := along(s.Slightly)
	switch {
	case s.Slightly == routine.Across && s.Way == routine.Back:
		way = Point{-forward.X, -s.Foot.Outward() * forward.X}.Times(diagonal)
	case s.Slightly == routine.Across:
		way, travels = lesser, true
	case also:
		way, travels = way.Plus(lesser.Times(slightly)), true
	}
	switch s.Size {
	case routine.Slight:
		way = way.Times(slightly)
	case routine.Small:
		way = way.Times(small)
	case routine.Large:
		way = way.Times(large)
	}
	return way, travels
}

func ahead(w routine.Way) bool  { return w == routine.Forward || w == routine.DiagonallyForward }
func astern(w routine.Way) bool { return w == routine.Back || w == routine.DiagonallyBack }
