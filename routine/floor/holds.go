package floor

import "dance.example/slowquick/routine"

// lasting returns ps if all of them are body holds, which last while the couple
// steps, and 0 otherwise. Partners who are outside may come into line.
func lasting(ps routine.PositionSet) routine.PositionSet {
	if !every(ps, func(r routine.Region) bool { return r.Body }) {
		return 0
	}
	if ps.Has(routine.OutsidePartner) || ps.Has(routine.LeftOutside) {
		ps |= 1 << routine.Closed
	}
	return ps
}

// inV reports whether the couple stands in a V after a row, or at the passage's
// start if index is -1.
func inV(p *routine.Passage, index int) bool {
	positions := p.Begins.Positions
	if index >= 0 && p.Held[index] != 0 {
		positions = p.Held[index]
	}
	return every(positions, func(r routine.Region) bool { return r.V })
}

func holdsHands(ps routine.PositionSet) bool {
	return every(ps, func(r routine.Region) bool { return r.Hands })
}
