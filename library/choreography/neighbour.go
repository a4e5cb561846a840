// Package choreography finds which figures can follow which, what links two figures, and
// whole routines of a given length.
package choreography

import (
	"cmp"
	"slices"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Neighbour is a figure before or after another, and what keeps them apart.
type Neighbour struct {
	Figure   *routine.Figure
	From, To int               // the rows that are danced: all, or a part if only that fits
	Parted   []routine.Finding // empty if they can be danced in this order
	// Way says how the neighbour is danced there if not as charted, and Other how the figure asked about is.
	Way, Other string
	// Turn is how far the couple would have to turn between the two; 0 if they can
	// be danced as they are, or if turning does not help.
	Turn routine.Turn
}

// Name returns the figure's name, with the steps if only a part of it can be danced there.
func (n *Neighbour) Name() string { return n.Figure.Part(n.From, n.To) }

// After reports for each figure in all, all of d, whether it can be danced after fig.
func After(d *routine.Dance, fig *routine.Figure, all []*routine.Figure) []Neighbour {
	return neighbours(all, func(next routine.Item) Neighbour {
		n := neighbour(d, routine.Whole(fig), next)
		n.Way, n.Other = n.Other, n.Way
		return n
	})
}

// Before reports for each figure in all, all of d, whether it can be danced before fig.
func Before(d *routine.Dance, fig *routine.Figure, all []*routine.Figure) []Neighbour {
	return neighbours(all, func(first routine.Item) Neighbour { return neighbour(d, first, routine.Whole(fig)) })
}

// neighbours judges each figure: all of it or, if that can't be danced, the first part of it that can.
func neighbours(all []*routine.Figure, judge func(routine.Item) Neighbour) []Neighbour {
	list := make([]Neighbour, len(all))
	for i, fig := range all {
		whole := routine.Whole(fig)
		list[i] = judge(whole)
		list[i].From, list[i].To = whole.From, whole.To
		for _, part := range fig.Parts {
			if len(list[i].Parted) == 0 {
				break
			}
			item := whole
			item.From, item.To = part.From, part.To
			if n := judge(item); len(n.Parted) == 0 {
				list[i] = n
				list[i].From, list[i].To = part.From, part.To
			}
		}
		list[i].Figure = fig
	}
	return list
}

// neighbour judges two items in order. Way is that of the first, Other that of the next.
func neighbour(d *routine.Dance, first, next routine.Item) (n Neighbour) {
	score, parted := danced(d, []routine.Item{first, next})
	n.Parted = parted
	if len(parted) == 0 {
		n.Way, n.Other = score.Passages[0].Figure.Differs(), score.Passages[1].Figure.Differs()
	}
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
func turnBetween(d *routine.Dance, first, next routine.Item) routine.Turn {
	after, _, _ := routine.Outcome{}.ThenPart(d, first.Figure, first.From, first.To)
	for _, t := range []routine.Turn{1, -1, 2, -2, 3, -3, 4} {
		if _, _, parted := after.Turned(t).ThenPart(d, next.Figure, next.From, next.To); len(parted) == 0 {
			return t
		}
	}
	return 0
}

// Danceable returns the neighbours that can be danced, the easiest first: as charted before in another
// way, and those that need a turn of the couple last.
func Danceable(all []Neighbour) (list []Neighbour) {
	for _, n := range all {
		if n.Turn != 0 || len(n.Parted) == 0 {
			list = append(list, n)
		}
	}
	slices.SortStableFunc(list, func(a, b Neighbour) int {
		return cmp.Or(cmp.Compare(a.effort(), b.effort()), cmp.Compare(a.Figure.Rank(), b.Figure.Rank()))
	})
	return list
}

// effort orders neighbours by how usual it is to dance them there.
func (n *Neighbour) effort() int {
	switch {
	case n.Turn != 0:
		return 2
	case n.Way != "" || n.Other != "":
		return 1
	}
	return 0
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
