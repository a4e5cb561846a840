// Package pictogram draws a step as a sign that can be read from three metres: where the
// foot goes as seen from the dancer's body, what it does there, and how far the body turns.
//
// A sign fills a square. Nothing is told by colour alone: full weight is solid, no weight
// hollow, part weight solid with a hollow tip or without a heel. A foot that stands is dimmer, or in
// outline where colours are few. [Way] draws the step, [Turn] the turn, [Foot] the letter
// of the foot; A square has [Size] pixels a side, or more.
package pictogram

import (
	"math"
	"slices"

	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine"
)

// The sides of signs in pixels.
const (
	Size  = 14 // the least from which each can be told from each: 14 columns by 7 rows in half blocks
	Small = 10 // for what comes next; so small some differ in few pixels
)

// Foot draws the letter of a foot, L or R, so high that it fills the square; nothing if
// nobody steps.
func Foot(c *raster.Canvas, f routine.Foot, at raster.Point, side float64, ink raster.Ink) {
	if f == routine.NoFoot {
		return
	}
	s := raster.Text(f.String()[:1], side)
	from, to := s.Bounds()
	c.Fill(s.Move(at.X+math.Round((side-to.X-from.X)/2), at.Y), ink)
}

// Way draws where the foot of a step goes into the square of so many pixels a side at a
// place: its top left corner. Both are best whole numbers.
func Way(c *raster.Canvas, s *routine.Step, at raster.Point, side float64, ink raster.Ink) {
	b := brush{c: c, at: at, n: side, ink: ink, mirror: s.Foot == routine.LF}
	way, lesser := s.Way, s.Slightly
	switch {
	case s.Stands():
		b.fill(b.box(0.2, 0.43, 0.8, 0.57), b.second())
	case s.Pivots(), way == routine.NoWay && has(s, "pivot", "spiral", "heel turn"):
		b.swivel(s)
	case way == routine.NoWay && has(s, "flick", "kick"):
		b.flick(s.Weight)
	case way == routine.NoWay, way == routine.InPlace:
		b.inPlace(s.Weight)
	case way == routine.Replace:
		b.replace(s.Weight)
	case way == routine.Close:
		b.close(s.Weight, false)
	case way == routine.HalfClose:
		b.close(s.Weight, true)
	case way == routine.CrossInFront:
		b.cross(s.Weight, false)
	case way == routine.CrossBehind:
		b.cross(s.Weight, true)
	case way == routine.Across, lesser == routine.Across:
		b.across(s, way == routine.Back)
	default:
		b.arrow(s)
	}
}

func has(s *routine.Step, actions ...string) bool {
	return slices.ContainsFunc(s.Actions, func(a string) bool { return slices.Contains(actions, a) })
}

// lengths are how long the arrow of a step is, for a square of 1.
var lengths = [...]float64{routine.Usual: 0.86, routine.Slight: 0.44, routine.Small: 0.65, routine.Large: 1}

// eighths are the directions of ways of the right foot, clockwise from forward.
var eighths = map[routine.Way]int{routine.Forward: 0, routine.DiagonallyForward: 1, routine.Side: 2, routine.DiagonallyBack: 3, routine.Back: 4}

// brush draws signs of the right foot in a square of 1; those of the left are mirrored.
type brush struct {
	c      *raster.Canvas
	at     raster.Point
	n      float64 // pixels
	ink    raster.Ink
	mirror bool
}

// flat reports whether a dimmer part has to be told by more than its ink.
func (b brush) flat() bool {
	m := b.c.Palette().Mode()
	return m.Depth <= raster.Sixteen || m.Raster == raster.Dots
}

// thin is the width of outlines, in pixels.
func (b brush) thin() float64 { return max(1, math.Round(b.n/Size)) }

// px rounds a length in the square to whole pixels.
func (b brush) px(length float64) float64 { return math.Round(length * b.n) }

// mid rounds a length that lies about the middle: to as many pixels as leave the same
// number on both sides, so that its edges are sharp.
func (b brush) mid(length float64) float64 {
	parity := math.Mod(math.Round(b.n), 2)
	return max(math.Round((length*b.n-parity)/2)*2+parity, 1)
}

// box returns a rectangle with whole pixels.
func (b brush) box(x0, y0, x1, y1 float64) raster.Shape {
	return raster.Rectangle(raster.Point{X: b.px(x0), Y: b.px(y0)}, raster.Point{X: b.px(x1), Y: b.px(y1)})
}

// fill fills a shape that is in pixels of the square.
func (b brush) fill(s raster.Shape, ink raster.Ink) {
	if b.mirror {
		s = s.Scale(-1, 1).Move(b.n, 0)
	}
	b.c.Fill(s.Move(b.at.X, b.at.Y), ink)
}

// second is the ink of what is not the foot that steps. Where colours are few a tint is
// not seen.
func (b brush) second() raster.Ink {
	dim := b.ink.Dim()
	if b.flat() && (dim == raster.LeaderTint || dim == raster.FollowerTint) {
		return b.ink
	}
	return dim
}

