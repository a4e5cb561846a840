package choreography

import "dance.example/slowquick/routine"

// Drill returns what to dance to repeat a figure over and over: the figure, and what leads
// back to it. That is nothing if it can follow itself, its mirror image if all has one, or
// else the easiest of the shortest links. Drill returns nil if nothing leads back.
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

// mirrors reports whether two figures differ only in the feet and in the direction of the
// turns.
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
