package routine

import "strings"

// Position is how the partners stand to each other, and how they hold.
type Position uint8

// PositionSet is a set of positions, in one of which a couple may be.
type PositionSet uint32

// positionFact is what a position is called and which directions it fixes.
type positionFact struct {
	name       string
	cell       string // as a step cell says it
	also       []string
	difference directionSet // follower's direction less leader's, in eighths
}

// The positions. Where promenade is danced as a narrow or a wide V, the
// differences are all those seen. Names are the trade's; the differences
// follow from its definitions (common practice).
var positionFacts = []positionFact{
	{"closed", "in closed", []string{"closed hold", "closed facing", "cp"}, setOf(4)},
	{"contact", "in contact", []string{"close contact"}, setOf(4)},
	{"open facing", "in open facing", []string{"open", "facing", "op fcg", "open hold"}, setOf(4)},
	{"promenade", "in promenade", []string{"pp"}, setOf(6, 7, 0)},
	{"counter promenade", "in counter promenade", []string{"cpp", "counterpromenade"}, setOf(2, 1, 0)},
	{"open promenade", "in open promenade", []string{"opp", "open pp"}, setOf(6, 7, 0)},
	{"open counter promenade", "in open counter promenade", []string{"open cpp", "ocpp"}, setOf(2, 1, 0)},
	{"fallaway", "in fallaway", nil, setOf(6, 7, 0)},
	{"fan", "in fan", nil, setOf(2)},
	{"left side", "in left side position", []string{"left side by side"}, setOf(0)},
	{"right side", "in right side position", []string{"right side by side"}, setOf(0)},
	{"left shadow", "in left shadow", nil, setOf(0)},
	{"right shadow", "in right shadow", nil, setOf(0)},
	{"left contra", "in left contra", nil, setOf(4)},
	{"right contra", "in right contra", nil, setOf(4)},
	{"tandem leader behind", "in tandem leader behind", []string{"tandem man behind"}, setOf(0)},
	{"tandem follower behind", "in tandem follower behind", []string{"tandem lady behind"}, setOf(0)},
	{"outside partner", "outside partner", []string{"op", "outside"}, setOf(4)},
	{"wing", "in wing", nil, setOf(4)},
	{"back to back", "back to back", nil, setOf(4)},
	{"apart", "apart", []string{"no hold"}, anyDirection},
}

const anyPosition PositionSet = 1<<31 - 1

// String names p as a dancer does.
func (p Position) String() string { return positionFacts[p].name }

// Positions lists the members of s.
func (s PositionSet) Positions() (list []Position) {
	for i := range positionFacts {
		if s.Has(Position(i)) {
			list = append(list, Position(i))
		}
	}
	return list
}

// Has reports whether p is in s.
func (s PositionSet) Has(p Position) bool { return s>>p&1 != 0 }

// String names the members, "closed or open facing".
func (s PositionSet) String() string {
	if s.unknown() {
		return "any position"
	}
	var names []string
	for _, p := range s.Positions() {
		names = append(names, p.String())
	}
	return strings.Join(names, " or ")
}

// MarshalText writes the members as String does.
func (s PositionSet) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

func (s PositionSet) unknown() bool { return s&anyPosition == anyPosition }

func positionSet(p Position) PositionSet { return 1 << p }

// difference is the set of differences that the members of s allow.
func (s PositionSet) difference() (ds directionSet) {
	if s.unknown() {
		return anyDirection
	}
	for _, p := range s.Positions() {
		ds |= positionFacts[p].difference
	}
	return ds
}
