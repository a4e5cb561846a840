package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// diagram is one partner's rows in a stage.
type diagram struct {
	subject  *subject
	partner  routine.Partner
	from, to int
	spots    []spot
	pivots   []pivot
	waits    []int
	shift    floor.Point  // of the hall's origin, once the diagram is placed on paper
	bounds   floor.Bounds // of the drawing, before it is shifted
}

// spot is a place on which a foot is put, once or several times.
type spot struct {
	at     floor.Point // as the frame turns it, in centimetres
	toward routine.Direction
	foot   routine.Foot
	mark   mark
	rows   []int
}

// pivot is a turn on a foot that stays in place.
type pivot struct {
	spot // where the foot stands
	turn routine.Turn
	row  int
}

// mostOnSpot is how many step numbers fit on a foot.
const mostOnSpot = 3

// diagram returns a diagram of a partner's rows [from, to), or of fewer if a
// foot would cover another.
func (f *subject) diagram(q routine.Partner, from, to int) *diagram {
	d := &diagram{subject: f, partner: q, from: from, to: to}
	for i := from; i < to; i++ {
		if !d.add(i) {
			d.to = i
			break
		}
	}
	return d
}

// add adds row i and reports whether there was room for it.
func (d *diagram) add(i int) bool {
	f := d.subject
	row := f.row(i)
	step := &row.Steps[d.partner]
	dancer := &f.couples[i+1][d.partner]
	switch {
	case step.Stands():
		if row.Written[d.partner] {
			d.waits = append(d.waits, i)
		}
		return true
	case step.Pivots():
		on := dancer.Foot(dancer.Weight)
		at := spot{at: f.frame.place(on.At), toward: f.frame.direction(on.Toward), foot: dancer.Weight}
		d.pivots = append(d.pivots, pivot{at, step.Turn, i})
		return true
	}
	print := dancer.Foot(step.Foot)
	next := spot{f.frame.place(f.stood(d.partner, step.Foot, i+1)), f.frame.direction(print.Toward), step.Foot, markOf(step.Weight), []int{i}}
	for k := range d.spots {
		s := &d.spots[k]
		if s.foot == next.foot && s.toward == next.toward && s.at.Distance(next.at) < same {
			if len(s.rows) == mostOnSpot {
				return false
			}
			s.rows = append(s.rows, i)
			s.mark = min(s.mark, next.mark)
			return true
		}
	}
	for k := range d.spots {
		if next.hides(&d.spots[k], f.scale) && i > d.from {
			return false
		}
	}
	d.spots = append(d.spots, next)
	return true
}

// stood returns where a foot stands after that many rows. It is taken from just
// before the foot next moves, because a foot that closes to it finds it there.
func (f *subject) stood(q routine.Partner, foot routine.Foot, rows int) floor.Point {
	for rows < len(f.couples)-1 {
		if step := &f.row(rows).Steps[q]; step.Foot == foot && !step.Pivots() {
			break
		}
		rows++
	}
	return f.couples[rows][q].Foot(foot).At
}

// Distances, in centimetres.
const (
	same    = 3.0 // two feet nearer than this are drawn as one
	hidden  = 4.0 // parts of two feet nearer than this hide each other
	written = 6.5 // part of a foot nearer than this to a number hides it
)

// hides reports whether a foot put on t after s hides it.
func (t *spot) hides(s *spot, of scale) bool {
	larger := of.feet() / of.of(1)
	part := func(of *spot, forward float64) floor.Point {
		return of.at.Plus(toward(of.toward).Times(forward * larger))
	}
	for _, a := range discs {
		if part(t, a).Distance(part(s, ballMiddle)) < written*larger {
			return true
		}
		for _, b := range discs {
			if part(t, a).Distance(part(s, b)) < hidden*larger {
				return true
			}
		}
	}
	return false
}

// start returns the couple before the diagram's rows, end the one after them.
func (d *diagram) start() *floor.Couple { return &d.subject.couples[d.from] }
func (d *diagram) end() *floor.Couple   { return &d.subject.couples[d.to] }

// onPaper returns where a place in the hall is drawn.
func (d *diagram) onPaper(p floor.Point) floor.Point { return d.framed(d.subject.frame.place(p)) }

// framed returns where a place is drawn that the frame has already turned.
func (d *diagram) framed(p floor.Point) floor.Point { return d.subject.scale.place(p).Plus(d.shift) }

