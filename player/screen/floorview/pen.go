package floorview

import (
	"math"

	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

// pen draws what is in the hall on a canvas.
type pen struct {
	lens
	canvas *raster.Canvas
	glyphs map[rune]raster.Shape
	real   bool    // in real pixels
	few    bool    // there are no more than 16 colours, so tints are not seen
	mono   bool    // there are none
	line   float64 // the least width of a line, in pixels

	detailed bool // there is room for ways behind the feet
	hollow   bool // feet are large enough for outlines
}

func newPen(c *raster.Canvas, glyphs map[rune]raster.Shape) *pen {
	w, h := c.Size()
	mode := c.Palette().Mode()
	p := &pen{canvas: c, glyphs: glyphs, real: mode.Raster == raster.Sixel || mode.Raster == raster.Kitty,
		few: mode.Depth <= raster.Sixteen, mono: mode.Depth == raster.Mono, line: 1}
	if p.real {
		p.line = 1.6
	}
	p.width, p.height = float64(w), float64(h)
	return p
}

// fresh and old are the ages, in beats, up to which a step's way is seen plainly and at all.
const (
	fresh = 1.5
	old   = 4.0
)

// order is the order in which partners are drawn, the leader over the follower.
var order = [2]routine.Partner{routine.Follower, routine.Leader}

// inks are the partners' inks.
var inks = [2]raster.Ink{routine.Leader: raster.Leader, routine.Follower: raster.Follower}

// put turns and moves a shape that is drawn around the origin, pointing right, in
// centimetres.
func (p *pen) put(s raster.Shape, at floor.Point, eighths, larger float64) raster.Shape {
	to := p.at(at)
	sin, cos := math.Sincos(p.angle(eighths))
	k := larger * p.scale
	out := make(raster.Shape, len(s))
	n := 0
	for _, c := range s {
		n += len(c)
	}
	all := make([]raster.Point, 0, n)
	for i, c := range s {
		from := len(all)
		for _, q := range c {
			all = append(all, raster.Point{X: to.X + k*(q.X*cos-q.Y*sin), Y: to.Y + k*(q.X*sin+q.Y*cos)})
		}
		out[i] = all[from:]
	}
	return out
}

// floor draws a dot each half metre.
func (p *pen) floor() {
	const every = 50.0
	if p.mono || p.scale*every < 8 {
		return
	}
	radius := math.Hypot(p.width, p.height) / 2 / p.scale
	size := max(1.2*p.scale, 0.5)
	for x := math.Ceil((p.middle.X - radius) / every); x*every <= p.middle.X+radius; x++ {
		for y := math.Ceil((p.middle.Y - radius) / every); y*every <= p.middle.Y+radius; y++ {
			at := p.at(floor.Point{X: x * every, Y: y * every})
			if p.real {
				p.canvas.Fill(raster.Disc(at, size), raster.RoomDim)
			} else { // one whole pixel, so that it does not flicker
				at = raster.Point{X: math.Floor(at.X), Y: math.Floor(at.Y)}
				p.canvas.Fill(raster.Rectangle(at, at.Plus(raster.Point{X: 1, Y: 1})), raster.RoomDim)
			}
		}
	}
}

func (p *pen) body(b motion.Pose, q routine.Partner) {
	s := p.put(bodies[q], b.At, b.Angle, 1)
	if !p.few {
		p.canvas.Fill(s, inks[q].Tint())
	}
	if p.few && p.scale*shoulders > 20 || p.scale*shoulders > 60 {
		p.canvas.Fill(s.Outline(p.thick(1)), inks[q].Dim())
	}
}

// nose draws which way a body faces that is drawn so much larger than it is.
func (p *pen) nose(b motion.Pose, q routine.Partner, larger float64) {
	long := max(9*larger, 3/p.scale) // at least three pixels
	base := larger*chest/2 + 1
	at := func(forward, aside float64) raster.Point {
		way := motion.Toward(b.Angle)
		return p.at(b.At.Plus(floor.Point{X: way.X*forward - way.Y*aside, Y: way.Y*forward + way.X*aside}))
	}
	p.canvas.Fill(raster.Polygon(at(base, -0.55*long), at(base+long, 0), at(base, 0.55*long)), inks[q])
}

// thick returns the width in pixels of a line so many centimetres wide.
func (p *pen) thick(cm float64) float64 { return max(cm*p.scale, p.line) }

// arms draws the arms whose hands are joined.
func (p *pen) arms(s *motion.Scene) {
	if p.scale*shoulders < 7 || p.mono && p.canvas.Palette().Mode().Raster == raster.Blocks {
		return // they would hide more than they show
	}
	for _, h := range s.Holds {
		if h.Leader == motion.NoHand || h.Firm < 0.3 {
			continue
		}
		hands := [2]motion.Hand{h.Leader, h.Follower}
		for q, hand := range hands {
			if hand == motion.Back {
				continue
			}
			from := motion.Shoulder(s.Couple[q].Body, hand)
			p.canvas.Fill(raster.Line(p.thick(3), p.at(from), p.at(h.At)), inks[q].Dim())
		}
		if h.Follower != motion.Back {
			p.canvas.Fill(raster.Disc(p.at(h.At), max(4*p.scale, 1)), raster.Strong)
		}
	}
}

// trail draws the way of a step that has been danced.
func (p *pen) trail(d motion.Done) {
	ink := inks[d.Partner].Dim()
	if d.Age > fresh {
		if p.few {
			return
		}
		ink = inks[d.Partner].Tint()
	}
	p.canvas.Fill(raster.Line(p.thick(1.2), p.bend(d.Way)...), ink)
}

// bend returns points along a way.
func (p *pen) bend(w motion.Way) []raster.Point {
	return raster.Bend(p.at(w.From), p.at(w.Over), p.at(w.To))
}

// ghost draws where a foot goes, and what is left of its way.
func (p *pen) ghost(d *motion.Dancer, q routine.Partner) {
	n := &d.Next
	ink := inks[q]
	left := n.Way.After(n.Gone)
	length := left.From.Distance(left.To)
	if n.Gait != motion.Replaces && n.Way.From.Distance(n.Way.To) > 6 {
		s := shoes[q][n.Foot-routine.LF]
		if p.hollow {
			for _, part := range [...]raster.Shape{s.ball, s.heel} {
				at := p.put(part, n.At, n.Angle, footScale)
				if !p.few {
					p.canvas.Fill(at, ink.Tint())
				}
				p.canvas.Fill(at.Outline(p.thick(1)), ink.Dim())
			}
		} else if !p.few {
			p.canvas.Fill(p.put(s.whole, n.At, n.Angle, footScale), ink.Dim())
		}
	}
	const head, before = 7.0, 10.0 // of the tip, and how far before the middle of the ghost it ends
	if length < before+head {
		return
	}
	points := p.bend(left)
	stop := before * p.scale
	for len(points) > 2 && far(points[len(points)-2], points[len(points)-1]) < stop {
		stop -= far(points[len(points)-2], points[len(points)-1])
		points = points[:len(points)-1]
	}
	end, back := points[len(points)-1], points[len(points)-2]
	way := end.Minus(back)
	way = way.Times(1 / max(math.Hypot(way.X, way.Y), 1e-9))
	end = end.Minus(way.Times(min(stop, far(end, back))))
	size := max(head*p.scale, 3)
	across := raster.Point{X: -way.Y, Y: way.X}.Times(0.55 * size)
	neck := end.Minus(way.Times(size))
	points[len(points)-1] = neck
	line := ink
	if !p.detailed {
		line = ink.Dim()
	}
	p.canvas.Fill(raster.Line(p.thick(1.6), points...), line)
	p.canvas.Fill(raster.Polygon(end, neck.Plus(across), neck.Minus(across)), ink)
}

func far(p, q raster.Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// foot draws a foot with its letter.
func (p *pen) foot(f *motion.Foot, which routine.Foot, q routine.Partner) {
	s, ink := shoes[q][which-routine.LF], inks[q]
	larger := footScale * (1 + 0.06*f.Lift)
	halo := 1.16
	if !p.hollow {
		halo = 1.3
	}
	p.canvas.Fill(p.put(s.whole, f.At, f.Angle, larger*halo), raster.Ground)
	on := ink
	switch {
	case !p.hollow:
		if f.Weight < 0.5 {
			on = ink.Dim()
		}
		p.canvas.Fill(p.put(s.whole, f.At, f.Angle, larger), on)
		if !p.few {
			tip := f.At.Plus(motion.Toward(f.Angle).Times(toe * larger))
			tipInk := raster.Strong
			if on != ink {
				tipInk = ink
			}
			p.canvas.Fill(raster.Disc(p.at(tip), max(3*larger*p.scale, 0.8)), tipInk)
		}
	case f.Weight > 0.75:
		p.canvas.Fill(p.put(s.ball, f.At, f.Angle, larger), ink)
		p.canvas.Fill(p.put(s.heel, f.At, f.Angle, larger), ink)
	default:
		hollow := func(part raster.Shape) {
			at := p.put(part, f.At, f.Angle, larger)
			if !p.few {
				p.canvas.Fill(at, ink.Tint())
			}
			p.canvas.Fill(at.Outline(p.thick(1.2)), ink)
		}
		hollow(s.heel)
		if f.Weight > 0.25 {
			p.canvas.Fill(p.put(s.ball, f.At, f.Angle, larger), ink)
		} else {
			on = ink.Tint()
			if p.few {
				on = raster.Ground
			}
			hollow(s.ball)
		}
	}
	p.write(f.At.Plus(motion.Toward(f.Angle).Times(p.middleOf()*larger)), p.letter(which, q), on, q)
}

// middleOf returns where on a foot its letter stands, forward of its middle.
func (p *pen) middleOf() float64 {
	if p.hollow {
		return ball
	}
	return 0
}

// letter returns a foot's letter. Where colours may not tell the partners apart, the
// follower's is small.
func (p *pen) letter(f routine.Foot, q routine.Partner) rune {
	r := [...]rune{routine.LF: 'L', routine.RF: 'R'}[f]
	if p.few && q == routine.Follower {
		r += 'a' - 'A'
	}
	return r
}

// write writes a character at a place on a ground of some ink.
func (p *pen) write(at floor.Point, r rune, on raster.Ink, q routine.Partner) {
	if !p.real {
		ink := on
		if on == raster.Ground || on == inks[q].Tint() {
			ink = inks[q]
		}
		p.canvas.Letter(p.at(at), r, ink, on)
		return
	}
	glyph, ok := p.glyphs[r]
	if !ok {
		glyph = raster.Text(string(r), 1)
		from, to := glyph.Bounds()
		m := from.Plus(to).Times(0.5)
		glyph = glyph.Move(-m.X, -m.Y)
		p.glyphs[r] = glyph
	}
	ink, high := inks[q], 5.2 // within an outline
	if on == inks[q] {
		ink, high = raster.Ground, 6.5
	}
	high = max(high*footScale*p.scale, 6)
	to := p.at(at)
	p.canvas.Fill(glyph.Scale(high, high).Move(to.X, to.Y), ink)
}

// number writes the step's number where its foot goes, unless the foot is almost there.
func (p *pen) number(d *motion.Dancer, q routine.Partner) {
	n := &d.Next
	step := n.Row + 1
	if n.Gone > 0.5 || n.Gait == motion.Replaces || n.Way.From.Distance(n.Way.To) <= 6 {
		return
	}
	on := inks[q].Dim()
	switch {
	case p.few:
		on = raster.Ground
	case p.hollow:
		on = inks[q].Tint()
	}
	at := n.At.Plus(motion.Toward(n.Angle).Times(p.middleOf() * footScale))
	if step < 10 {
		p.write(at, rune('0'+step), on, q)
		return
	}
	right := floor.Point{X: 1 / p.scale}
	back := lens{up: -4 - p.up, scale: 1}
	r := back.way(right)
	for i, digit := range [...]int{step / 10 % 10, step % 10} {
		by := float64(i) - 0.5
		if p.real {
			by *= 5 * footScale * p.scale
		} else if p.canvas.Palette().Mode().Raster == raster.Dots {
			by *= 2
		}
		p.write(at.Plus(floor.Point{X: r.X * by, Y: r.Y * by}), rune('0'+digit), on, q)
	}
}
