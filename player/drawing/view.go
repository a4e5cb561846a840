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
	return &view{l: l, picture: l.pictures[i], sheet: s, room: l.boxes[i], shift: l.shift(i)}
}

// onPaper returns where a place in the hall is on paper.
func (v *view) onPaper(at floor.Point) floor.Point { return v.l.onPaper(at, v.shift) }

// mark says whose is what is drawn next, and of which rows.
func (v *view) mark(q routine.Partner, rows ...int) {
	v.of = q.String()
	for _, row := range rows {
		v.of += fmt.Sprintf(" step-%d", v.From+row+1)
	}
}
