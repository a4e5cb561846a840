package drawing

import (
	"math"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// label is what stands beside a foot: the counts of its steps, and how much is turned on them.
type label struct {
	print  *print
	words  string
	turn   routine.Turn
	turned string
	at     box
}

// label writes the labels of a picture, where they hide least.
func (v *view) label() {
	var shapes []floor.Point // what is better not hidden: places on ways
	for i := range v.ways {
		for _, at := range v.curve(&v.ways[i], 24) {
			shapes = append(shapes, v.onPaper(at))
		}
	}
	var list []*label
	for i := range v.prints {
		f := &v.prints[i]
		if len(f.rows) == 0 {
			continue
		}
		l := &label{print: f}
		var counts []string
		for _, row := range f.rows {
			if !v.l.strip {
				counts = append(counts, v.row(row).Count.String())
			}
			l.turn += v.row(row).Steps[f.partner].Turns()
		}
		l.words = strings.Join(counts, "·")
		if l.turn != 0 {
			l.turned = l.turn.String()
		}
		if l.words == "" && l.turned == "" {
			continue
		}
		list = append(list, l)
	}
	for _, l := range list {
		v.settle(l, list, shapes)
		v.mark(l.print.partner, l.print.rows...)
		v.tag(l)
	}
}

const labelHigh = 3.9

func (l *label) width() float64 {
	w := 1.6 + 0.58*small*float64(len([]rune(l.words)))
	if l.turned != "" {
		w += 4.6 + 0.52*small*float64(len(l.turned))
	}
	return w
}

// settle finds the best place for a label around its foot.
func (v *view) settle(l *label, others []*label, shapes []floor.Point) {
	middle := v.onPaper(l.print.at.Plus(toward(l.print.toward).Times(2)))
	size := floor.Point{X: l.width(), Y: labelHigh}
	best := math.Inf(1)
	for ring := range 5 {
		r := 4.2 + 2.2*float64(ring)
		for k := range 24 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 12)
			at := middle.Plus(floor.Point{X: cos * (r + size.X/2 - 1), Y: sin * r})
			b := box{Min: at.Minus(size.Times(0.5)), Max: at.Plus(size.Times(0.5))}
			if cost := v.cost(l, b, others, shapes) + 1.2*float64(ring); cost < best {
				best, l.at = cost, b
			}
		}
	}
}

// cost is how much a label in a place would hide or mislead.
func (v *view) cost(l *label, b box, others []*label, shapes []floor.Point) (sum float64) {
	for i := range v.prints {
		f := &v.prints[i]
		for k := range discs {
			at := v.onPaper(v.disc(f, k))
			off := outside(b, at) - radius*v.l.scale
			if off < 0 {
				sum += 6 * min(-off, 2)
			}
			if f != l.print && len(f.rows) > 0 && off < outside(b, v.onPaper(v.disc(l.print, 1)))-radius*v.l.scale {
				sum += 1.5 // nearer to another foot
			}
		}
	}
	for _, o := range others {
		if o != l && o.at != (box{}) {
			sum += 8 * overlap(b, o.at)
		}
	}
	for _, part := range v.l.key {
		sum += 8 * overlap(b, part)
	}
	for _, at := range shapes {
		if at.X >= b.Min.X && at.X <= b.Max.X && at.Y >= b.Min.Y && at.Y <= b.Max.Y {
			sum += 1.5
		}
	}
	room := box{Min: v.room.Min.Plus(floor.Point{Y: max(v.l.headline()-1, 0)}), Max: v.room.Max}
	if b.Min.X < room.Min.X || b.Min.Y < room.Min.Y || b.Max.X > room.Max.X || b.Max.Y > room.Max.Y {
		sum += 100
	}
	return sum
}

// outside returns how far a place lies from a box, 0 within it.
func outside(b box, at floor.Point) float64 {
	return math.Hypot(max(b.Min.X-at.X, 0, at.X-b.Max.X), max(b.Min.Y-at.Y, 0, at.Y-b.Max.Y))
}

// tag draws a label: the counts, then a slice of a disc as large as the turn, and its amount.
func (v *view) tag(l *label) {
	ink := inks[l.print.partner]
	at := middle(l.at)
	if edge, off := v.edge(l.print, l.at); off > 1.8 {
		v.path(Look{Ink: ink, Width: 0.2}, line(edge, at))
	}
	v.path(Look{Fill: white, Ink: ink, Width: 0.25}, rounded(l.at, 1))
	high := at.Y
	at = floor.Point{X: l.at.Min.X + 0.8, Y: high + 0.36*small}
	if l.words != "" {
		v.text(black, Text{Words: l.words, At: at, Size: small, Bold: true})
		at.X += 0.58*small*float64(len([]rune(l.words))) + 0.6
	}
	if l.turned != "" {
		v.slice(floor.Point{X: at.X + 1.5, Y: high}, l.turn, ink)
		v.text(black, Text{Words: l.turned, At: floor.Point{X: at.X + 3.6, Y: at.Y}, Size: small})
	}
}

// edge returns the place on a foot's edge that is nearest to a box, and how far it is from it.
func (v *view) edge(f *print, b box) (at floor.Point, off float64) {
	off = math.Inf(1)
	for k := range discs {
		disc := v.onPaper(v.disc(f, k))
		if d := outside(b, disc) - radius*v.l.scale; d < off {
			way := middle(b).Minus(disc)
			at, off = disc.Plus(way.Times(radius*v.l.scale/math.Hypot(way.X, way.Y))), d
		}
	}
	return at, off
}

// slice draws a turn as a slice of a disc, from 12 o'clock on.
func (v *view) slice(at floor.Point, t routine.Turn, ink Color) {
	const r = 1.4
	v.path(Look{Fill: white, Ink: ink, Width: 0.2}, circle(at, r))
	if t >= 8 || t <= -8 {
		v.path(Look{Fill: ink}, circle(at, r))
		return
	}
	corners := []floor.Point{at}
	const parts = 4 // an eighth
	n := int(t) * parts
	step := 1
	if n < 0 {
		step = -1
	}
	for i := 0; ; i += step {
		sin, cos := math.Sincos(float64(i) / parts * math.Pi / 4)
		corners = append(corners, at.Plus(floor.Point{X: r * sin, Y: -r * cos}))
		if i == n {
			break
		}
	}
	v.path(Look{Fill: ink}, closed(corners...))
}
