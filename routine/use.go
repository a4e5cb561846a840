package routine

import (
	"fmt"
	"slices"
	"strings"
)

// Use is how the trade uses a figure.
type Use struct {
	Parts []Piece
	// Begun are the alignments on which the leader properly begins a figure that could begin on any.
	Begun  []Alignment
	Family Family
}

// Piece is a part of a figure that is danced by itself: the rows from From up to, but not including, To.
type Piece struct {
	From, To int
	Name     string // its own name; "" if it has none
	// Begins is the leader's alignment before the part, if it may begin on others too.
	Begins Alignment
	// Or are the turns of the couple from where it is before the part, when the whole is danced, to the other
	// alignments on which the part may begin.
	Or []Turn

	at extent
}

// String returns p as a sheet writes it: "1–3", "1–3 = half natural turn".
func (p Piece) String() string {
	text := fmt.Sprintf("%d–%d", p.From+1, p.To)
	if p.To == p.From+1 {
		text = fmt.Sprint(p.To)
	}
	if p.Begins.Stand != NoStand {
		text += " " + p.Begins.String()
	}
	for _, t := range p.Or {
		text += " or " + p.Begins.To.Turned(t).String()
	}
	if p.Name != "" {
		text += " = " + p.Name
	}
	return text
}

// partNames returns the names of parts that have one.
func (u *Use) partNames() (names []string) {
	for _, p := range u.Parts {
		if p.Name != "" {
			names = append(names, p.Name)
		}
	}
	return names
}

// PartsText returns the parts as a sheet lists them.
func (u *Use) PartsText() string {
	texts := make([]string, len(u.Parts))
	for i, p := range u.Parts {
		texts[i] = p.String()
	}
	return strings.Join(texts, ", ")
}

// Family is a way of dancing that isn't mixed with another.
type Family uint8

// The families. The zero Family goes with any.
const (
	AnyFamily Family = iota
	International
	American
	Vintage // of about 1914
	OnOne   // the forward step comes on 1
	OnTwo
)

var familyNames = [...]string{"", "international", "American", "vintage", "on 1", "on 2"}

// String returns the family's name, or "" for [AnyFamily].
func (f Family) String() string { return familyNames[f] }

// MarshalText writes String.
func (f Family) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// Families returns the names of all families.
func Families() []string { return familyNames[1:] }

// ParseFamily reads the name of a family, "American" or "American style".
func ParseFamily(text string) (Family, bool) {
	key := strings.TrimSuffix(Key(text), "style")
	for i, name := range familyNames {
		if i > 0 && Key(name) == key {
			return Family(i), true
		}
	}
	return AnyFamily, false
}

// anywhere is written of a figure that is begun on any alignment, such as a box, which stays where it is.
const anywhere = "anywhere"

// MindsWhere reports whether it is known that the figure is not begun on every alignment.
func (u *Use) MindsWhere() bool { return len(u.Begun) > 0 && len(u.Begun) < directions }

// everywhere returns all alignments, each facing.
func everywhere() (list []Alignment) {
	for d := range Direction(directions) {
		list = append(list, Alignment{Facing, d})
	}
	return list
}

// BegunText returns the alignments as a sheet lists them: "DW, LOD", "backing DC, facing wall", "anywhere".
func (u *Use) BegunText() string {
	if slices.Equal(u.Begun, everywhere()) {
		return anywhere
	}
	texts := make([]string, len(u.Begun))
	last := Facing
	for i, a := range u.Begun {
		if texts[i] = a.To.String(); a.Stand != Facing || last != Facing {
			texts[i] = a.String()
		}
		last = a.Stand
	}
	return strings.Join(texts, ", ")
}
