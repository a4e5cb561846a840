package picture

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/vector"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/typeface"
	"dance.example/slowquick/routine/floor"
)

// paint paints drawings.
type paint struct {
	on    draw.Image
	scale float64 // pixels for a millimetre
	fill  vector.Rasterizer
}

// painted paints a drawing on white paper.
func painted(on draw.Image, d *drawing.Drawing, scale float64) {
	draw.Draw(on, on.Bounds(), image.White, image.Point{}, draw.Src)
	p := &paint{on: on, scale: scale}
	for i := range d.Shapes {
		p.shape(&d.Shapes[i])
	}
}

func (p *paint) shape(s *drawing.Shape) {
	if s.Text.Words != "" {
		p.outlines(s.Fill, written(&s.Text))
		return
	}
	lines := flat(&s.Path)
	if s.Fill != 0 {
		p.outlines(s.Fill, lines)
	}
	if s.Ink != 0 {
		var all [][]floor.Point
		for _, line := range lines {
			for _, dash := range dashes(line, s.Dash) {
				all = append(all, stroke(dash, s.Width/2)...)
			}
		}
		p.outlines(s.Ink, all)
	}
}

// outlines fills what outlines enclose.
func (p *paint) outlines(c drawing.Color, outlines [][]floor.Point) {
	b := floor.Bounds{Min: floor.Point{X: math.Inf(1), Y: math.Inf(1)}, Max: floor.Point{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, line := range outlines {
		for _, at := range line {
			b.Min = floor.Point{X: min(b.Min.X, at.X), Y: min(b.Min.Y, at.Y)}
			b.Max = floor.Point{X: max(b.Max.X, at.X), Y: max(b.Max.Y, at.Y)}
		}
	}
	r := image.Rect(int(math.Floor(b.Min.X*p.scale)), int(math.Floor(b.Min.Y*p.scale)), int(math.Ceil(b.Max.X*p.scale)), int(math.Ceil(b.Max.Y*p.scale)))
	if r = r.Intersect(p.on.Bounds()); r.Empty() {
		return
	}
	p.fill.Reset(r.Dx(), r.Dy())
	on := func(at floor.Point) (x, y float32) {
		return float32(at.X*p.scale - float64(r.Min.X)), float32(at.Y*p.scale - float64(r.Min.Y))
	}
	for _, line := range outlines {
		p.fill.MoveTo(on(line[0]))
		for _, at := range line[1:] {
			p.fill.LineTo(on(at))
		}
		p.fill.ClosePath()
	}
	p.fill.Draw(p.on, r, image.NewUniform(rgb(c)), image.Point{})
}

func rgb(c drawing.Color) color.RGBA {
	return color.RGBA{R: uint8(c >> 16), G: uint8(c >> 8), B: uint8(c), A: 0xff}
}

// flat returns the lines of a path, its curves as lines so short that they look round.
func flat(path *drawing.Path) (lines [][]floor.Point) {
	const parts = 12 // of a curve
	var line []floor.Point
	places := path.Places
	curve := func(controls ...floor.Point) {
		controls = append([]floor.Point{line[len(line)-1]}, controls...)
		for k := 1; k <= parts; k++ {
			line = append(line, bezier(controls, float64(k)/parts))
		}
	}
	for _, letter := range path.Letters {
		switch letter {
		case 'M':
			if len(line) > 1 {
				lines = append(lines, line)
			}
			line, places = []floor.Point{places[0]}, places[1:]
		case 'L':
			line, places = append(line, places[0]), places[1:]
		case 'Q':
			curve(places[0], places[1])
			places = places[2:]
		case 'C':
			curve(places[0], places[1], places[2])
			places = places[3:]
		case 'Z':
			line = append(line, line[0])
		}
	}
	if len(line) > 1 {
		lines = append(lines, line)
	}
	return lines
}

// bezier returns a place on a curve.
func bezier(controls []floor.Point, u float64) floor.Point {
	for ; len(controls) > 1; controls = controls[:len(controls)-1] {
		next := make([]floor.Point, len(controls))
		for i := range controls[1:] {
			next[i] = controls[i].Times(1 - u).Plus(controls[i+1].Times(u))
		}
		controls = next
	}
	return controls[0]
}

// dashes parts a line into dashes with gaps as long between them; length 0 leaves it whole.
func dashes(line []floor.Point, length float64) (list [][]floor.Point) {
	if length <= 0 {
		return [][]floor.Point{line}
	}
	now, drawn, left := []floor.Point{line[0]}, true, length
	for i := 1; i < len(line); i++ {
		at, to := line[i-1], line[i]
		for d := at.Distance(to); d >= left; d = at.Distance(to) {
			at = at.Plus(to.Minus(at).Times(left / d))
			if drawn {
				list = append(list, append(now, at))
			}
			now, drawn, left = []floor.Point{at}, !drawn, length
		}
		left -= at.Distance(to)
		now = append(now, to)
	}
	if drawn && len(now) > 1 {
		list = append(list, now)
	}
	return list
}

// stroke returns the outlines of a line as broad as twice a radius, with round ends: one for each of its
// parts. All go round the same way, so that where they overlap none takes away from another.
func stroke(line []floor.Point, radius float64) (outlines [][]floor.Point) {
	const corners = 6 // of half a circle
	for i := 1; i < len(line); i++ {
		from, to := line[i-1], line[i]
		way := math.Atan2(to.Y-from.Y, to.X-from.X)
		var outline []floor.Point
		for end, at := range []floor.Point{to, from} {
			for k := range corners + 1 {
				sin, cos := math.Sincos(way + math.Pi*(float64(end)+float64(k)/corners-0.5))
				outline = append(outline, at.Plus(floor.Point{X: radius * cos, Y: radius * sin}))
			}
		}
		outlines = append(outlines, outline)
	}
	return outlines
}

// written returns the outlines of a text's letters.
func written(t *drawing.Text) (outlines [][]floor.Point) {
	style := typeface.Regular
	if t.Bold {
		style = typeface.Bold
	}
	face := typeface.Of(style)
	at, stretch := t.Placed(face.Width(t.Words) * t.Size)
	for _, letter := range typeface.Letters(t.Words) {
		path := glyph(face.Outline(letter))
		for i, q := range path.Places {
			path.Places[i] = at.Plus(floor.Point{X: q.X * t.Size * stretch, Y: q.Y * t.Size})
		}
		outlines = append(outlines, flat(&path)...)
		at.X += face.Advance(letter) * t.Size * stretch
	}
	return outlines
}

// glyph returns a letter's edge as a path.
func glyph(segments sfnt.Segments) (path drawing.Path) {
	for _, s := range segments {
		letter, n := byte('M'), 1
		switch s.Op {
		case sfnt.SegmentOpLineTo:
			letter = 'L'
		case sfnt.SegmentOpQuadTo:
			letter, n = 'Q', 2
		case sfnt.SegmentOpCubeTo:
			letter, n = 'C', 3
		}
		path.Letters += string(letter)
		for _, q := range s.Args[:n] {
			path.Places = append(path.Places, floor.Point{X: float64(q.X) * typeface.Unit, Y: float64(q.Y) * typeface.Unit})
		}
	}
	return path
}