// measure works out the space that the diagram needs.
func (d *diagram) measure() {
	d.bounds, d.shift = floor.Bounds{}, floor.Point{}
	drawn := append(d.feet(), d.bodies()...)
	for i := range d.pivots {
		at := d.framed(d.pivots[i].at)
		drawn = append(drawn, turned(at, d.pivots[i].toward, footLength, footWidth, d.subject.scale.feet()).grown(ringRoom.X-labelRoom))
	}
	for _, r := range drawn {
		d.bounds = d.bounds.Including(r.min).Including(r.max)
	}
}

// feet returns the rectangles around all feet.
func (d *diagram) feet() (list []rectangle) {
	include := func(at floor.Point, to routine.Direction) {
		list = append(list, turned(at, to, footLength, footWidth, d.subject.scale.feet()))
	}
	for _, foot := range [...]routine.Foot{routine.LF, routine.RF} {
		at, to := d.before(foot)
		include(at, to)
	}
	for i := range d.spots {
		include(d.framed(d.spots[i].at), d.spots[i].toward)
	}
	return list
}

// bodies returns the rectangles around all bodies, the partner's last.
func (d *diagram) bodies() (list []rectangle) {
	for _, dancer := range [...]*floor.Dancer{&d.start()[d.partner], &d.end()[d.partner], &d.start()[1-d.partner]} {
		at := d.onPaper(dancer.Body)
		list = append(list, turned(at, d.subject.frame.direction(dancer.Facing), 2*(chest+nose), 2*shoulders, d.subject.scale.feet()))
	}
	return list
}

// before returns where a foot stands on paper before the rows.
func (d *diagram) before(foot routine.Foot) (at floor.Point, toward routine.Direction) {
	at = d.onPaper(d.subject.stood(d.partner, foot, d.from))
	return at, d.subject.frame.direction(d.start()[d.partner].Foot(foot).Toward)
}

// turned returns the rectangle around something that points in direction d,
// given its size forward and across in centimetres.
func turned(at floor.Point, d routine.Direction, forward, across, scale float64) rectangle {
	way := toward(d)
	x, y := math.Abs(way.X)*scale, math.Abs(way.Y)*scale
	return around(at, x*forward+y*across, y*forward+x*across)
}

func (d *diagram) size() floor.Point {
	size := d.bounds.Max.Minus(d.bounds.Min).Plus(floor.Point{X: 2 * labelRoom, Y: 2 * labelRoom})
	size.X = max(size.X, textWidth(d.title())*stageLetters.size, textWidth(d.remark())*countLetters.size)
	return size
}

// title returns the diagram's heading: whose feet, and which steps unless it
// has all of them.
func (d *diagram) title() string {
	p := d.subject.of()
	if d.to-d.from == len(p.Figure.Rows) {
		return d.partner.String()
	}
	return d.partner.String() + ", " + routine.Steps(p.From+d.from, p.From+d.to)
}

// remark says what the diagram can't show.
func (d *diagram) remark() string {
	if len(d.waits) == 0 {
		return ""
	}
	return "waits on " + list(d.waits)
}

func (d *diagram) remarkHeight() float64 {
	if d.remark() == "" {
		return 0
	}
	return 3.5
}

// draw writes the diagram with its upper left corner at a place.
func (d *diagram) draw(p *pen, at floor.Point) {
	d.shift = at.Plus(floor.Point{X: labelRoom, Y: stageHead + labelRoom}).Minus(d.bounds.Min)
	labels := d.labels()
	p.open(d.partner.String(), "")
	p.text(at.Plus(floor.Point{Y: 3}), stageLetters, d.title())
	d.drawBodies(p)
	for _, b := range d.bows() {
		b.draw(p)
	}
	for _, l := range labels {
		l.lead(p, d)
	}
	for _, foot := range [...]routine.Foot{routine.LF, routine.RF} {
		at, to := d.before(foot)
		footprint(p, d.partner, foot, oldMark, at, to, d.subject.scale.feet())
	}
	for i := range d.spots {
		d.spots[i].draw(p, d)
	}
	for _, l := range labels {
		l.draw(p, d)
	}
	if remark := d.remark(); remark != "" {
		p.text(at.Plus(floor.Point{Y: stageHead + d.size().Y + 2.4}), countLetters, remark)
	}
	p.close()
}

