package motion

import (
	"cmp"
	"math"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Hand is a hand, or where one lies.
type Hand uint8

// The hands, and the follower's back.
const (
	NoHand Hand = iota
	Left
	Right
	Back
)

// Hold is a hand of the leader's that holds the follower's. Both are NoHand if none does.
type Hold struct {
	Leader, Follower Hand
	Firm             float64     // from 0, let go, to 1, held
	At               floor.Point // where the hands meet
}

// grip is a hold without its place.
type grip struct{ leader, follower Hand }

// hold is how the partners hold each other.
type hold struct {
	positions routine.PositionSet // 0 if not known
	grips     [2]grip
}

// dancing is the hold of two who face each other closely, and that which stays of it when
// they no longer do (common practice).
var (
	dancing = [2]grip{{Left, Right}, {Right, Back}}
	byHand  = [2]grip{{Left, Right}}
)

// holding returns the hold of a couple in one of some positions.
func holding(ps routine.PositionSet, c *floor.Couple) hold {
	h := hold{positions: ps}
	if ps == 0 || ps.Unknown() {
		return hold{}
	}
	r := ps.First().Region()
	switch {
	case r.Body:
		h.grips = dancing
	case r.Hands:
		h.grips = nearestHands(c)
	}
	return h
}

// after returns the hold after a step that names positions, or none. A hold lasts until
// another is named; partners who turn away from each other keep one hand of a body hold.
func (h hold) after(named routine.PositionSet, c *floor.Couple) hold {
	if named != 0 && !named.Unknown() && named != h.positions {
		return holding(named, c)
	}
	if h.grips != dancing && h.grips != byHand || h.positions == 0 || !h.positions.First().Region().Body {
		return h
	}
	h.grips = byHand
	apart := c[routine.Leader].Facing.To(c[routine.Follower].Facing)
	for _, eighth := range [...]routine.Turn{0, -1, 1} { // one may be an eighth ahead
		if h.positions.Allows(apart+eighth) || (apart+eighth)%8 == -4 || (apart+eighth)%8 == 4 { // or they face each other
			h.grips = dancing
		}
	}
	return h
}

// gripped returns which hands are joined as a passage begins, and after each of its rows.
func gripped(p *routine.Passage, couples []floor.Couple) (list [][2]grip) {
	hands := p.Begins.Hands
	h := holding(p.Begins.Positions, &couples[0]).by(hands)
	list = append(list, h.grips)
	for k := 1; k < len(couples); k++ {
		held := p.Held[k-1]
		if k == len(couples)-1 && (held == 0 || held.Unknown()) && !p.Ends.Unknown() {
			held = p.Ends
		}
		hands = cmp.Or(p.Hands[k-1], hands)
		h = h.after(held, &couples[k]).by(hands)
		list = append(list, h.grips)
	}
	return list
}

// by returns the hold with the hands that a sheet names, if it does.
func (h hold) by(hands routine.HandsSet) hold {
	named, ok := hands.First()
	if !ok {
		return h
	}
	hand := [...]Hand{routine.NoHand: NoHand, routine.LeftHand: Left, routine.RightHand: Right}
	for i, g := range named.Grips() {
		h.grips[i] = grip{hand[g.Leader], hand[g.Follower]}
	}
	return h
}

// preferred is by how much other hands must be nearer than the leader's left and the
// follower's right, in centimetres, to be held instead. Common practice: these two are held
// unless the partners stand so that it takes other hands.
const preferred = 25.0

// nearestHands returns the hold by one hand each.
func nearestHands(c *floor.Couple) (g [2]grip) {
	leader, follower := &c[routine.Leader], &c[routine.Follower]
	best := math.Inf(1)
	for _, try := range [...]grip{{Left, Right}, {Right, Left}, {Left, Left}, {Right, Right}} {
		off := hand(Pose{leader.Body, float64(leader.Facing)}, try.leader).Distance(hand(Pose{follower.Body, float64(follower.Facing)}, try.follower))
		if try != byHand[0] {
			off += preferred
		}
		if off < best {
			best, g = off, [2]grip{try}
		}
	}
	return g
}

// Where hands and shoulders are, in centimetres from the middle of the body. Estimated.
const (
	reachForward = 15.0
	reachAside   = 22.0
	shoulder     = 17.0
	shoulderBack = 9.0
	elbow        = 42.0 // how far from the shoulders held hands are
)

func aside(h Hand) float64 {
	if h == Left {
		return -1
	}
	return 1
}

// hand returns where a hand is that holds nothing.
func hand(body Pose, h Hand) floor.Point {
	return body.At.Plus(turned(floor.Point{X: reachForward, Y: aside(h) * reachAside}, body.Angle))
}

// Shoulder returns where the arm of a hand begins.
func Shoulder(body Pose, h Hand) floor.Point {
	return body.At.Plus(turned(floor.Point{Y: aside(h) * shoulder}, body.Angle))
}

// meet returns where two hands meet: between the shoulders and, if these are near, away
// from the couple's middle.
func (g grip) meet(leader, follower Pose) floor.Point {
	if g.follower == Back {
		return follower.At.Plus(turned(floor.Point{X: -shoulderBack, Y: -shoulder / 2}, follower.Angle))
	}
	one, other := Shoulder(leader, g.leader), Shoulder(follower, g.follower)
	middle := between(one, other, 0.5)
	out := middle.Minus(between(leader.At, follower.At, 0.5))
	far := max(0, elbow-one.Distance(other)/2)
	return middle.Plus(out.Times(far / max(shoulder, math.Hypot(out.X, out.Y))))
}
