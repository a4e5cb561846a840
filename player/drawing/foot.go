package drawing

import (
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// sole is the right foot of a partner, around its middle, in centimetres: X forward, Y outward.
type sole struct{ whole, ball, heel []floor.Point }

// curves returns the path of a sole's part, given as where it starts and three places for each curve.
func curves(list []floor.Point, middle floor.Point, to routine.Direction, foot routine.Foot, scale float64) Path {
	return curved(list, func(x, y float64) floor.Point { return middle.Plus(along(to, x, y*foot.Outward()).Times(scale)) })
}

// curved returns the same for any way to put the places on paper.
func curved(list []floor.Point, on func(x, y float64) floor.Point) Path {
	p := Path{Letters: "M", Places: make([]floor.Point, len(list))}
	for i, at := range list {
		if i%3 == 1 {
			p.Letters += "C"
		}
		p.Places[i] = on(at.X, at.Y)
	}
	p.Letters += "Z"
	return p
}

// soles are the partners' right feet. They differ so that partners can be told apart without colour:
// the leader's shoe is broad and in one piece, the follower's pointed, its small heel apart.
// Estimated from usual sizes of dance shoes.
var soles = [2]sole{
	routine.Leader: {
		whole: []floor.Point{{X: -13.5, Y: 0}, {X: -13.5, Y: -2.9}, {X: -11, Y: -3.4}, {X: -8, Y: -3.3}, {X: -4, Y: -3.2}, {X: -3, Y: -2.6}, {X: 0, Y: -3.3},
			{X: 3, Y: -4.4}, {X: 7, Y: -4.5}, {X: 9.5, Y: -4.1}, {X: 12, Y: -3.7}, {X: 13.5, Y: -2.4}, {X: 13.5, Y: -0.4},
			{X: 13.5, Y: 2.4}, {X: 10, Y: 4.9}, {X: 6, Y: 4.9}, {X: 2.5, Y: 4.9}, {X: -1, Y: 3.1}, {X: -4, Y: 3.2}, {X: -6, Y: 3.3}, {X: -7, Y: 3.6}, {X: -9, Y: 3.6},
			{X: -12, Y: 3.5}, {X: -13.5, Y: 2.5}, {X: -13.5, Y: 0}},
		ball: []floor.Point{{X: -4, Y: -3.1}, {X: 0, Y: -3.7}, {X: 3.5, Y: -4.6}, {X: 7.5, Y: -4.4}, {X: 11.5, Y: -4.2}, {X: 13.5, Y: -2.6}, {X: 13.5, Y: -0.4},
			{X: 13.5, Y: 2.6}, {X: 9.5, Y: 4.9}, {X: 6, Y: 4.9}, {X: 2.5, Y: 4.9}, {X: -0.5, Y: 3.4}, {X: -4, Y: 3.3}, {X: -4, Y: 1}, {X: -4, Y: -1}, {X: -4, Y: -3.1}},
		heel: []floor.Point{{X: -5.8, Y: -3.2}, {X: -10.5, Y: -3.6}, {X: -13.5, Y: -2.8}, {X: -13.5, Y: 0.1}, {X: -13.5, Y: 2.8}, {X: -10.5, Y: 3.8}, {X: -5.8, Y: 3.4},
			{X: -5.8, Y: 1}, {X: -5.8, Y: -1}, {X: -5.8, Y: -3.2}},
	},
	routine.Follower: {
		ball: []floor.Point{{X: -5.5, Y: -1.5}, {X: -0.5, Y: -2.4}, {X: 2, Y: -4}, {X: 5.5, Y: -3.9}, {X: 9.5, Y: -3.7}, {X: 13, Y: -1.2}, {X: 13.3, Y: -0.4},
			{X: 12.4, Y: 1.6}, {X: 8.5, Y: 4.3}, {X: 5, Y: 4.3}, {X: 2, Y: 4.3}, {X: -0.5, Y: 2.4}, {X: -5.5, Y: 1.5}, {X: -5.9, Y: 0.5}, {X: -5.9, Y: -0.5}, {X: -5.5, Y: -1.5}},
		heel: []floor.Point{{X: -8.2, Y: -1.9}, {X: -11, Y: -2.3}, {X: -13, Y: -1.6}, {X: -13, Y: 0}, {X: -13, Y: 1.6}, {X: -11, Y: 2.3}, {X: -8.2, Y: 1.9},
			{X: -8, Y: 0.6}, {X: -8, Y: -0.6}, {X: -8.2, Y: -1.9}},
	},
}

const footLength = 27.0 // centimetres

// The inks are dark enough on white for any eye (more than 7:1), and on a copier both are dark.
const (
	white  Color = 1<<24 | 0xffffff
	black  Color = 1 << 24
	grey   Color = 1<<24 | 0x6b6b6b // 5.3:1 on white
	light  Color = 1<<24 | 0xaaaaaa // of frames, which mean nothing
	pale   Color = 1<<24 | 0xececec
	blue   Color = 1<<24 | 0x0b4a8f
	red    Color = 1<<24 | 0xa03a00
	paleB  Color = 1<<24 | 0xb9cfe8
	paleR  Color = 1<<24 | 0xf0c8a8
	footed       = 0.35 // the width of a foot's edge, in millimetres
)

// inks are those of the partners; tints fill feet that bear part of the weight.
var (
	inks  = [2]Color{routine.Leader: blue, routine.Follower: red}
	tints = [2]Color{routine.Leader: paleB, routine.Follower: paleR}
)

// footprint draws a foot: a left one white, a right one dark. With part of the weight it is tinted
// and dashed; without weight only its ball is drawn, dashed.
func (s *sheet) footprint(q routine.Partner, foot routine.Foot, w routine.Weight, middle floor.Point, to routine.Direction, scale float64) {
	look := Look{Fill: white, Ink: inks[q], Width: footed}
	if foot == routine.RF {
		look.Fill = inks[q]
	}
	switch w {
	case routine.Part, routine.Split:
		look.Fill, look.Dash = tints[q], 0.9
	case routine.None:
		look.Fill, look.Dash = white, 0.9
		s.path(look, curves(soles[q].ball, middle, to, foot, scale))
		return
	}
	s.sole(look, q, foot, middle, to, scale)
}

// sole draws the whole of a foot.
func (s *sheet) sole(l Look, q routine.Partner, foot routine.Foot, middle floor.Point, to routine.Direction, scale float64) {
	if whole := soles[q].whole; whole != nil {
		s.path(l, curves(whole, middle, to, foot, scale))
		return
	}
	s.path(l, curves(soles[q].ball, middle, to, foot, scale))
	s.path(l, curves(soles[q].heel, middle, to, foot, scale))
}

// Half the size of a body from above, in centimetres, and its nose: about half its real size, so
// that it hides no foot.
const (
	shoulders = 12.0
	chest     = 4.5
	nose      = 4.0
)

// body draws a body as it faces: the leader's angular, the follower's round.
func (s *sheet) body(l Look, q routine.Partner, middle floor.Point, to routine.Direction, scale float64) {
	s.path(l, torso(q, func(x, y float64) floor.Point { return middle.Plus(along(to, x, y).Times(scale)) }))
}

// torso returns the path around a body.
func torso(q routine.Partner, p func(x, y float64) floor.Point) Path {
	if q == routine.Leader {
		return closed(p(-chest, -shoulders), p(chest, -shoulders), p(chest, -2.5), p(chest+nose, 0), p(chest, 2.5), p(chest, shoulders), p(-chest, shoulders))
	}
	return Path{"MCCLLCCZ", []floor.Point{p(-chest, 0), p(-chest, -6), p(-2, -shoulders), p(0, -shoulders), p(2, -shoulders), p(chest, -7), p(chest, -2.5),
		p(chest+nose, 0), p(chest, 2.5), p(chest, 7), p(2, shoulders), p(0, shoulders), p(-2, shoulders), p(-chest, 6), p(-chest, 0)}}
}

// Sole returns the edges of the two parts of a partner's right foot, as corners around the middle of
// the foot: X is forward and Y to the right, in centimetres.
func Sole(q routine.Partner) (ball, heel []floor.Point) {
	return corners(soles[q].ball), corners(soles[q].heel)
}

// corners returns places along curves, close enough for them to look round.
func corners(curves []floor.Point) (list []floor.Point) {
	const parts = 5
	for i := 0; i+3 < len(curves); i += 3 {
		for k := range parts {
			u := float64(k) / parts
			v := 1 - u
			list = append(list, curves[i].Times(v*v*v).Plus(curves[i+1].Times(3*v*v*u)).Plus(curves[i+2].Times(3*v*u*u)).Plus(curves[i+3].Times(u*u*u)))
		}
	}
	return list
}
