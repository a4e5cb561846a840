package drawing

import (
	"fmt"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// view is a picture on paper.
type view struct {
	l *layout
	*picture
	*sheet
	shift floor.Point
	room  box
}

// view returns where a picture is on paper.
func (l *layout) view(s *sheet, i int) *view {
	p, room := l.pictures[i], l.boxes[i]
	b := l.bounds(p)
	size := b.Max.Minus(b.Min).Times(l.scale)
	head := floor.Point{Y: l.headline()}
	spare := room.Max.Minus(room.Min).Minus(size).Minus(head).Times(0.5)
	return &view{l: l, picture: p, sheet: s, room: room,
		shift: room.Min.Plus(spare).Plus(head).Minus(b.Min.Times(l.scale))}
}

// onPaper returns where a place in the hall is on paper.
func (v *view) onPaper(at floor.Point) floor.Point {
	return at.Turned(v.l.turn()).Times(v.l.scale).Plus(v.shift)
}

// mark says whose is what is drawn next, and of which rows.
func (v *view) mark(q routine.Partner, rows ...int) {
	v.of = q.String()
	for _, row := range rows {
		v.of += fmt.Sprintf(" step-%d", v.From+row+1)
	}
}