// drawBodies writes where both partners' bodies begin, and where this partner's ends.
func (d *diagram) drawBodies(p *pen) {
	draw := func(q routine.Partner, class string, dancer *floor.Dancer) {
		body(p, q, class, d.onPaper(dancer.Body), d.subject.frame.direction(dancer.Facing), d.subject.scale.feet())
	}
	draw(d.partner, "ends", &d.end()[d.partner])
	draw(d.partner, "begins", &d.start()[d.partner])
	other := 1 - d.partner
	draw(other, "other", &d.start()[other])
}

// bows returns the ways from each foot to the next.
func (d *diagram) bows() (list []bow) {
	var before *spot
	for i := d.from; i < d.to; i++ {
		k := slices.IndexFunc(d.spots, func(s spot) bool { return slices.Contains(s.rows, i) })
		if k < 0 {
			continue
		}
		next := &d.spots[k]
		if before != nil && before != next {
			list = append(list, bow{d.framed(before.at), d.framed(next.at)})
		}
		before = next
	}
	return list
}

// bow is the way from one foot to another. It bends to the left, so that the
// way back lies beside it.
type bow struct{ from, to floor.Point }

// handle returns the control point of the bow, a quadratic Bézier curve.
func (b bow) handle() floor.Point {
	way := b.to.Minus(b.from)
	bend := min(0.2, 2*mostBend/math.Hypot(way.X, way.Y))
	return b.from.Plus(way.Times(0.5)).Plus(floor.Point{X: way.Y, Y: -way.X}.Times(bend))
}

// mostBend is how far a bow may be from the straight line, in millimetres.
const mostBend = 3.0

// at returns the place after a part of the way, 0–1.
func (b bow) at(part float64) floor.Point {
	return b.from.Times((1 - part) * (1 - part)).Plus(b.handle().Times(2 * part * (1 - part))).Plus(b.to.Times(part * part))
}

func (b bow) draw(p *pen) {
	p.path("way", "M", b.from, "Q", b.handle(), b.to)
	way := b.to.Minus(b.from)
	if length := math.Hypot(way.X, way.Y); length > 4 {
		p.tip("tip", b.at(0.5).Plus(way.Times(0.8/length)), way, 1.8)
	}
}

// draw writes a foot, with the numbers of its steps on it.
func (s *spot) draw(p *pen, d *diagram) {
	f := d.subject
	middle := d.framed(s.at)
	p.open("step "+markNames[s.mark], s.told(d))
	footprint(p, d.partner, s.foot, s.mark, middle, s.toward, f.scale.feet())
	ball := middle.Plus(toward(s.toward).Times(ballMiddle * f.scale.feet()))
	apart := s.numbersApart()
	for i, row := range s.rows {
		at := ball.Plus(apart.Times(float64(i) - float64(len(s.rows)-1)/2))
		p.stepNumber(at, f.of().From+row, len(s.rows) > 1)
	}
	p.close()
}

// stepNumber writes the number of a row, which counts from 0, centred on a
// place; small if room is short.
func (p *pen) stepNumber(at floor.Point, row int, small bool) {
	letters, below := numberLetters, 0.87
	if small || row >= 9 {
		letters.class, below = "number small", 0.7
	}
	p.text(at.Plus(floor.Point{Y: below}), letters, fmt.Sprint(row+1))
}

// numbersApart returns the way from one number on a foot to the next: along the
// foot, rightwards, or downwards if it is upright.
func (s *spot) numbersApart() floor.Point {
	way := toward(s.toward)
	if way.X < -0.1 || math.Abs(way.X) <= 0.1 && way.Y < 0 {
		way = way.Times(-1)
	}
	return way.Times(1.9)
}

// told describes the steps on a spot in words.
func (s *spot) told(d *diagram) string {
	var words []string
	for _, row := range s.rows {
		words = append(words, d.told(row))
	}
	return strings.Join(words, "; ")
}

// told describes a row in words.
func (d *diagram) told(row int) string {
	r := d.subject.row(row)
	return fmt.Sprintf("%d, count %s: %s", d.subject.of().From+row+1, r.Count, r.Steps[d.partner].String())
}

// counts returns the counts of a spot's rows.
func (s *spot) counts(f *subject) string {
	var counts []string
	for _, row := range s.rows {
		counts = append(counts, f.row(row).Count.String())
	}
	return strings.Join(counts, ", ")
}

// label is written beside a foot: the counts of its steps, or a turn on it.
type label struct {
	box   rectangle
	text  string
	pivot *pivot // nil for counts
}

