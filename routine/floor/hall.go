package floor

import (
	"dance.example/slowquick/routine"
)

// The distance that a couple keeps from the edge of the floor, in centimetres.
// Common practice: an elbow's breadth at the side, and some steps behind.
const (
	beside = 60.0
	back   = 100.0
)

// Bounds is the smallest rectangle that holds some points. The zero Bounds holds none.
type Bounds struct{ Min, Max Point }

// Including returns b extended to hold a point.
func (b Bounds) Including(p Point) Bounds {
	if b == (Bounds{}) {
		return Bounds{p, Point{p.X, p.Y + 1e-9}}
	}
	return Bounds{Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}, Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}}
}

// Bounds returns the bounds of both partners' bodies along the whole path or,
// if toCorner is set, up to the first corner of the room.
func (p *Path) Bounds(toCorner bool) (b Bounds) {
	for i := range p.Score.Passages {
		if toCorner && p.Score.Passages[i].Corners > 0 {
			break
		}
		for _, c := range p.Passage(i) {
			b = b.Including(c[0].Body).Including(c[1].Body)
		}
	}
	return b
}

// Origin returns where the path's origin lies on a floor. On that floor, the wall behind
// the couple is at X = 0, and the wall beside them at Y = the floor's width.
//
// A dance that travels is laid along the line of dance: its first side begins at the wall
// behind and keeps next to the wall. Any other dance is put in the middle. Common practice.
func (p *Path) Origin(room routine.Room) Point {
	along, across := float64(room.Along), float64(room.Across)
	if p.Score.Dance.Travels {
		b := p.Bounds(true)
		return Point{back - b.Min.X, across - beside - b.Max.Y}
	}
	b := p.Bounds(false)
	return Point{(along - b.Min.X - b.Max.X) / 2, (across - b.Min.Y - b.Max.Y) / 2}
}

// Travel returns how far, and which way, one run-through of the routine moves
// the couple's middle.
func (p *Path) Travel() Point {
	if len(p.starts) == 0 {
		return Point{}
	}
	return p.End.Middle().Minus(p.starts[0].Middle())
}

// Middle returns the point midway between both bodies.
func (c *Couple) Middle() Point {
	return c[routine.Leader].Body.Plus(c[routine.Follower].Body).Times(0.5)
}

// Summary says in words how far one run-through of the routine travels, and how
// the leader ends: relative to the line of dance if the dance travels, else to
// where he faced at the start.
func (p *Path) Summary() string {
	if len(p.starts) == 0 {
		return ""
	}
	start, end := p.starts[0][routine.Leader].Facing, p.End[routine.Leader].Facing
	way := p.Travel()
	goes := way.seenFrom(start).Named("forward", "back", "to the right", "to the left")
	ends := "ends facing as it began"
	if t := start.To(end); t != 0 {
		ends = "ends turned " + t.String()
	}
	if p.Score.Dance.Travels {
		goes = way.Named("along the line of dance", "against the line of dance", "to the wall", "to the centre")
		last := &p.Score.Passages[len(p.Score.Passages)-1]
		ends = "ends facing " + end.Turned(routine.CornerTurn*routine.Turn(last.Corners)).String()
	}
	if goes == "" {
		return "stays in place and " + ends
	}
	return "goes " + goes + ", and " + ends
}
