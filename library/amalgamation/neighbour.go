// Package amalgamation tells which figures can follow which, finds what links
// two figures, and puts figures together to whole routines.
package amalgamation

import (
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Neighbour is a figure beside another, and what parts the two.
type Neighbour struct {
	Figure *routine.Figure
	Parted []routine.Finding // empty if one can be danced after the other
	// Turn would let it be danced, if the couple turned by it before the first
	// step; 0 if nothing parts them, or if a turn does not help.
	Turn routine.Turn
}

// After tells of each figure of d in all whether it can be danced after fig.
func After(d *routine.Dance, fig *routine.Figure, all []*routine.Figure) []Neighbour {
	return neighbours(all, func(next *routine.Figure) Neighbour { return neighbour(d, fig, next) })
}

// Before tells of each figure of d in all whether fig can be danced after it.
func Before(d *routine.Dance, fig *routine.Figure, all []*routine.Figure) []Neighbour {
	return neighbours(all, func(first *routine.Figure) Neighbour { return neighbour(d, first, fig) })
}

func neighbours(all []*routine.Figure, judge func(*routine.Figure) Neighbour) []Neighbour {
	list := make([]Neighbour, len(all))
	for i, fig := range all {
		list[i] = judge(fig)
		list[i].Figure = fig
	}
	return list
}

func neighbour(d *routine.Dance, first, next *routine.Figure) Neighbour {
	n := Neighbour{Parted: Parted(d, first, next)}
	if onlyDirections(n.Parted) {
		n.Turn = turnBetween(d, first, next)
	}
	return n
}

// Parted tells all that keeps figures of d from being danced one after the
// other, by both partners and on the floor. That the last of them leaves its
// bar open is not of it.
func Parted(d *routine.Dance, figs ...*routine.Figure) []routine.Finding {
	items := make([]routine.Item, len(figs))
	for i, fig := range figs {
		items[i] = routine.Whole(fig)
	}
	return parted(d, items)
}

func parted(d *routine.Dance, items []routine.Item) (parted []routine.Finding) {
	score, found := routine.InOrder(d, nil, items...)
	for _, f := range append(found, floor.Check(score, found)...) {
		if f.Code != "last-bar-open" {
			parted = append(parted, f)
		}
	}
	return parted
}

func onlyDirections(found []routine.Finding) bool {
	for _, f := range found {
		if f.Code != "join-direction" {
			return false
		}
	}
	return len(found) > 0
}

// turnBetween is the least turn of the couple, if one is enough, between two figures.
func turnBetween(d *routine.Dance, first, next *routine.Figure) routine.Turn {
	after, _, _ := routine.Moment{}.Then(d, first)
	for _, t := range []routine.Turn{1, -1, 2, -2, 3, -3, 4} {
		if _, _, parted := after.Turned(t).Then(d, next); len(parted) == 0 {
			return t
		}
	}
	return 0
}
