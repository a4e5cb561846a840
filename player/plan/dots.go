package plan

import (
	"math"
	"math/bits"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Ink says whose a cell is, so that a screen can colour it. Shapes say the same
// without colour.
type Ink uint8

// The inks.
const (
	Blank Ink = iota
	LeaderInk
	FollowerInk
	RoomInk
)

// inks are the partners' inks.
var inks = [2]Ink{routine.Leader: LeaderInk, routine.Follower: FollowerInk}

// Cell is the content of one column of one line.
type Cell struct {
	Rune   rune // one column wide
	Ink    Ink
	Strong bool // draw it bold
}

// Legend explains the marks of a drawing in dots.
const Legend = "⇑ leader, next LF RF  ↑ follower, next lf rf  ⣾⡆ weight  ⡎⡆ free  ⠂⠂ way"

// Dots draws a scene in width by height cells and returns its lines, as a new
// [Drawing] would.
func Dots(s Scene, width, height int) [][]Cell { return new(Drawing).Dots(s, width, height) }

// Text returns a drawing as lines without inks, with trailing blanks cut.
func Text(cells [][]Cell) []string {
	lines := make([]string, len(cells))
	for y, row := range cells {
		var b strings.Builder
		for _, c := range row {
			b.WriteRune(c.Rune)
		}
		lines[y] = strings.TrimRight(b.String(), " ")
	}
	return lines
}

// Drawing draws scenes, and caches what stays the same from one to the next:
// the places of a passage and of the hall. The zero Drawing is ready to use. It
// serves one goroutine at a time.
type Drawing struct {
	passage passagePlan
	hall    hall
}

// The least width and height of a drawing, in cells.
const leastCells = 4

// Dots draws a scene in width by height cells and returns its lines. It draws nothing if
// either is less than four, or if there is no such passage. From behind and opposite, a
// drawing shows one passage and does not move while it is danced. From above, it shows the
// whole way, and the floor if the sheet gives its size.
func (d *Drawing) Dots(s Scene, width, height int) [][]Cell {
	c := newCanvas(width, height)
	if min(width, height) < leastCells || s.Path == nil || s.Passage < 0 || s.Passage >= len(s.Path.Score.Passages) {
		return c.cells
	}
	d.passage.look(&s)
	if s.View == Above {
		d.hall.look(s.Path)
		d.hall.draw(c)
	} else {
		c.lens = lensFor(s.View, d.passage.frame, d.passage.bounds, c.width, c.height)
	}
	d.passage.draw(c, &s)
	return c.cells
}

// passagePlan is a passage as a view turns it.
type passagePlan struct {
	path    *floor.Path
	passage int
	frame   frame
	couples []floor.Couple
	targets [][2]target  // by index in couples
	bounds  floor.Bounds // of everything visible, as frame turns it
}

// target is where a foot goes next; the foot is NoFoot if that is not known.
type target struct {
	foot routine.Foot
	at   floor.Point
}

// look loads a scene's passage.
func (pl *passagePlan) look(s *Scene) {
	f := s.View.frame(s.Path, s.Passage, s.Shown)
	if pl.path == s.Path && pl.passage == s.Passage && pl.frame == f {
		return
	}
	*pl = passagePlan{path: s.Path, passage: s.Passage, frame: f, couples: s.Path.Passage(s.Passage)}
	var after [2]target
	if next := s.Passage + 1; next < len(s.Path.Score.Passages) {
		after = targets(s.Path, next, s.Path.Passage(next), after)[0]
	}
	pl.targets = targets(s.Path, s.Passage, pl.couples, after)
	pl.bounds = withFeet(floor.Bounds{}, f, pl.couples)
	for _, t := range pl.targets[len(pl.couples)-1] {
		if t.foot != routine.NoFoot {
			pl.bounds = withFoot(pl.bounds, f, t.at)
		}
	}
}

// targets returns where each partner's foot goes next, for each couple of a
// passage. After the passage, that is given by after.
func targets(path *floor.Path, passage int, couples []floor.Couple, after [2]target) [][2]target {
	p := &path.Score.Passages[passage]
	list := make([][2]target, len(couples))
	list[len(list)-1] = after
	for k := len(list) - 2; k >= 0; k-- {
		list[k] = list[k+1]
		for q := range couples[k] {
			if s := &p.Figure.Rows[p.From+k].Steps[q]; !s.Stands() && !s.Pivots() {
				list[k][q] = target{s.Foot, couples[k+1][q].Foot(s.Foot).At}
			}
		}
	}
	return list
}

// withFeet returns b extended to the feet and bodies of couples, as f turns them.
func withFeet(b floor.Bounds, f frame, couples []floor.Couple) floor.Bounds {
	for i := range couples {
		for q := range couples[i] {
			d := &couples[i][q]
			b = withFoot(withFoot(b, f, d.Foot(routine.LF).At), f, d.Foot(routine.RF).At).Including(f.place(d.Body))
		}
	}
	return b
}

func withFoot(b floor.Bounds, f frame, at floor.Point) floor.Bounds {
	at, reach := f.place(at), floor.Point{X: footReach, Y: footReach}
	return b.Including(at.Plus(reach)).Including(at.Minus(reach))
}

// draw draws a scene's couple, with the more important marks over the less important ones.
func (pl *passagePlan) draw(c *canvas, s *Scene) {
	k := min(max(s.Danced, 0), len(pl.couples)-1)
	now := &pl.couples[k]
	shown := func(do func(p routine.Partner, d *floor.Dancer)) {
		for _, p := range [2]routine.Partner{routine.Follower, routine.Leader} {
			if s.Shown[p] {
				do(p, &now[p])
			}
		}
	}
	shown(func(p routine.Partner, _ *floor.Dancer) { c.trail(pl.couples[:k+1], p) })
	if c.lens.scale <= tooFar {
		shown(func(p routine.Partner, d *floor.Dancer) { c.print(d.Foot(d.Weight.Other()), freeFoot, inks[p]) })
		shown(func(p routine.Partner, d *floor.Dancer) { c.print(d.Foot(d.Weight), weightFoot, inks[p]) })
	}
	c.arrows(now)
	if c.lens.scale <= tooFar {
		shown(func(p routine.Partner, _ *floor.Dancer) { c.target(pl.targets[k][p], p) })
	}
}

const (
	footReach = 13.0 // from the middle of a foot to its end, in centimetres; estimated
	tooFar    = 10.0 // centimetres a dot beyond which feet can't be told apart
)

// hall is the whole way of a couple, and the room around it.
type hall struct {
	path   *floor.Path
	bounds floor.Bounds
	room   *floor.Bounds // nil if not known
}

// look loads a path.
func (h *hall) look(path *floor.Path) {
	if h.path == path {
		return
	}
	*h = hall{path: path}
	for i := range path.Score.Passages {
		h.bounds = withFeet(h.bounds, frame{onPaper}, path.Passage(i))
	}
	if room := path.Score.Floor; room != (routine.Room{}) {
		from := floor.Point{}.Minus(path.Origin(room))
		h.room = &floor.Bounds{Min: from, Max: from.Plus(floor.Point{X: float64(room.Along), Y: float64(room.Across)})}
		h.bounds = h.bounds.Including(h.room.Min).Including(h.room.Max)
	}
}

// draw sets the canvas's lens, and draws the room.
func (h *hall) draw(c *canvas) {
	f, height := frame{onPaper}, c.height
	if h.room == nil && h.path.Score.Dance.Travels {
		height--
		c.lineOfDance(c.width/2, height)
	}
	c.lens = lensFor(Above, f, h.bounds, c.width, height)
	if h.room == nil {
		return
	}
	left, top := c.lens.dot(h.room.Min)
	right, bottom := c.lens.dot(h.room.Max)
	for x := left; x <= right; x++ {
		c.dot(x, top, true, RoomInk)
		c.dot(x, bottom, true, RoomInk)
	}
	for y := top; y <= bottom; y++ {
		c.dot(left, y, true, RoomInk)
		c.dot(right, y, true, RoomInk)
	}
	c.lineOfDance(cellOf((left+right)/2, bottom))
}

// lineOfDance writes where the line of dance goes, centred on a column.
func (c *canvas) lineOfDance(column, line int) {
	const text, width = " LOD → ", 7
	if c.width >= width {
		c.write(column-width/2, line, text, RoomInk)
	}
}

// lens converts places in the hall to dots.
type lens struct {
	frame         frame
	middle        floor.Point // of what is shown, as frame turns it
	scale         float64     // centimetres a dot
	width, height int         // in dots
}

// closest is the finest scale, in centimetres a dot.
const closest = 2.0

// hair is how far, in centimetres, a lens is off its middle, so that a place
// between two dots always falls on the same one, however it is rounded.
var hair = floor.Point{X: 1.3e-6, Y: 1.7e-6}

// lensFor returns a lens that fits bounds, as f turns the hall, into width by
// height cells, with one dot free at each edge.
func lensFor(v View, f frame, b floor.Bounds, width, height int) lens {
	l := lens{frame: f, middle: b.Min.Plus(b.Max).Times(0.5), width: cellWidth * width, height: cellHeight * height}
	if v == Opposite { // mirrored, so that both views show the same dots
		l.middle = l.middle.Minus(hair)
	} else {
		l.middle = l.middle.Plus(hair)
	}
	size := b.Max.Minus(b.Min)
	l.scale = max(closest, size.X/float64(max(1, l.width-2)), size.Y/float64(max(1, l.height-2)))
	return l
}

// dot returns the dot for a place in the hall.
func (l *lens) dot(p floor.Point) (x, y int) {
	right, down := l.exact(p)
	return int(math.Floor(right)), int(math.Floor(down))
}

// exact returns where a place in the hall is, in dots to the right and down.
func (l *lens) exact(p floor.Point) (x, y float64) {
	p = l.frame.place(p).Minus(l.middle)
	return float64(l.width/2) + p.X/l.scale, float64(l.height/2) + p.Y/l.scale
}

// canvas is what is drawn on.
type canvas struct {
	width, height int
	cells         [][]Cell
	lens          lens
}

// A cell is two dots wide and four high.
const (
	cellWidth, cellHeight = 2, 4
	noDots                = '\u2800' // the first of 256 patterns
	allDots               = '\u28ff'
)

// dotBits holds the bit of each dot in a cell's pattern, by line and column
// (the Unicode Standard, braille patterns).
var dotBits = [cellHeight][cellWidth]rune{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

func newCanvas(width, height int) *canvas {
	width, height = max(0, width), max(0, height)
	all := make([]Cell, width*height)
	for i := range all {
		all[i].Rune = ' '
	}
	c := &canvas{width: width, height: height, cells: make([][]Cell, height)}
	for y := range c.cells {
		c.cells[y] = all[y*width : (y+1)*width : (y+1)*width]
	}
	return c
}

// cell returns the cell at a column and line, or nil outside the canvas.
func (c *canvas) cell(column, line int) *Cell {
	if column < 0 || column >= c.width || line < 0 || line >= c.height {
		return nil
	}
	return &c.cells[line][column]
}

// cellOf returns the column and line of the cell that holds a dot.
func cellOf(x, y int) (column, line int) { return x >> 1, y >> 2 }

// dot sets or clears a dot.
func (c *canvas) dot(x, y int, on bool, ink Ink) {
	cell := c.cell(cellOf(x, y))
	if cell == nil {
		return
	}
	pattern := cell.Rune
	if !dotted(pattern) {
		pattern = noDots
	}
	bit := dotBits[y%cellHeight][x%cellWidth]
	switch {
	case on:
		*cell = Cell{Rune: pattern | bit, Ink: ink}
	case pattern&^bit == noDots:
		*cell = Cell{Rune: ' '}
	default:
		cell.Rune = pattern &^ bit
	}
}

func dotted(r rune) bool { return noDots < r && r <= allDots }

// write writes text over whatever is there.
func (c *canvas) write(column, line int, text string, ink Ink) {
	for _, r := range text {
		if cell := c.cell(column, line); cell != nil {
			*cell = Cell{Rune: r, Ink: ink}
		}
		column++
	}
}

// trailGap is about how many dots apart the dots of a trail are. The leader's is denser.
var trailGap = [2]float64{routine.Leader: 3, routine.Follower: 6}

// trail draws the way of a body. It divides each step evenly, so that the same
// way back has the same dots.
func (c *canvas) trail(couples []floor.Couple, p routine.Partner) {
	c.put(couples[0][p].Body, inks[p])
	for k := 1; k < len(couples); k++ {
		from, to := couples[k-1][p].Body, couples[k][p].Body
		parts := math.Ceil((from.Distance(to) - hair.X) / c.lens.scale / trailGap[p])
		for i := 1.0; i <= parts; i++ {
			c.put(from.Plus(to.Minus(from).Times(i/parts)), inks[p])
		}
	}
}

func (c *canvas) put(p floor.Point, ink Ink) {
	x, y := c.lens.dot(p)
	c.dot(x, y, true, ink)
}

// facingArrows are the partners' arrows, by direction on the drawing.
var facingArrows = [2][8]rune{
	routine.Leader:   {'⇒', '⇘', '⇓', '⇙', '⇐', '⇖', '⇑', '⇗'},
	routine.Follower: {'→', '↘', '↓', '↙', '←', '↖', '↑', '↗'},
}

// arrows draws both bodies as arrows that show where they face.
func (c *canvas) arrows(now *floor.Couple) {
	for q := range now {
		d := &now[q]
		column, line, ok := c.clearest(d.Body, 1)
		if ok {
			c.cells[line][column] = Cell{facingArrows[q][c.lens.frame.direction(d.Facing)], inks[q], true}
		}
	}
}

// targetNames are the names of the feet as written at a target.
var targetNames = [2][3]string{routine.Leader: {"", "LF", "RF"}, routine.Follower: {"", "lf", "rf"}}

// target writes the name of a foot where it goes next.
func (c *canvas) target(t target, p routine.Partner) {
	if t.foot == routine.NoFoot {
		return
	}
	if column, line, ok := c.clearest(t.at, 2); ok {
		c.write(column, line, targetNames[p][t.foot], inks[p])
	}
}

// clearest returns where to put a mark of width cells near p so that it hides little: at
// most one line and two columns away, and only as far as that saves dots from being hidden.
// It is not ok if other marks or the edges leave no room.
func (c *canvas) clearest(p floor.Point, width int) (column, line int, ok bool) {
	x, y := c.lens.exact(p)
	least := math.Inf(1)
	near, on := int(math.Floor(x))/cellWidth-width/2, int(math.Floor(y))/cellHeight
	for l := on - 1; l <= on+1; l++ {
	candidates:
		for k := near - 2; k <= near+2; k++ {
			dx, dy := float64(cellWidth*k+width)-x, float64(cellHeight*l+cellHeight/2)-y
			cost := (dx*dx + dy*dy) / 2 / float64(width)
			for i := range width {
				if !c.takes(k+i, l) {
					continue candidates
				}
				if r := c.cells[l][k+i].Rune; dotted(r) {
					cost += float64(bits.OnesCount32(uint32(r - noDots)))
				}
			}
			if cost < least {
				least, column, line, ok = cost, k, l, true
			}
		}
	}
	return column, line, ok
}

// takes reports whether a cell is there and holds neither letter nor arrow.
func (c *canvas) takes(column, line int) bool {
	cell := c.cell(column, line)
	return cell != nil && (cell.Rune == ' ' || dotted(cell.Rune))
}

// The looks of a footprint.
const (
	weightFoot = iota
	freeFoot
)

// footprints are drawn in three sizes, with weight and without, pointing up and
// up to the right. A dash is a dot that is cleared.
var footprints = [3][2][2][]string{
	{
		{{" # ", "###", "###", "###", " # ", "---", "###", "###", " # "}, {
			"    ###",
			"   ####",
			"  #####",
			"   ### ",
			"##- #  ",
			"###-   ",
			" ##    "}},
		{{" # ", "#-#", "#-#", "#-#", " # ", "---", " # ", "#-#", " # "}, {
			"    ###",
			"   #--#",
			"  #---#",
			"   #-# ",
			"##- #  ",
			"#-#-   ",
			" ##    "}},
	},
	{
		{{" # ", "###", "###", " # ", "---", "###", " # "}, {
			"  ## ",
			" ####",
			"  ###",
			"#- # ",
			"##-  "}},
		{{" # ", "#-#", "#-#", " # ", "---", " # ", " # "}, {
			"  ## ",
			" #--#",
			"  #-#",
			"-- # ",
			"#--  "}},
	},
	{
		{{"#", "#", "#", "#", "#"}, {"   #", "  # ", " #  ", "#   "}},
		{{"#", "-", "-", "-", "#"}, {"   #", "  - ", " -  ", "#   "}},
	},
}

// roomForPrints are the scales up to which prints of the first sizes have room,
// in centimetres a dot.
var roomForPrints = [2]float64{3.6, 7}

// print draws a foot.
func (c *canvas) print(p floor.Print, look int, ink Ink) {
	size := 0
	for _, most := range roomForPrints {
		if c.lens.scale > most {
			size++
		}
	}
	toward := c.lens.frame.direction(p.Toward)
	quarters := (int(toward) + 2) / 2 % 4 // from up
	lines := footprints[size][look][toward%2]
	x0, y0 := c.lens.dot(p.At)
	for v, line := range lines {
		for u, mark := range line {
			x, y := u-len(line)/2, v-len(lines)/2
			for range quarters {
				x, y = -y, x
			}
			if mark != ' ' {
				c.dot(x0+x, y0+y, mark == '#', ink)
			}
		}
	}
}
