package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// draw draws a layout.
func (l *layout) draw() Drawing {
	s := new(sheet)
	l.tuck()
	for i := range l.pictures {
		l.view(s, i).draw()
	}
	l.drawKey(s)
	return Drawing{Size: l.size, Shapes: s.shapes, Scale: l.scale, Strip: l.strip}
}

// draw draws a picture.
func (v *view) draw() {
	l, p := v.l, v.picture
	v.head()
	for _, q := range p.partners {
		end := &p.couples[p.to][q]
		v.mark(q)
		v.body(ended, q, v.onPaper(end.Body), l.direction(end.Facing), l.scale)
	}
	for i := range p.prints {
		if f := &p.prints[i]; len(f.rows) == 0 {
			v.mark(f.partner)
			v.sole(before, f.partner, f.foot, v.onPaper(f.at), l.direction(f.toward), l.scale)
		}
	}
	for row := p.from; row < p.to; row++ {
		for i := range p.ways {
			if p.ways[i].row == row {
				v.mark(p.prints[p.ways[i].to].partner, row)
				v.way(&p.ways[i])
			}
		}
		for i := range p.prints {
			if f := &p.prints[i]; len(f.rows) > 0 && f.rows[0] == row {
				v.mark(f.partner, f.rows...)
				v.print(f)
			}
		}
	}
	for i := range p.prints {
		v.mark(p.prints[i].partner, p.prints[i].rows...)
		v.numbers(&p.prints[i])
	}
	v.label()
	v.of = ""
}

// head writes whose steps a picture has, or which count.
func (v *view) head() {
	at := v.room.Min.Plus(floor.Point{Y: 3.4})
	switch {
	case v.l.strip:
		row := v.row(v.from)
		v.text(black, Text{Words: fmt.Sprintf("%d", v.From+v.from+1), At: at, Size: normal, Bold: true})
		v.text(black, Text{Words: "count " + row.Count.String(), At: at.Plus(floor.Point{X: 4 + 2*float64(v.From+v.from)/9}), Size: small})
	case len(v.l.pictures) > 1:
		q := v.partners[0]
		v.mark(q)
		v.text(inks[q], Text{Words: capital(q.String()), At: at, Size: normal, Bold: true})
	}
}

func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// print draws a footprint, and where it truly is if it was nudged far.
func (v *view) print(f *print) {
	at := v.onPaper(f.at)
	if off := f.nudged(); math.Hypot(off.X, off.Y) > 5 {
		home := v.onPaper(f.home)
		v.path(Look{Ink: grey, Width: 0.25, Dash: 0.4}, line(home, at))
		v.path(Look{Fill: white, Ink: grey, Width: 0.25}, circle(home, 0.6))
	}
	v.footprint(f.partner, f.foot, f.weight, at, v.l.direction(f.toward), v.l.scale)
}

// way draws a foot's way, cut off at the feet, with an arrow's head.
func (v *view) way(w *way) {
	const parts = 40
	from, to := &v.prints[w.from], &v.prints[w.to]
	all := v.curve(w, parts)
	first, last := 0, parts
	for first < last && v.inside(all[first], from) > -0.5 {
		first++
	}
	for last > first && v.inside(all[last], to) > -1 {
		last--
	}
	if last-first < 2 {
		return
	}
	var places []floor.Point
	for _, at := range all[first : last+1] {
		places = append(places, v.onPaper(at))
	}
	tip := places[len(places)-1]
	k := len(places) - 2
	for k > 0 && places[k].Distance(tip) < headLength {
		k--
	}
	head := tip.Minus(places[k])
	if math.Hypot(head.X, head.Y) < headLength/2 {
		return
	}
	ink := inks[to.partner]
	if k > 0 {
		shaft := append(places[:k:k], places[k].Plus(tip.Minus(places[k]).Times(0.2)))
		v.path(Look{Ink: white, Width: 1.2}, line(shaft...))
		v.path(Look{Ink: ink, Width: 0.4}, line(shaft...))
	}
	fill := ink
	if to.foot == routine.LF {
		fill = white
	}
	v.tip(Look{Fill: fill, Ink: ink, Width: 0.3}, tip, head)
}

// numbers writes the numbers of the steps along a foot, and L or R on its heel.
func (v *view) numbers(f *print) {
	scale := v.l.scale
	to := toward(v.l.direction(f.toward))
	write := func(c Color, forward, size float64, bold bool, words string) {
		at := v.onPaper(f.at).Plus(to.Times(forward * scale)).Plus(floor.Point{Y: 0.36 * size})
		v.text(c, Text{Words: words, At: at, Size: size, Bold: bold, Anchor: Middle})
	}
	foot := f.foot.String()[:1]
	switch {
	case v.l.strip && footLength*scale < shortestFoot: // too small; the number stands above the picture
		return
	case len(f.rows) == 0:
		write(grey, 5, small, false, foot)
		return
	}
	ink := inks[f.partner]
	if f.foot == routine.RF && f.weight == routine.Full {
		ink = white
	}
	apart := max(5.5, leastApart/scale)        // centimetres
	if to.Y > 0.1 || to.Y > -0.1 && to.X > 0 { // numbers go down or to the right
		apart = -apart
	}
	first := 5 + apart*float64(len(f.rows)-1)/2
	for i, row := range f.rows {
		write(ink, first-apart*float64(i), small, true, strconv.Itoa(v.From+row+1))
	}
	if f.weight != routine.None && f.partner == routine.Leader && len(f.rows) < 3 && footLength*scale >= shortestFoot {
		write(ink, -9, small, false, foot)
	}
}

// leastApart is how far two numbers on a foot are apart, in millimetres.
const leastApart = 2.4