// ring is the radius of the arrow around the number of a pivot; ringRoom is its
// size with its count.
const ring = 2.0

var ringRoom = floor.Point{X: 7, Y: 5.5}

// labels places the labels where they cover least.
func (d *diagram) labels() (list []label) {
	taken := append(d.feet(), d.bodies()[2])
	for _, b := range d.bows() {
		for part := 0.1; part < 1; part += 0.1 {
			taken = append(taken, around(b.at(part), 1, 1))
		}
	}
	room := rectangle{d.bounds.Min.Plus(d.shift), d.bounds.Max.Plus(d.shift)}.grown(labelRoom)
	add := func(s *spot, size floor.Point, text string, v *pivot) {
		box := clearest(d.besideFoot(s, size), taken, room)
		taken = append(taken, box)
		list = append(list, label{box, text, v})
	}
	for i := range d.spots {
		text := d.spots[i].counts(d.subject)
		add(&d.spots[i], floor.Point{X: textWidth(text) * countLetters.size, Y: 2.2}, text, nil)
	}
	for i := range d.pivots {
		v := &d.pivots[i]
		add(&v.spot, ringRoom, d.subject.row(v.row).Count.String(), v)
	}
	return list
}

// ringAt returns the middle of the ring in a label.
func (l *label) ringAt() floor.Point { return l.box.middle().Minus(floor.Point{X: 1}) }

// lead writes the line from a foot to its ring.
func (l *label) lead(p *pen, d *diagram) {
	if l.pivot != nil {
		p.line("leads", d.framed(l.pivot.at), l.ringAt())
	}
}

// draw writes the counts; or, for a pivot, a ring with an arrow in the
// direction of the turn and the step's number in it.
func (l *label) draw(p *pen, d *diagram) {
	if l.pivot == nil {
		p.text(floor.Point{X: l.box.middle().X, Y: l.box.max.Y - 0.25}, lettering{class: "count middle"}, l.text)
		return
	}
	row, middle := l.pivot.row, l.ringAt()
	p.open("turn", d.told(row))
	p.circle("plate", middle, ring)
	top := toward(routine.Centre).Times(ring)
	from, sweep, way := toward(routine.DC).Times(ring), "1 ", floor.Point{X: ring}
	if l.pivot.turn < 0 {
		from, sweep, way = toward(routine.DCAgainst).Times(ring), "0 ", floor.Point{X: -ring}
	}
	p.path("way", "M", middle.Plus(from), "A", floor.Point{X: ring, Y: ring}, "0 1 "+sweep, middle.Plus(top))
	p.tip("tip", middle.Plus(top).Plus(way.Times(0.5)), way, 1.8)
	p.stepNumber(middle, d.subject.of().From+row, false)
	p.text(middle.Plus(floor.Point{X: 2.8, Y: 0.9}), countLetters, l.text)
	p.close()
}

// besideFoot returns places for a label of a given size, best first: at the
// heel, the outer side, the inner side, and the toes.
func (d *diagram) besideFoot(s *spot, size floor.Point) (boxes []rectangle) {
	feet := d.subject.scale.feet()
	at := d.framed(s.at)
	long, wide := footLength/2*feet, footWidth/2*feet
	out := s.foot.Outward()
	for _, to := range [...]floor.Point{{X: -1}, {X: -0.6, Y: out}, {X: 0.4, Y: out}, {X: -0.6, Y: -out}, {X: 0.4, Y: -out}, {X: 1}, {X: -1, Y: out}, {X: -1, Y: -out}, {X: 1, Y: out}, {X: 1, Y: -out}} {
		edge := along(s.toward, to.X*long, to.Y*wide)
		way := along(s.toward, 0, to.Y)
		if to.Y == 0 {
			way = along(s.toward, to.X, 0)
		}
		edge = edge.Plus(floor.Point{X: way.X * (size.X/2 + 0.4), Y: way.Y * (size.Y/2 + 0.4)})
		boxes = append(boxes, around(at.Plus(edge), size.X, size.Y))
	}
	return boxes
}

// clearest returns the box that overlaps least with what is taken and stays
// within room; the first of equals.
func clearest(boxes, taken []rectangle, room rectangle) rectangle {
	best, least := boxes[0], math.Inf(1)
	for _, b := range boxes {
		cost := 10 * (b.width()*b.height() - b.common(room))
		for _, t := range taken {
			cost += b.common(t)
		}
		if cost < least-0.01 {
			best, least = b, cost
		}
	}
	return best
}
