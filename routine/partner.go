package routine

// Partner is the leader or the follower.
type Partner uint8

// The partners, which index arrays of two.
const (
	Leader Partner = iota
	Follower
)

// Partners returns both, leader first.
func Partners() [2]Partner { return [2]Partner{Leader, Follower} }

// String returns "leader" or "follower".
func (p Partner) String() string {
	if p == Follower {
		return "follower"
	}
	return "leader"
}

// Foot is a foot, or none.
type Foot uint8

// The feet.
const (
	NoFoot Foot = iota
	LF
	RF
)

// String returns the trade's letters, LF or RF, or "" for none.
func (f Foot) String() string { return [...]string{"", "LF", "RF"}[f] }

// Other returns the other foot, or NoFoot for none.
func (f Foot) Other() Foot {
	switch f {
	case LF:
		return RF
	case RF:
		return LF
	}
	return NoFoot
}

// Outward returns the side on which the foot is: 1 for the right, -1 for the left.
func (f Foot) Outward() float64 {
	if f == LF {
		return -1
	}
	return 1
}

// feet is a set of feet, either of which may be free.
type feet uint8

const bothFeet feet = 3

func footSet(f Foot) feet           { return feet(f) }
func (s feet) has(f Foot) bool      { return s&feet(f) != 0 }
func (s feet) only() (f Foot)       { return [...]Foot{NoFoot, LF, RF, NoFoot}[s&3] }
func (s feet) overlaps(t feet) bool { return s&t != 0 }
