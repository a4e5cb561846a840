package drawing

import "dance.example/slowquick/routine/floor"

// view is a picture on paper.
type view struct {
	l *layout
	*picture
	*sheet
	shift floor.Point
	room  box
}

// onPaper returns where a place in the hall is on paper.
func (v *view) onPaper(at floor.Point) floor.Point {
	return at.Turned(v.l.turn()).Times(v.l.scale).Plus(v.shift)
}
