package routine

import (
	"iter"
	"strings"
)

// Hands is a way to hold hands.
type Hands uint8

// HandsSet is a set of ways to hold hands, of which the couple uses one. The zero value says nothing.
type HandsSet uint16

// AnyHands is the set of all ways, for when nothing is known.
const AnyHands HandsSet = 1<<16 - 1

// Hand is a hand.
type Hand uint8

// The hands.
const (
	NoHand Hand = iota
	LeftHand
	RightHand
)

// Grip is one of the leader's hands and the follower's hand that it holds.
type Grip struct{ Leader, Follower Hand }

// handsFact is a way to hold hands, by its name.
type handsFact struct {
	name  string
	grips [2]Grip // unused ones are zero
}

var (
	leftToRight  = Grip{LeftHand, RightHand}
	rightToLeft  = Grip{RightHand, LeftHand}
	rightToRight = Grip{RightHand, RightHand}
	leftToLeft   = Grip{LeftHand, LeftHand}
)

// The ways to hold hands; the leader's hand comes first (common practice).
var handsFacts = []handsFact{
	{"hands left to right", [2]Grip{leftToRight}},
	{"hands right to left", [2]Grip{rightToLeft}},
	{"hands right to right", [2]Grip{rightToRight}},
	{"hands left to left", [2]Grip{leftToLeft}},
	{"both hands", [2]Grip{leftToRight, rightToLeft}},
	{"crossed hands", [2]Grip{rightToRight, leftToLeft}},
	{"crossed hands left over right", [2]Grip{leftToLeft, rightToRight}},
	{"hammerlock", [2]Grip{leftToRight, rightToLeft}},
	{"wrapped", [2]Grip{leftToRight, rightToLeft}},
	{"hands on shoulders", [2]Grip{}},
	{"no hands", [2]Grip{}},
}

// String returns the name of h.
func (h Hands) String() string { return handsFacts[h].name }

// Grips returns which hands are joined. With only one pair joined, or none, the rest are zero.
func (h Hands) Grips() [2]Grip { return handsFacts[h].grips }

// Hands yields the members of s.
func (s HandsSet) Hands() iter.Seq[Hands] {
	return func(yield func(Hands) bool) {
		for i := range handsFacts {
			if s>>i&1 != 0 && !yield(Hands(i)) {
				return
			}
		}
	}
}

// Known reports whether s says how the couple holds.
func (s HandsSet) Known() bool { return s != 0 && s != AnyHands }

// First returns the first member of s; ok is false if s says nothing.
func (s HandsSet) First() (first Hands, ok bool) {
	if s.Known() {
		for h := range s.Hands() {
			return h, true
		}
	}
	return 0, false
}

// String returns the members' names, "hands left to right or both hands", or "" if s says nothing.
func (s HandsSet) String() string {
	if !s.Known() {
		return ""
	}
	var names []string
	for h := range s.Hands() {
		names = append(names, h.String())
	}
	return strings.Join(names, " or ")
}

// differ reports whether a couple must surely change hands to go from s to t.
func (s HandsSet) differ(t HandsSet) bool { return s.Known() && t.Known() && s&t == 0 }
