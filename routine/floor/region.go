package floor

import (
	"math/bits"

	"dance.example/slowquick/routine"
)

// nearest returns the point in a region nearest to at, both as the leader sees them.
func nearest(r routine.Region, at Point) Point {
	near, far := float64(r.Near), float64(r.Far)
	length, bearing := at.length(), at.bearing()
	for bearing < r.Left {
		bearing += 360
	}
	if bearing <= r.Right {
		if near <= length && length <= far {
			return at
		}
		return polar(min(max(length, near), far), bearing)
	}
	edge := r.Right
	if bearing-r.Right > r.Left+360-bearing {
		edge = r.Left
	}
	toward := polar(1, edge)
	return toward.Times(min(max(at.dot(toward), near), far))
}

// nearestOf returns the nearest point in any of some positions, and which position that is.
func nearestOf(ps routine.PositionSet, at Point) (to Point, in routine.Position) {
	best := -1.0
	for rest := ps; rest != 0; rest &= rest - 1 {
		p := first(rest)
		if place := nearest(p.Region(), at); best < 0 || place.Distance(at) < best {
			to, in, best = place, p, place.Distance(at)
		}
	}
	return to, in
}

// usual returns where the follower usually is in the first of some positions.
func usual(ps routine.PositionSet) Point {
	p := routine.OpenFacing
	if !ps.Unknown() && ps != 0 {
		p = first(ps)
	}
	r := p.Region()
	return polar(float64(r.Usual), r.UsualBearing)
}

// every reports whether something holds for each of some positions. It is false
// for a set that says nothing.
func every(ps routine.PositionSet, holds func(routine.Region) bool) bool {
	if ps.Unknown() {
		return false
	}
	for rest := ps; rest != 0; rest &= rest - 1 {
		if !holds(first(rest).Region()) {
			return false
		}
	}
	return true
}

// first returns the first of some positions.
func first(ps routine.PositionSet) routine.Position {
	return routine.Position(bits.TrailingZeros32(uint32(ps)))
}
