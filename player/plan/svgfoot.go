package plan

import (
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// outline is a closed shape around a middle, in centimetres forward and
// outward: where it starts, then three points for each Bézier curve.
type outline []floor.Point

// sole is the two parts of a foot that mark the floor.
type sole struct{ ball, heel outline }

// soles are each partner's right foot. They differ so that they can be told
// apart without colour: the leader's shoe is broad; the follower's is pointed,
// with a small heel. Estimated from usual sizes of dance shoes.
var soles = [2]sole{
	routine.Leader: {
		ball: outline{{X: -4, Y: -3.1}, {X: 0, Y: -3.7}, {X: 3.5, Y: -4.6}, {X: 7.5, Y: -4.4}, {X: 11.5, Y: -4.2}, {X: 13.5, Y: -2.6}, {X: 13.5, Y: -0.4},
			{X: 13.5, Y: 2.6}, {X: 9.5, Y: 4.9}, {X: 6, Y: 4.9}, {X: 2.5, Y: 4.9}, {X: -0.5, Y: 3.4}, {X: -4, Y: 3.3}},
		heel: outline{{X: -5.8, Y: -3.2}, {X: -10.5, Y: -3.6}, {X: -13.5, Y: -2.8}, {X: -13.5, Y: 0.1}, {X: -13.5, Y: 2.8}, {X: -10.5, Y: 3.8}, {X: -5.8, Y: 3.4}},
	},
	routine.Follower: {
		ball: outline{{X: -3.5, Y: -1.9}, {X: 0.5, Y: -2.6}, {X: 3, Y: -4.1}, {X: 6.5, Y: -3.8}, {X: 9.5, Y: -3.5}, {X: 12.5, Y: -1.4}, {X: 12.8, Y: -0.6},
			{X: 12.2, Y: 1.4}, {X: 8.5, Y: 4.1}, {X: 5, Y: 4.1}, {X: 2, Y: 4.1}, {X: -0.5, Y: 2.6}, {X: -3.5, Y: 1.9}},
		heel: outline{{X: -8.6, Y: -1.9}, {X: -11, Y: -2.2}, {X: -12.8, Y: -1.6}, {X: -12.8, Y: 0}, {X: -12.8, Y: 1.6}, {X: -11, Y: 2.2}, {X: -8.6, Y: 1.9}},
	},
}

// Where numbers are written on a foot, and its size for comparisons with
// others, in centimetres.
const (
	ballMiddle = 5.0  // forward from the middle
	footLength = 27.0 // of the longer one
	footWidth  = 9.5
)

// discs are how far forward of its middle lie three circles, of radius 4.5,
// that nearly fill a foot.
var discs = [3]float64{-9, 0, 8}

// path writes an outline that points in direction d, at scale millimetres to
// the centimetre.
func (o outline) path(p *pen, class string, middle floor.Point, d routine.Direction, foot routine.Foot, scale float64) {
	commands := make([]any, 0, len(o)+4)
	for i, at := range o {
		switch i {
		case 0:
			commands = append(commands, "M")
		case 1:
			commands = append(commands, "C")
		}
		commands = append(commands, middle.Plus(along(d, at.X, at.Y*foot.Outward()).Times(scale)))
	}
	p.path(class, append(commands, "Z")...)
}

// mark says how a foot meets the floor.
type mark uint8

// The marks: full weight, part of the weight, no weight, and where a foot stood before.
const (
	fullMark mark = iota
	partMark
	freeMark
	oldMark
)

var markNames = [...]string{fullMark: "full", partMark: "part", freeMark: "free", oldMark: "before"}

// markOf returns the mark for a step's weight.
func markOf(w routine.Weight) mark {
	return [...]mark{routine.Full: fullMark, routine.Part: partMark, routine.None: freeMark, routine.Split: partMark}[w]
}

// footprint writes a foot. Without weight it is thin, and only its ball is
// drawn, as only that is sure to touch the floor.
func footprint(p *pen, q routine.Partner, foot routine.Foot, m mark, middle floor.Point, d routine.Direction, scale float64) {
	ball, heel := "sole", "sole"
	switch m {
	case partMark:
		heel = "thin"
	case freeMark:
		ball, heel = "thin", ""
	case oldMark:
		ball, heel = "old", "old"
	}
	soles[q].ball.path(p, ball, middle, d, foot, scale)
	if heel != "" {
		soles[q].heel.path(p, heel, middle, d, foot, scale)
	}
}

// Half the size of a body seen from above, in centimetres, and its nose. It is
// drawn at about half its real size, so as not to hide the feet.
const (
	shoulders = 11.0
	chest     = 4.5
	nose      = 4.0
)

// bodies are the partners' outlines from above: the leader's angular, the follower's round.
var bodies = [2]outline{
	routine.Leader: {{X: -chest, Y: -shoulders}, {X: -chest, Y: -shoulders}, {X: chest, Y: -shoulders}, {X: chest, Y: -shoulders},
		{X: chest, Y: -shoulders}, {X: chest, Y: -2.5}, {X: chest, Y: -2.5}, {X: chest, Y: -2.5}, {X: chest + nose, Y: 0}, {X: chest + nose, Y: 0},
		{X: chest + nose, Y: 0}, {X: chest, Y: 2.5}, {X: chest, Y: 2.5}, {X: chest, Y: 2.5}, {X: chest, Y: shoulders}, {X: chest, Y: shoulders},
		{X: chest, Y: shoulders}, {X: -chest, Y: shoulders}, {X: -chest, Y: shoulders}},
	routine.Follower: {{X: -chest, Y: 0}, {X: -chest, Y: -6}, {X: -2, Y: -shoulders}, {X: 0, Y: -shoulders}, {X: 2, Y: -shoulders}, {X: chest, Y: -7}, {X: chest, Y: -2.5},
		{X: chest, Y: -2.5}, {X: chest + nose, Y: 0}, {X: chest + nose, Y: 0}, {X: chest + nose, Y: 0}, {X: chest, Y: 2.5}, {X: chest, Y: 2.5},
		{X: chest, Y: 7}, {X: 2, Y: shoulders}, {X: 0, Y: shoulders}, {X: -2, Y: shoulders}, {X: -chest, Y: 6}, {X: -chest, Y: 0}},
}

// body writes a body that faces direction d.
func body(p *pen, q routine.Partner, class string, middle floor.Point, d routine.Direction, scale float64) {
	bodies[q].path(p, class, middle, d, routine.RF, scale)
}

// Sole returns the edges of the two parts of a partner's right foot, as corners around the
// middle of the foot: X is forward and Y to the right, in centimetres.
func Sole(q routine.Partner) (ball, heel []floor.Point) {
	return soles[q].ball.corners(), soles[q].heel.corners()
}

// corners returns places along an outline, close enough for it to look round.
func (o outline) corners() (list []floor.Point) {
	const parts = 5
	for i := 0; i+3 < len(o); i += 3 {
		for k := range parts {
			u := float64(k) / parts
			v := 1 - u
			list = append(list, o[i].Times(v*v*v).Plus(o[i+1].Times(3*v*v*u)).Plus(o[i+2].Times(3*v*u*u)).Plus(o[i+3].Times(u*u*u)))
		}
	}
	return append(list, o[len(o)-1])
}
