// Package choreography finds which figures can follow which, what links two figures, and
// whole routines of a given length.
package choreography

import (
	"slices"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Neighbour is a figure before or after another, and what keeps them apart.
type Neighbour struct {
	Figure *routine.Figure
	Parted []routine.Finding // empty if they can be danced in this order
	// Turn is how far the couple would have to turn between the two; 0 if they can
	// be danced as they are, or if turning does not help.
	Turn routine.Turn
}

// After reports for each figure in all, all of d, whether it can be danced after fig.
func After(d *routine.Dance, fig *routine.Figure, all []*routine.Figure) []Neighbour {
	return neighbours(all, func(next *routine.Figure) Neighbour { return neighbour(d, fig, next) })
}

// Before reports for each figure in all, all of d, whether it can be danced before fig.
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
	other := func(f routine.Finding) bool { return f.Code != "join-direction" }
	if len(n.Parted) > 0 && !slices.ContainsFunc(n.Parted, other) {
		n.Turn = turnBetween(d, first, next)
	}
	return n
}

// Parted returns what keeps figures of d from being danced one after the other, for either
// partner or on the floor. It omits that the last figure leaves its bar open.
func Parted(d *routine.Dance, figs ...*routine.Figure) []routine.Finding {
	items := make([]routine.Item, len(figs))
	for i, fig := range figs {
		items[i] = routine.Whole(fig)
	}
	_, parted := danced(d, items)
	return parted
}

// danced returns items of d danced one after the other, and what keeps them from being so. It omits that
// the last leaves its bar open.
func danced(d *routine.Dance, items []routine.Item) (*routine.Score, []routine.Finding) {
	score, found := routine.InOrder(d, nil, items...)
	found = append(found, floor.Check(score, found)...)
	return score, slices.DeleteFunc(found, func(f routine.Finding) bool { return f.Code == "last-bar-open" })
}

// turnBetween returns the smallest turn of the couple that lets next follow first; 0 if none
// does.
func turnBetween(d *routine.Dance, first, next *routine.Figure) routine.Turn {
	after, _, _ := routine.Outcome{}.Then(d, first)
	for _, t := range []routine.Turn{1, -1, 2, -2, 3, -3, 4} {
		if _, _, parted := after.Turned(t).Then(d, next); len(parted) == 0 {
			return t
		}
	}
	return 0
}

// Danceable returns the neighbours that can be danced, those that need a turn of the couple
// last.
func Danceable(all []Neighbour) (list []Neighbour) {
	for _, turned := range []bool{false, true} {
		for _, n := range all {
			if needsTurn := n.Turn != 0; needsTurn == turned && (needsTurn || len(n.Parted) == 0) {
				list = append(list, n)
			}
		}
	}
	return list
}

// Joins says which figures can follow which.
type Joins struct{}

// WhyNot returns why next can't be danced right after first; "" if it can.
func (Joins) WhyNot(d *routine.Dance, first, next *routine.Figure) string {
	if parted := Parted(d, first, next); len(parted) > 0 {
		return parted[0].Message
	}
	return ""
}
