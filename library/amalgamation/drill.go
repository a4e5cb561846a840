package amalgamation

import "dance.example/slowquick/routine"

// Drill is what to dance to repeat a figure over and over: the figure, and what
// leads back to it. That is nothing if it can follow itself; else its mirror
// image, if that is in all; else the easiest of the shortest links. It is nil if
// nothing leads back.
func Drill(d *routine.Dance, fig *routine.Figure, all []*routine.Figure) []*routine.Figure {
	if len(Parted(d, fig, fig)) == 0 {
		return []*routine.Figure{fig}
	}
	for _, other := range all {
		if mirrors(fig, other) && len(Parted(d, fig, other, fig)) == 0 {
			return []*routine.Figure{fig, other}
		}
	}
	join := Between(d, fig, fig)
	if links := join.Link(all, 1); len(links) > 0 {
		return append([]*routine.Figure{fig}, links[0]...)
	}
	return nil
}

// mirrors reports whether two figures are danced alike, but with the other foot
// and turning to the other side.
func mirrors(a, b *routine.Figure) bool {
	if len(a.Rows) != len(b.Rows) {
		return false
	}
	for i := range a.Rows {
		if a.Rows[i].At-a.Rows[0].At != b.Rows[i].At-b.Rows[0].At {
			return false
		}
		for _, p := range routine.Partners() {
			s, t := &a.Rows[i].Steps[p], &b.Rows[i].Steps[p]
			if s.Foot.Other() != t.Foot || s.Way != t.Way || s.Turn != -t.Turn || s.Weight != t.Weight {
				return false
			}
		}
	}
	return true
}
