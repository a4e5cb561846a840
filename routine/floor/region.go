package floor

import "dance.example/slowquick/routine"

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
	for p := range ps.Positions() {
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
		p = ps.First()
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
	for p := range ps.Positions() {
		if !holds(p.Region()) {
			return false
		}
	}
	return true
}
