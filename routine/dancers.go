package routine

import (
	"fmt"
	"slices"
)

// Dancers says which partners are meant: whose steps are shown, or who dances.
type Dancers uint8

// The values are stored in diaries and must not change.
const (
	Both Dancers = iota
	LeaderAlone
	FollowerAlone
	Nobody
)

var dancersNames = [...]string{"both", "leader", "follower", "nobody"}

// Alone returns one partner without the other.
func Alone(p Partner) Dancers { return LeaderAlone + Dancers(p) }

// String returns the word for d: "both", "leader", "follower" or "nobody".
func (d Dancers) String() string { return dancersNames[d] }

// Include reports whether p is one of d.
func (d Dancers) Include(p Partner) bool { return d == Both || d == Alone(p) }

// Partners returns the partners in d, leader first.
func (d Dancers) Partners() (list []Partner) {
	for _, p := range Partners() {
		if d.Include(p) {
			list = append(list, p)
		}
	}
	return list
}

// Each reports for each partner whether d includes it.
func (d Dancers) Each() [2]bool {
	return [2]bool{Leader: d.Include(Leader), Follower: d.Include(Follower)}
}

// Swapped returns the other partner if d is one alone, else d.
func (d Dancers) Swapped() Dancers {
	if d == LeaderAlone || d == FollowerAlone {
		return LeaderAlone + FollowerAlone - d
	}
	return d
}

// MarshalText writes String.
func (d Dancers) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText wrote, except "nobody".
func (d *Dancers) UnmarshalText(text []byte) error {
	i := slices.Index(dancersNames[:Nobody], string(text))
	if i < 0 {
		return fmt.Errorf("%q is not both, leader or follower", text)
	}
	*d = Dancers(i)
	return nil
}
