package routine

import (
	"cmp"
	"fmt"
	"slices"
)

// families warns, once, of an order that mixes two families of dancing. A figure of the dance's chapter that
// names no family is of the dance's, and a sheet's own figure goes with all.
func (c *checker) families(s *Score) {
	var first [2]*Item // of each kind of family
	of := func(i *Item) Family {
		if !c.sheet.Defines && slices.Contains(c.sheet.Figures, i.Figure) {
			return i.Figure.Family
		}
		return cmp.Or(i.Figure.Family, s.Dance.Family)
	}
	for i := range s.Items {
		item := &s.Items[i]
		if item.Figure == nil || of(item) == AnyFamily {
			continue
		}
		kind := 0
		if of(item) >= OnOne {
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
	if f >= OnOne {
		return f.String()
	}
	return "in the " + f.String() + " style"
}
