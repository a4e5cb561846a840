package choreography

import "dance.example/slowquick/routine"

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