// solid fills s, or draws its outline if it carries no weight.
func (b brush) solid(s raster.Shape, filled bool) {
	if !filled {
		s = s.Outline(b.thin())
	}
	b.fill(s, b.ink)
}

// standing draws the foot that stands.
func (b brush) standing(s raster.Shape) {
	if b.flat() {
		s = s.Outline(b.thin())
	}
	b.fill(s, b.second())
}

// sole returns the ball and the heel of a foot that points up, within a rectangle in
// pixels.
func sole(x, y, w, h float64) (ball, heel raster.Shape) {
	r := w / 2
	long := math.Round(h * 0.6)
	var c []raster.Point
	for i := range 13 { // round toes
		sin, cos := math.Sincos(math.Pi * float64(i) / 12)
		c = append(c, raster.Point{X: x + r - r*cos, Y: y + r - r*sin})
	}
	ball = raster.Polygon(append(c, raster.Point{X: x + w, Y: y + long}, raster.Point{X: x, Y: y + long})...)
	gap := max(1, math.Round(h/14))
	heel = raster.Rectangle(raster.Point{X: x, Y: y + long + gap}, raster.Point{X: x + w, Y: y + h})
	return ball, heel
}

// foot draws the foot that steps. Part weight is on its ball alone.
func (b brush) foot(w routine.Weight, ball, heel raster.Shape) {
	b.solid(ball, w != routine.None)
	if w != routine.Part {
		b.solid(heel, w == routine.Full)
	}
}

// upward returns an arrow up from the middle of the square, as shaft and head. One that is
// partly hollow is wider. Slim ones have room beside them.
func (b brush) upward(w routine.Weight, length float64, slim bool) (shaft, head raster.Shape) {
	thick, wide, tip := 0.28, 0.8, 0.44
	switch {
	case slim && w == routine.Full:
		thick, wide, tip = 0.24, 0.66, 0.4
	case slim:
		thick, wide, tip = 0.3, 0.72, 0.44
	case w == routine.Part:
		thick, wide, tip = 0.28, 0.9, 0.5
	case w == routine.None:
		thick, wide, tip = 0.36, 0.9, 0.5
	}
	mid := b.n / 2
	long := b.mid(length)
	top, bottom := mid-long/2, mid+long/2
	side, corner := b.mid(thick)/2, b.mid(wide)/2
	neck := top + min(b.px(tip), long)
	head = raster.Polygon(raster.Point{X: mid, Y: top}, raster.Point{X: mid + corner, Y: neck}, raster.Point{X: mid - corner, Y: neck})
	if room := bottom - neck; room > 0 && (w != routine.None || room > 2*b.thin()) { // else it can't be hollow
		shaft = raster.Rectangle(raster.Point{X: mid - side, Y: neck}, raster.Point{X: mid + side, Y: bottom})
	}
	return shaft, head
}

// pointed draws an arrow.
func (b brush) pointed(w routine.Weight, shaft, head raster.Shape) {
	b.solid(shaft, w != routine.None)
	b.solid(head, w == routine.Full)
}

// arrow draws a step that travels. A lesser way is a small tip beside the shaft.
func (b brush) arrow(s *routine.Step) {
	way := eighths[s.Way]
	length := lengths[s.Size]
	if way%2 == 1 {
		length *= 1.1 // a diagonal is longer
	}
	shaft, head := b.upward(s.Weight, length, false)
	mid := raster.Point{X: b.n / 2, Y: b.n / 2}
	angle := float64(way) * math.Pi / 4
	b.pointed(s.Weight, shaft.Rotate(mid, angle), head.Rotate(mid, angle))
	lesser, ok := eighths[s.Slightly]
	if !ok || lesser == way {
		return
	}
	x, y := b.n-b.px(0.28), b.n-b.px(0.22)
	tip := raster.Polygon(raster.Point{X: b.n, Y: y}, raster.Point{X: x, Y: y + b.px(0.22)}, raster.Point{X: x, Y: y - b.px(0.22)})
	if lesser < way {
		tip = tip.Scale(-1, 1).Move(b.n, 0)
	}
	b.fill(tip.Rotate(mid, angle), b.ink)
}

// across draws a step over the line of the foot that stands.
func (b brush) across(s *routine.Step, back bool) {
	high := b.px(0.46)
	ball, heel := sole(0, b.n-high, b.px(0.3), high)
	shaft, head := b.upward(s.Weight, lengths[s.Size]*1.1, true)
	mid := raster.Point{X: b.n / 2, Y: b.n / 2}
	off := b.px(0.1)
	turned := func(s raster.Shape) raster.Shape { return s.Rotate(mid, -math.Pi/4).Move(off, -off) }
	shaft, head = turned(shaft), turned(head)
	if back {
		down := func(s raster.Shape) raster.Shape { return s.Scale(1, -1).Move(0, b.n) }
		shaft, head = down(shaft), down(head)
		ball, heel = sole(0, 0, b.px(0.3), high)
	}
	b.standing(ball)
	b.standing(heel)
	b.halo(shaft)
	b.halo(head)
	b.pointed(s.Weight, shaft, head)
}

