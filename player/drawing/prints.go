package drawing

import (
	"math"
	"slices"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

// Drawer draws the figures of one path, for one goroutine at a time. What it has worked out for a figure
// it keeps, for other sizes.
type Drawer struct {
	path     *floor.Path
	ways     map[stepKey]motion.Way
	subjects map[int]*subject // by passage
}

// stepKey names a step of a score.
type stepKey struct {
	passage, row int
	partner      routine.Partner
}

// New returns a drawer for a path.
func New(path *floor.Path) *Drawer {
	d := &Drawer{path, map[stepKey]motion.Way{}, map[int]*subject{}}
	m := motion.New(path)
	if m == nil {
		return d
	}
	for i := range m.Steps() {
		_, scene := m.Step(i)
		for q := range scene.Couple {
			next := &scene.Couple[q].Next
			d.ways[stepKey{next.Passage, next.Row, routine.Partner(q)}] = next.Way
		}
	}
	return d
}

// subject is what is drawn: the rows of a passage that are danced.
type subject struct {
	*routine.Passage
	drawer  *Drawer
	index   int
	couples []floor.Couple // before the first row, and after each
	known   map[rows]*picture
}

// rows names the rows [from, to) of some partners.
type rows struct {
	from, to int
	partners [2]bool
}

// subject returns a passage to draw.
func (d *Drawer) subject(passage int) *subject {
	if d.subjects[passage] == nil {
		d.subjects[passage] = &subject{Passage: &d.path.Score.Passages[passage], drawer: d, index: passage, couples: d.path.Passage(passage)}
	}
	return d.subjects[passage]
}

// row returns a row that is drawn; the first is 0.
func (s *subject) row(i int) *routine.Row { return &s.Figure.Rows[s.From+i] }
func (s *subject) rows() int              { return s.To - s.From }

// stood returns where a foot stands after that many rows: where it is found when it next moves, as
// a foot that closes may take the other along.
func (s *subject) stood(q routine.Partner, foot routine.Foot, rows int) floor.Point {
	for rows < s.rows() {
		if step := &s.row(rows).Steps[q]; step.Foot == foot && !step.Pivots() {
			break
		}
		rows++
	}
	return s.couples[rows][q].Foot(foot).At
}

// print is a footprint: where a foot stands as the picture begins, or is put by some steps.
type print struct {
	partner routine.Partner
	foot    routine.Foot
	home    floor.Point // where it truly is, in centimetres in the hall
	at      floor.Point // where it is drawn
	toward  routine.Direction
	weight  routine.Weight
	rows    []int // of the steps that put it there; none for where it stands as the picture begins
}

// nudged is how far a print is drawn from where it is.
func (p *print) nudged() floor.Point { return p.at.Minus(p.home) }

// way is how a foot goes from one print to another.
type way struct {
	row      int
	from, to int // prints
	over     floor.Point
}

// picture is some rows of a figure, and some partners, drawn as one.
type picture struct {
	*subject
	from, to int // rows
	partners []routine.Partner
	prints   []print
	ways     []way
	left     float64 // the deepest overlap left between two feet, as a part of a disc
	tangle   int     // how hard it is to follow: see untangled
}

// newPicture returns the picture of rows [from, to), its feet where they are.
func (s *subject) newPicture(from, to int, partners []routine.Partner) *picture {
	p := &picture{subject: s, from: from, to: to, partners: partners}
	for _, q := range partners {
		now := [3]int{} // the print on which each foot stands, by foot
		for _, foot := range []routine.Foot{routine.LF, routine.RF} {
			now[foot] = p.add(print{partner: q, foot: foot, home: s.stood(q, foot, from),
				toward: s.couples[from][q].Foot(foot).Toward})
		}
		for i := from; i < to; i++ {
			step := &s.row(i).Steps[q]
			if step.Stands() {
				continue
			}
			after := &s.couples[i+1][q]
			if step.Pivots() {
				if on := after.Weight; on != routine.NoFoot {
					f := &p.prints[now[on]]
					f.rows = append(slices.Clip(f.rows), i)
				}
				continue
			}
			next := print{partner: q, foot: step.Foot, home: s.stood(q, step.Foot, i+1),
				toward: after.Foot(step.Foot).Toward, weight: step.Weight, rows: []int{i}}
			to := p.put(next)
			if to != now[step.Foot] {
				over := s.drawer.ways[stepKey{s.index, s.From + i, q}].Over
				p.ways = append(p.ways, way{i, now[step.Foot], to, over})
			}
			now[step.Foot] = to
		}
	}
	return p
}

// nudged returns the picture of rows, its feet nudged apart, which is worked out once for all sizes.
func (s *subject) nudged(from, to int, partners []routine.Partner) *picture {
	key := rows{from: from, to: to}
	for _, q := range partners {
		key.partners[q] = true
	}
	if s.known == nil {
		s.known = map[rows]*picture{}
	}
	if s.known[key] == nil {
		s.known[key] = s.newPicture(from, to, partners)
		s.known[key].nudge()
	}
	return s.known[key]
}

func (p *picture) add(f print) int {
	f.at = f.home
	p.prints = append(p.prints, f)
	return len(p.prints) - 1
}

const (
	same       = 3.5 // centimetres: two prints of a foot that are nearer are drawn as one
	mostOnFoot = 3   // steps whose numbers fit on a foot
)

// put adds a print, or the step to one that is there already, and returns its index.
func (p *picture) put(f print) int {
	for i := range p.prints {
		g := &p.prints[i]
		if g.partner == f.partner && g.foot == f.foot && g.toward == f.toward && g.home.Distance(f.home) < same &&
			len(g.rows) < mostOnFoot {
			if len(g.rows) == 0 {
				g.weight = f.weight
			} else {
				g.weight = min(g.weight, f.weight) // the most that it bears
			}
			g.rows = append(slices.Clip(g.rows), f.rows...)
			return i
		}
	}
	return p.add(f)
}

// discs are how far forward of its middle lie three circles that nearly fill a foot, and radius is
// theirs, in centimetres.
var discs = [3]float64{-8.5, 0, 8.5}

const radius = 4.7

// disc returns where disc k of a print is drawn.
func (p *picture) disc(f *print, k int) floor.Point {
	return f.at.Plus(toward(f.toward).Times(discs[k]))
}

const (
	rounds  = 400
	settled = 110  // rounds after which nothing draws prints back to where they are
	spring  = 0.04 // of the way back, a round
	ghost   = 0.6  // how much of the room a print takes on which nobody steps
)

// nudge moves prints apart that would hide each other, and little else.
func (p *picture) nudge() {
	for round := range rounds {
		p.left = 0
		for i := range p.prints {
			for j := range p.prints[:i] {
				p.push(i, j)
			}
		}
		if p.left < 0.02 && round > settled {
			return
		}
		for i := range p.prints {
			if f := &p.prints[i]; round < settled {
				f.at = f.at.Minus(f.nudged().Times(spring))
			}
		}
	}
}

// push moves two prints apart by half of what they overlap.
func (p *picture) push(i, j int) {
	f, g := &p.prints[i], &p.prints[j]
	room, weighs := 2*radius, 1.0
	aside := along(f.toward, 0, 0.3*f.foot.Outward()) // feet one behind the other go apart only sideways
	if len(f.rows) == 0 || len(g.rows) == 0 {
		room, weighs = ghost*room, 0.5
	}
	if f.at.Distance(g.at) > 2*(radius-discs[0]) {
		return
	}
	for a := range discs {
		for b := range discs {
			between := p.disc(f, a).Minus(p.disc(g, b)).Plus(aside)
			off := math.Sqrt(between.X*between.X + between.Y*between.Y)
			if off >= room || off == 0 {
				continue
			}
			p.left = max(p.left, weighs*(room-off)/room)
			by := between.Times((room - off) / off / 4)
			f.at, g.at = f.at.Plus(by), g.at.Minus(by)
		}
	}
}

// Bounds on what can be read as one picture.
const (
	mostNudged = 17.0 // centimetres
	mostLeft   = 0.2
	mostTangle = 4
	oneTangle  = 9 // of a short figure, which isn't split
)

// untangled reports whether a picture can be read as one, with at most so much to a partner that is hard to follow. Ways that cross, and ways over another
// foot, count one each; a foot that is put where it was before, after it had gone elsewhere, counts two.
func (p *picture) untangled(most int) bool {
	for i := range p.prints {
		if d := p.prints[i].nudged(); math.Hypot(d.X, d.Y) > mostNudged {
			return false
		}
	}
	if p.left >= mostLeft {
		return false
	}
	p.tangle = 0
	lines := make([][]floor.Point, len(p.ways))
	for i := range p.ways {
		lines[i] = p.curve(&p.ways[i], 8)
	}
	for i := range lines {
		w := &p.ways[i]
		for j := range lines[:i] {
			if cross(lines[i], lines[j]) {
				p.tangle++
			}
		}
		for k := range p.prints {
			if k != w.from && k != w.to && p.over(lines[i], &p.prints[k]) {
				p.tangle++
			}
		}
	}
	for i := range p.prints {
		for k, row := range p.prints[i].rows {
			if k > 0 && row > p.prints[i].rows[k-1]+2 {
				p.tangle += 2
			}
		}
	}
	return p.tangle <= most*len(p.partners)
}

// crowded returns the share of prints that stand clearly elsewhere than where the feet are.
func (p *picture) crowded() float64 {
	n := 0
	for i := range p.prints {
		if off := p.prints[i].nudged(); math.Hypot(off.X, off.Y) > 5 {
			n++
		}
	}
	return float64(n) / float64(len(p.prints))
}

// curve returns places along a way as it is drawn.
func (p *picture) curve(w *way, parts int) []floor.Point {
	from, to := &p.prints[w.from], &p.prints[w.to]
	curve := motion.Way{From: from.at, To: to.at, Over: w.over.Plus(from.nudged().Plus(to.nudged()).Times(0.5))}
	if from.home.Distance(w.over) > 150 { // not known
		curve.Over = from.at.Plus(to.at).Times(0.5)
	}
	list := make([]floor.Point, parts+1)
	for i := range list {
		list[i] = curve.At(float64(i) / float64(parts))
	}
	return list
}

// inside reports how far a place lies within a foot: negative outside it.
func (p *picture) inside(at floor.Point, f *print) float64 {
	most := math.Inf(-1)
	for k := range discs {
		most = max(most, radius-at.Distance(p.disc(f, k)))
	}
	return most
}

func (p *picture) over(places []floor.Point, f *print) bool {
	return slices.ContainsFunc(places, func(at floor.Point) bool { return p.inside(at, f) > 1 })
}

// cross reports whether two lines cross.
func cross(a, b []floor.Point) bool {
	for i := range a[1:] {
		for j := range b[1:] {
			if side(a[i], a[i+1], b[j])*side(a[i], a[i+1], b[j+1]) < 0 && side(b[j], b[j+1], a[i])*side(b[j], b[j+1], a[i+1]) < 0 {
				return true
			}
		}
	}
	return false
}

// side says on which side of a line a place lies, by its sign.
func side(a, b, at floor.Point) float64 {
	return (b.X-a.X)*(at.Y-a.Y) - (b.Y-a.Y)*(at.X-a.X)
}

// toward returns the way of length 1 in a direction on paper.
func toward(d routine.Direction) floor.Point { return along(d, 1, 0) }

// along returns a way given as forward and to the right of someone who faces d.
func along(d routine.Direction, forward, right float64) floor.Point {
	return floor.Point{X: forward, Y: right}.Turned(routine.Turn(d))
}
