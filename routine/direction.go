package routine

import (
	"math/bits"
	"strings"
)

// Turn is an amount of turn in eighths; right (clockwise seen from above) is positive.
type Turn int

// String returns the amount as charts print it, "3/8 R", or "" for no turn.
func (t Turn) String() string {
	if t == 0 {
		return ""
	}
	side := "R"
	if t < 0 {
		side, t = "L", -t
	}
	return t.amount() + " " + side
}

// amount returns t without its side; t must not be negative.
func (t Turn) amount() string { return Beats(t * 120).String() } // 120/960 is an eighth

// Direction is a direction in the hall in eighths, clockwise seen from above, counted from the line of
// dance. Couples travel anticlockwise, so the wall is to the right of a dancer who faces the line of
// dance.
type Direction uint8

// The directions of the hall. Common practice; the trade's usual letters.
const (
	LOD        Direction = iota // line of dance
	DW                          // diagonal to wall
	Wall                        // wall
	DWAgainst                   // diagonal to wall against line of dance
	Against                     // against line of dance
	DCAgainst                   // diagonal to centre against line of dance
	Centre                      // centre
	DC                          // diagonal to centre
	directions           = 8
	opposite   Turn      = 4
)

var directionNames = [directions]string{"LOD", "DW", "wall", "DW against LOD", "against LOD", "DC against LOD", "centre", "DC"}

// ParseDirection reads "wall", "DW" or "diagonal to wall".
func ParseDirection(text string) (Direction, bool) {
	l := lex()
	words, _ := l.split(text, 0)
	d, n := l.direction(words)
	return d, n > 0 && n == len(words)
}

// String returns the name that charts use for d.
func (d Direction) String() string { return directionNames[d%directions] }

// Turned returns d after a turn by t.
func (d Direction) Turned(t Turn) Direction {
	return Direction(((int(d)+int(t))%directions + directions) % directions)
}

// To returns the shorter turn from d to other, from -4 to 3 eighths.
func (d Direction) To(other Direction) Turn {
	return (Turn(other)-Turn(d)+directions+opposite)%directions - opposite
}

// Stand says whether an alignment gives the direction faced, backed or pointed to.
type Stand uint8

// The kinds of alignment. Pointing gives the direction of the foot when the body has not completed its
// turn.
const (
	NoStand Stand = iota
	Facing
	Backing
	Pointing
)

var standNames = [...]string{"", "facing", "backing", "pointing"}

// Alignment is the direction in the hall that a dancer faces, backs or points to.
type Alignment struct {
	Stand Stand
	To    Direction
}

// Direction returns the direction that is faced or pointed to.
func (a Alignment) Direction() Direction {
	if a.Stand == Backing {
		return a.To.Turned(opposite)
	}
	return a.To
}

// String returns a as charts write it, "backing DC", or "" for none.
func (a Alignment) String() string {
	if a.Stand == NoStand {
		return ""
	}
	return standNames[a.Stand] + " " + a.To.String()
}

// alignments returns how charts say that a dancer faces one of ds: "facing DW or wall". Of one who backs
// they say "backing DC" rather than "facing DW against LOD".
func alignments(ds directionSet, backs bool) string {
	if ds == anyDirection {
		return "facing anywhere"
	}
	var ways []string
	last := NoStand
	for d := range Direction(directions) {
		if !ds.has(d) {
			continue
		}
		a := Alignment{Facing, d}
		if backs && DWAgainst <= d && d <= DCAgainst {
			a = Alignment{Backing, d.Turned(opposite)}
		}
		if a.Stand == last {
			ways = append(ways, a.To.String())
		} else {
			ways = append(ways, a.String())
		}
		last = a.Stand
	}
	return strings.Join(ways, " or ")
}

// directionSet is a set of directions, or of differences between two directions.
type directionSet uint8

const anyDirection directionSet = 0xff

func setOf(ds ...int) (s directionSet) {
	for _, d := range ds {
		s |= 1 << (d & 7)
	}
	return s
}

func (s directionSet) has(d Direction) bool { return s>>d&1 != 0 }

// only returns the one direction in s; ok is false unless there is exactly one.
func (s directionSet) only() (d Direction, ok bool) {
	return Direction(bits.TrailingZeros8(uint8(s))) % directions, bits.OnesCount8(uint8(s)) == 1
}

// facings is the set of pairs of directions (leader's, follower's) in which a couple may be standing:
// bit 8·leader + follower. A sheet need not say where a routine faces, so the set starts with all pairs
// and narrows.
type facings uint64

const anyFacings facings = 1<<64 - 1

// turned returns s after one partner has turned by t.
func (s facings) turned(p Partner, t Turn) facings {
	if p == Leader {
		return facings(bits.RotateLeft64(uint64(s), 8*int(t)))
	}
	var out facings
	for l := range directions {
		out |= facings(bits.RotateLeft8(uint8(s>>(8*l)), int(t))) << (8 * l)
	}
	return out
}

// where keeps the pairs in which partner p faces one of ds.
func (s facings) where(p Partner, ds directionSet) facings {
	var keep facings
	for l := range directions {
		switch {
		case p == Follower:
			keep |= facings(ds) << (8 * l)
		case ds.has(Direction(l)):
			keep |= 0xff << (8 * l)
		}
	}
	return s & keep
}

// apart keeps the pairs whose difference, follower's less leader's, is in ds.
func (s facings) apart(ds directionSet) facings {
	var keep facings
	for l := range directions {
		keep |= facings(bits.RotateLeft8(uint8(ds), l)) << (8 * l)
	}
	return s & keep
}

// of returns the directions that partner p may be facing.
func (s facings) of(p Partner) (ds directionSet) {
	for l := range directions {
		row := directionSet(s >> (8 * l))
		switch {
		case p == Follower:
			ds |= row
		case row != 0:
			ds |= 1 << l
		}
	}
	return ds
}

// difference returns the differences, follower's less leader's, of all pairs.
func (s facings) difference() (ds directionSet) {
	for l := range directions {
		ds |= directionSet(bits.RotateLeft8(uint8(s>>(8*l)), -l))
	}
	return ds
}

func onePair(to [2]Direction) facings { return 1 << (directions*int(to[Leader]) + int(to[Follower])) }

// likely returns the most usual pair in s. It prefers partners who face each other or stand in a wide
// V, then a leader who faces the line of dance if the dance travels, else the wall. Common practice.
func (s facings) likely(travels bool) (pair [2]Direction) {
	first := Wall
	if travels {
		first = LOD
	}
	for _, difference := range []Turn{4, 6, 2, 0, 7, 1, 5, 3} {
		for turn := range Turn(directions) {
			leader := first.Turned(turn)
			pair = [2]Direction{leader, leader.Turned(difference)}
			if s&onePair(pair) != 0 {
				return pair
			}
		}
	}
	return pair
}
