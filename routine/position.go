package routine

import (
	"iter"
	"math/bits"
	"strings"
)

// Position is how the partners stand to each other and hold each other.
type Position uint8

// PositionSet is a set of positions; the couple is in one of them.
type PositionSet uint32

// positionFact holds a position's name, the directions it fixes and where the follower is.
type positionFact struct {
	name       string
	cell       string       // as a step's cell says it
	difference directionSet // follower's direction less leader's, in eighths
	place      Region       // where the follower is
}

// The positions that other code refers to by name.
const (
	Closed           Position = 0
	OpenFacing       Position = 2
	Promenade        Position = 3
	CounterPromenade Position = 4
	Fallaway         Position = 7
	OutsidePartner   Position = 17
	LeftOutside      Position = 21
)

// The distances between the middles of two bodies that touch, and that two stretched arms just bridge
// (estimated).
const (
	Touching Length = 18
	Reaching Length = 140
)

// Region is where the follower's body may be, as seen by the leader. Bearings are clockwise, in
// degrees, from the direction that the leader faces.
type Region struct {
	Near, Far    Length  // between the middles of the bodies
	Left, Right  float64 // bearings, Left up to Right
	Usual        Length
	UsualBearing float64
	Hands        bool // hands are held
	Body         bool // the bodies are in one hold, which lasts while the couple steps
	V            bool // the partners stand in a V and travel towards its open end
}

// The positions. Where promenade is danced as a narrow or a wide V, the differences are all those seen.
// Names are the trade's; the differences follow from its definitions (common practice). The regions put
// the trade's words into centimetres: a closed hold leaves up to a hand's breadth between the bodies
// (estimated, as no published table gives them). Their numbers are in the order of [Region]'s fields.
var positionFacts = []positionFact{
	{"closed", "in closed", setOf(4), Region{20, 50, -15, 25, 38, 8, true, true, false}},
	{"contact", "in contact", setOf(4), Region{Touching, 36, -15, 30, 25, 5, true, true, false}},
	{"open facing", "in open facing", setOf(4), Region{35, Reaching, -40, 40, 75, 0, true, false, false}},
	{"promenade", "in promenade", setOf(6, 7, 0), Region{20, 60, 5, 100, 38, 45, true, true, true}},
	{"counter promenade", "in counter promenade", setOf(2, 1, 0), Region{20, 60, -100, -5, 38, -45, true, true, true}},
	{"open promenade", "in open promenade", setOf(6, 7, 0), Region{40, Reaching, 5, 110, 75, 60, true, false, true}},
	{"open counter promenade", "in open counter promenade", setOf(2, 1, 0), Region{40, Reaching, -110, -5, 75, -60, true, false, true}},
	{"fallaway", "in fallaway", setOf(6, 7, 0), Region{20, 60, 5, 100, 38, 45, true, true, true}},
	{"fan", "in fan", setOf(2), Region{50, Reaching, -110, -20, 100, -60, true, false, false}},
	{"left side", "in left side position", setOf(0), Region{35, Reaching, -135, -45, 65, -90, true, false, false}},
	{"right side", "in right side position", setOf(0), Region{35, Reaching, 45, 135, 65, 90, true, false, false}},
	{"left shadow", "in left shadow", setOf(0), Region{20, 100, -120, 0, 45, -40, true, false, false}},
	{"right shadow", "in right shadow", setOf(0), Region{20, 100, 0, 120, 45, 40, true, false, false}},
	{"left contra", "in left contra", setOf(4), Region{20, 120, -135, -20, 50, -70, true, false, false}},
	{"right contra", "in right contra", setOf(4), Region{20, 120, 20, 135, 50, 70, true, false, false}},
	{"tandem leader behind", "in tandem leader behind", setOf(0), Region{20, Reaching, -30, 30, 60, 0, false, false, false}},
	{"tandem follower behind", "in tandem follower behind", setOf(0), Region{20, Reaching, 150, 210, 60, 180, false, false, false}},
	{"outside partner", "outside partner", setOf(4), Region{20, 60, 5, 90, 38, 35, true, true, false}},
	{"wing", "in wing", setOf(4), Region{20, 70, -90, -5, 40, -35, true, true, false}},
	{"back to back", "back to back", setOf(4), Region{20, Reaching, 120, 240, 60, 180, false, false, false}},
	{"apart", "apart", anyDirection, Region{30, 600, -180, 180, 150, 0, false, false, false}},
	{"left outside partner", "left outside partner", setOf(4), Region{20, 60, -90, -5, 38, -35, true, true, false}},
	{"tandem follower behind left", "in tandem follower behind left", setOf(0), Region{20, Reaching, -175, -95, 50, -140, true, false, false}},
	{"tandem follower behind right", "in tandem follower behind right", setOf(0), Region{20, Reaching, 95, 175, 50, 140, true, false, false}},
}

// AnyPosition is the set of all positions, which says nothing.
const AnyPosition PositionSet = 1<<31 - 1

// String returns the position's name.
func (p Position) String() string { return positionFacts[p].name }

// Region returns where the follower is in p.
func (p Position) Region() Region { return positionFacts[p].place }

// Positions yields the members of s.
func (s PositionSet) Positions() iter.Seq[Position] {
	return func(yield func(Position) bool) {
		for i := range positionFacts {
			if p := Position(i); s.Has(p) && !yield(p) {
				return
			}
		}
	}
}

// First returns the first member of s, which must have one.
func (s PositionSet) First() Position { return Position(bits.TrailingZeros32(uint32(s))) }

// Has reports whether p is in s.
func (s PositionSet) Has(p Position) bool { return s>>p&1 != 0 }

// String returns the members' names, "closed or open facing".
func (s PositionSet) String() string {
	if s.Unknown() {
		return "any position"
	}
	var names []string
	for p := range s.Positions() {
		names = append(names, p.String())
	}
	return strings.Join(names, " or ")
}

// Unknown reports whether s is all positions, and so says nothing.
func (s PositionSet) Unknown() bool { return s&AnyPosition == AnyPosition }

// byBody reports whether s names positions, and the bodies are in one hold in all of them.
func (s PositionSet) byBody() bool {
	for p := range s.Positions() {
		if !p.Region().Body {
			return false
		}
	}
	return s != 0
}

func positionSet(p Position) PositionSet { return 1 << p }

// Allows reports whether a member of s allows the follower to face t to the right of the leader's
// direction.
func (s PositionSet) Allows(t Turn) bool {
	return s != 0 && s.difference().has(LOD.Turned(t))
}

// difference returns the differences that the members of s allow.
func (s PositionSet) difference() (ds directionSet) {
	if s.Unknown() {
		return anyDirection
	}
	for p := range s.Positions() {
		ds |= positionFacts[p].difference
	}
	return ds
}
