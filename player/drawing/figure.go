package drawing

import (
	"cmp"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Options say what is drawn, and how large.
type Options struct {
	Shown  [2]bool           // whose steps are drawn
	Up     routine.Direction // of the hall, up on the paper
	Widths []float64         // in millimetres, from narrow to wide: the first is used that suffices for one drawing with feet of 12 mm
	Height float64           // in millimetres, the most
	Foot   float64           // the length of feet, in millimetres, if the figure fits; 0 for 15
}

// highest is how much higher than wide a drawing may be, unless it has all the width that there is.
const highest = 1.25

// Figure draws a passage, most often as one drawing. It is split at its natural half only if neither
// nudging feet apart nor unrolling what stays on its spot lets it be read.
func (d *Drawer) Figure(passage int, o Options) (list []Drawing) {
	s := d.subject(passage)
	partners := s.partners(o.Shown)
	if len(partners) == 0 || s.rows() == 0 {
		return nil
	}
	to := min(s.rows(), mostRows)
	var layouts []*layout
	for i, width := range o.Widths {
		room := floor.Point{X: width, Y: o.Height}
		if i+1 < len(o.Widths) {
			room.Y = min(room.Y, highest*width)
		}
		layouts = s.layouts(0, to, partners, paper{room, cmp.Or(o.Foot, longestFoot), o.Up, len(partners) == 2})
		if len(layouts) == 1 && layouts[0].scale*footLength >= shortestFoot-0.01 {
			break
		}
	}
	for _, l := range layouts {
		drawn := l.draw()
		drawn.Name, drawn.Said = s.Name(), Said(d.path, passage, o.Shown)
		list = append(list, drawn)
	}
	return list
}

// partners returns those who are shown and have steps.
func (s *subject) partners(shown [2]bool) (list []routine.Partner) {
	for _, q := range routine.Partners() {
		if shown[q] && s.Figure.Has[q] {
			list = append(list, q)
		}
	}
	return list
}
