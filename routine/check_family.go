package routine

import (
	"cmp"
	"fmt"
	"slices"
)

// FamilyOf returns the family of dancing that a figure is of. A figure of the dance's chapter that names none
// is of the dance's, and a sheet's own figure goes with all.
func (s *Sheet) FamilyOf(fig *Figure) Family {
	if !s.Defines && slices.Contains(s.Figures, fig) {
		return fig.Family
	}
	return cmp.Or(fig.Family, s.Dance.Family)
}

// Timing reports whether the figures of f differ from others by the count on which they begin, not by their style.
func (f Family) Timing() bool { return f >= OnOne }

// families warns, once, of an order that mixes two families of dancing.
func (c *checker) families(s *Score) {
	var first [2]*Item // of each kind of family
	of := func(i *Item) Family { return c.sheet.FamilyOf(i.Figure) }
	for i := range s.Items {
		item := &s.Items[i]
		if item.Figure == nil || of(item) == AnyFamily {
			continue
		}
		kind := 0
		if of(item).Timing() {
			kind = 1
		}
		switch before := first[kind]; {
		case before == nil:
			first[kind] = item
		case of(before) != of(item):
			c.add("mixed-families", item.name, fmt.Sprintf("%s is danced %s, but %s, before it, %s", item.Name, of(item).inWords(), before.Name, of(before).inWords()),
				"keep to one of them", Related{c.src.span(before.name.from, before.name.to), before.Name})
			return
		}
	}
}

// inWords returns how a figure of the family is danced: "on 1", "in the American style".
func (f Family) inWords() string {
	if f.Timing() {
		return f.String()
	}
	return "in the " + f.String() + " style"
}