// halo cuts out a shape and a little more.
func (b brush) halo(s raster.Shape) {
	b.fill(s.Outline(-b.thin()), raster.Ground)
	b.fill(s, raster.Ground)
}

// close draws a foot that closes to the other.
func (b brush) close(w routine.Weight, half bool) {
	wide, x, high := b.px(0.34), b.px(0.4), b.n
	if half {
		wide, x = b.px(0.28), b.px(0.52)
	}
	ball, heel := sole(0, 0, wide, high)
	b.standing(ball)
	b.standing(heel)
	ball, heel = sole(x, 0, wide, high)
	b.foot(w, ball, heel)
	edge, tip := b.n, x+wide+b.thin()/2
	b.fill(raster.Polygon(raster.Point{X: tip, Y: b.n / 2}, raster.Point{X: edge, Y: b.n/2 - b.px(0.22)}, raster.Point{X: edge, Y: b.n/2 + b.px(0.22)}), b.ink)
}

// bar draws the floor below what goes straight down.
func (b brush) bar(ink raster.Ink) { b.fill(b.box(0.06, 0.86, 0.94, 1), ink) }

// inPlace draws a foot that steps where it is.
func (b brush) inPlace(w routine.Weight) {
	wide := b.mid(0.4)
	ball, heel := sole((b.n-wide)/2, 0, wide, b.px(0.8))
	b.foot(w, ball, heel)
	b.bar(b.ink)
}

// replace draws weight that comes back onto a foot.
func (b brush) replace(w routine.Weight) {
	shaft, head := b.upward(w, 0.78, false)
	down := func(s raster.Shape) raster.Shape {
		return s.Rotate(raster.Point{X: b.n / 2, Y: b.n / 2}, math.Pi).Move(0, -b.n/2+b.mid(0.78)/2)
	}
	b.pointed(w, down(shaft), down(head))
	b.bar(b.ink)
}

// cross draws a foot that goes round the toes or the heel of the other.
func (b brush) cross(w routine.Weight, behind bool) {
	up := func(s raster.Shape) raster.Shape {
		if behind {
			return s.Scale(1, -1).Move(0, b.n)
		}
		return s
	}
	// Up beside the foot, then past its toes to the other side.
	thick := b.px(0.2)
	top, bottom, right, neck := b.px(0.22), b.px(0.78), b.n, b.px(0.42)
	middle := top + thick/2
	high := b.n - b.px(0.54)
	ball, heel := sole(b.px(0.42), b.n-high, b.px(0.3), high)
	if behind { // the foot points up all the same
		ball, heel = ball.Move(0, high-b.n), heel.Move(0, high-b.n)
	}
	b.standing(ball)
	b.standing(heel)
	b.solid(up(raster.Polygon(raster.Point{X: neck, Y: top}, raster.Point{X: right, Y: top}, raster.Point{X: right, Y: bottom}, raster.Point{X: right - thick, Y: bottom},
		raster.Point{X: right - thick, Y: top + thick}, raster.Point{X: neck, Y: top + thick})), w != routine.None)
	b.solid(up(raster.Polygon(raster.Point{X: 0, Y: middle}, raster.Point{X: neck, Y: middle - b.px(0.34)}, raster.Point{X: neck, Y: middle + b.px(0.34)})), w == routine.Full)
}

// flick draws a foot off the floor.
func (b brush) flick(w routine.Weight) {
	wide := b.px(0.43)
	ball, heel := sole(0, 0, wide, b.n)
	across := func(s raster.Shape) raster.Shape {
		return s.Rotate(raster.Point{X: b.n / 2, Y: b.n / 2}, math.Pi/2).Move(0, b.px(0.07))
	}
	b.foot(w, across(ball), across(heel))
	b.fill(b.box(0, 0.86, 0.5, 1), b.second())
}

// swivel draws a turn on the foot that stands.
func (b brush) swivel(s *routine.Step) {
	b.mirror = s.Turn < 0
	wide := b.mid(0.28)
	ball, heel := sole((b.n-wide)/2, b.px(0.36), wide, b.n-b.px(0.36))
	b.foot(s.Weight, ball, heel)
	mid := raster.Point{X: b.n / 2, Y: b.px(0.43)}
	var arc []raster.Point
	for i := range 13 {
		sin, cos := math.Sincos(math.Pi * (float64(i)/12*0.95 - 0.5))
		arc = append(arc, raster.Point{X: mid.X + 0.36*b.n*sin, Y: mid.Y - 0.36*b.n*cos})
	}
	b.fill(raster.Line(b.px(0.15), arc...), b.ink)
	tip := func(x float64) raster.Shape {
		return raster.Polygon(raster.Point{X: x - b.px(0.15), Y: mid.Y}, raster.Point{X: x + b.px(0.15), Y: mid.Y}, raster.Point{X: x, Y: mid.Y + b.px(0.3)})
	}
	b.fill(tip(b.n-b.px(0.15)), b.ink)
	if s.Turn == 0 {
		b.fill(tip(b.px(0.15)), b.ink)
	}
}
