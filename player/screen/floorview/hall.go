package floorview

import (
	"math"
	"strconv"

	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

// hall is the whole way of a couple, and the room around it.
type hall struct {
	path    *floor.Path
	bounds  floor.Bounds
	room    *floor.Bounds // nil if not known
	ways    [][]floor.Point
	begins  []floor.Point // where each item begins
	corners []floor.Point // where a corner is taken
}

// Measures of the hall in centimetres.
const (
	around = 60.0   // free around a way in a room that is not known
	widest = 2000.0 // what is shown of such a room
	couple = 70.0   // about the size of a couple
)

// look loads a path; nothing happens if it is what was loaded last.
func (h *hall) look(path *floor.Path) {
	if h.path == path {
		return
	}
	*h = hall{path: path}
	score := path.Score
	for i := range score.Passages {
		p := &score.Passages[i]
		couples := path.Passage(i)
		way := make([]floor.Point, len(couples))
		for k := range couples {
			way[k] = couples[k].Middle()
			for _, d := range couples[k] {
				h.bounds = h.bounds.Including(d.Body.Plus(floor.Point{X: around, Y: around})).Including(d.Body.Minus(floor.Point{X: around, Y: around}))
			}
		}
		h.ways = append(h.ways, way)
		for p.Item >= len(h.begins) {
			h.begins = append(h.begins, way[0])
		}
		if i > 0 && p.Corners > score.Passages[i-1].Corners {
			h.corners = append(h.corners, way[0])
		}
	}
	if room := score.Floor; room != (routine.Room{}) {
		from := floor.Point{}.Minus(path.Origin(room))
		h.room = &floor.Bounds{Min: from, Max: from.Plus(floor.Point{X: float64(room.Along), Y: float64(room.Across)})}
		h.bounds = *h.room
		for _, way := range h.ways {
			for _, at := range way {
				h.bounds = h.bounds.Including(at)
			}
		}
	}
}

// lens returns the lens that shows the hall or, if that is too long, as much of it as there
// is around the couple. Line is the height of a line of text, which stays free below.
func (h *hall) lens(p *pen, at floor.Point, line float64) lens {
	low, high := h.bounds.Min, h.bounds.Max
	if h.room == nil {
		low.X, high.X = window(low.X, high.X, at.X)
		low.Y, high.Y = window(low.Y, high.Y, at.Y)
	}
	const margin = 2.0 // pixels
	size := high.Minus(low)
	l := lens{up: float64(routine.Centre), width: p.width, height: p.height - line}
	l.scale = min((l.width-2*margin)/size.X, (l.height-2*margin)/size.Y, 1)
	l.middle = low.Plus(high).Times(0.5)
	return l
}

// window cuts a length down to what is shown at once, around a place.
func window(from, to, at float64) (float64, float64) {
	if to-from <= widest {
		return from, to
	}
	from = min(max(at-widest/2, from), to-widest)
	return from, from + widest
}

// draw draws the hall, and the couple in it.
func (h *hall) draw(p *pen, s *motion.Scene) {
	score := h.path.Score
	middle := s.Couple[0].Body.At.Plus(s.Couple[1].Body.At).Times(0.5)
	cell := p.cell()
	line := 0.0
	if score.Dance.Travels {
		line = cell.Y
	}
	p.lens = h.lens(p, middle, line)
	if h.room != nil {
		p.walls(h.room, score.Dance.Travels)
	}
	for i, way := range h.ways {
		if i != s.Passage {
			p.route(way, raster.RoomDim)
		}
	}
	p.route(h.ways[s.Passage], raster.Strong)
	for _, at := range h.corners {
		to, r := p.at(at), max(8*p.scale, 1.6)
		p.canvas.Fill(raster.Polygon(raster.Point{X: to.X, Y: to.Y - r}, raster.Point{X: to.X + r, Y: to.Y}, raster.Point{X: to.X, Y: to.Y + r}, raster.Point{X: to.X - r, Y: to.Y}), raster.Accent)
	}
	p.pair(s, middle)
	p.numbers(h.begins, score.Passages[s.Passage].Item, middle)
	if score.Dance.Travels {
		const text = "line of dance →"
		p.text(raster.Point{X: p.width / 2, Y: p.height + line - cell.Y/2}, text, raster.Room, raster.Ground)
	}
}

// cell returns the size of a cell in pixels.
func (p *pen) cell() raster.Point {
	switch m := p.canvas.Palette().Mode(); m.Raster {
	case raster.Sixel, raster.Kitty:
		return raster.Point{X: float64(m.Cell.X), Y: float64(m.Cell.Y)}
	case raster.Dots:
		return raster.Point{X: 2, Y: 4}
	}
	return raster.Point{X: 1, Y: 2}
}

// text writes text around a place.
func (p *pen) text(at raster.Point, text string, ink, on raster.Ink) {
	cell, letters := p.cell(), []rune(text)
	if float64(len(letters))*cell.X > p.width {
		return
	}
	x := at.X - float64(len(letters)-1)/2*cell.X
	for i, r := range letters {
		if r != ' ' {
			p.canvas.Letter(raster.Point{X: x + float64(i)*cell.X, Y: at.Y}, r, ink, on)
		}
	}
}

// walls draws the edge of the floor and, along each side, which way the line of dance goes.
func (p *pen) walls(room *floor.Bounds, travels bool) {
	corners := [4]raster.Point{}
	for i, at := range [4]floor.Point{{X: room.Min.X, Y: room.Max.Y}, room.Max, {X: room.Max.X, Y: room.Min.Y}, room.Min} {
		to := p.at(at) // in the middle of a pixel, so that the walls are sharp
		corners[i] = raster.Point{X: math.Floor(to.X) + 0.5, Y: math.Floor(to.Y) + 0.5}
	}
	half := raster.Point{X: 0.5, Y: 0.5}
	for i, from := range corners {
		to := corners[(i+1)%4]
		p.canvas.Fill(raster.Rectangle(raster.Point{X: min(from.X, to.X), Y: min(from.Y, to.Y)}.Minus(half), raster.Point{X: max(from.X, to.X), Y: max(from.Y, to.Y)}.Plus(half)), raster.Room)
	}
	if !travels {
		return
	}
	for i, from := range corners {
		to := corners[(i+1)%4]
		length := far(from, to)
		if length < 12 {
			continue
		}
		way := to.Minus(from).Times(1 / length)
		in := raster.Point{X: way.Y, Y: -way.X}.Times(max(20*p.scale, 3))
		middle := from.Plus(to).Times(0.5).Plus(in)
		middle = raster.Point{X: math.Floor(middle.X) + 0.5, Y: math.Floor(middle.Y) + 0.5}
		half := way.Times(min(60*p.scale, length/4))
		p.arrow(raster.RoomDim, middle.Minus(half), middle.Plus(half))
	}
}

// arrow draws an arrow.
func (p *pen) arrow(ink raster.Ink, from, to raster.Point) {
	way := to.Minus(from)
	way = way.Times(1 / max(math.Hypot(way.X, way.Y), 1e-9))
	size := max(12*p.scale, 3*p.line)
	neck, across := to.Minus(way.Times(size)), raster.Point{X: -way.Y, Y: way.X}.Times(0.5*size)
	p.canvas.Fill(raster.Line(p.thick(2), from, neck), ink)
	p.canvas.Fill(raster.Polygon(to, neck.Plus(across), neck.Minus(across)), ink)
}

// route draws the way of a couple's middle.
func (p *pen) route(way []floor.Point, ink raster.Ink) {
	points := make([]raster.Point, 0, len(way))
	for _, at := range way {
		if to := p.at(at); len(points) == 0 || far(to, points[len(points)-1]) > 0.7 {
			points = append(points, to)
		}
	}
	if len(points) == 1 {
		p.canvas.Fill(raster.Disc(points[0], max(1.5*p.scale, 0.7)), ink)
		return
	}
	p.canvas.Fill(raster.Line(p.thick(3), points...), ink)
}

// pair draws both bodies, larger than they are where they would hardly be seen.
func (p *pen) pair(s *motion.Scene, middle floor.Point) {
	least := min(9, p.width/5) // pixels
	if p.real {
		least = 26
	}
	larger := max(1, least/(couple*p.scale))
	place := func(q routine.Partner) floor.Point {
		return middle.Plus(s.Couple[q].Body.At.Minus(middle).Times(larger))
	}
	for _, q := range order {
		b := s.Couple[q].Body
		p.canvas.Fill(p.put(bodies[q], place(q), b.Angle, 1.3*larger), raster.Ground)
		p.canvas.Fill(p.put(bodies[q], place(q), b.Angle, larger), inks[q])
	}
	for _, q := range order {
		p.nose(motion.Pose{At: place(q), Angle: s.Couple[q].Body.Angle}, q, larger)
	}
}

// numbers writes the items' numbers where they begin; what finds no room is left out.
func (p *pen) numbers(begins []floor.Point, now int, couple floor.Point) {
	cell := p.cell()
	taken := map[[2]int]bool{}
	cellOf := func(at raster.Point) (x, y int) {
		return int(math.Floor(at.X / cell.X)), int(math.Floor(at.Y / cell.Y))
	}
	write := func(i int, ink, on raster.Ink) {
		text := strconv.Itoa(i + 1)
		at := p.at(begins[i])
		for _, by := range [...]raster.Point{{Y: -1}, {Y: 1}, {X: 2}, {X: -2}, {X: 2, Y: -1}, {X: -2, Y: -1}, {X: 2, Y: 1}, {X: -2, Y: 1}} {
			to := at.Plus(raster.Point{X: by.X * cell.X, Y: by.Y * cell.Y})
			x, y := cellOf(to)
			free := y >= 0 && to.Y < p.lens.height && x-len(text) >= 0 && to.X+cell.X*float64(len(text)) < p.width
			for dx := -len(text); dx <= len(text); dx++ {
				free = free && !taken[[2]int{x + dx, y}]
			}
			if free && far(to, p.at(couple)) > 5 {
				p.text(to, text, ink, on)
				for dx := range len(text) {
					taken[[2]int{x + dx - len(text)/2, y}] = true
				}
				return
			}
		}
	}
	if p.real {
		write(now, raster.Strong, raster.Ground)
	} else {
		write(now, raster.Strong, raster.Strong)
	}
	for i := range begins {
		if i != now {
			write(i, raster.Room, raster.Ground)
		}
	}
}
