package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/library"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
)

// beside asks what can be danced after or before a figure.
type beside struct {
	after, before string // a figure's name, or ""
	turn          string // how far the couple may turn before the first step, or ""

	all bool // say why others can't

	first      string // the figure's own name
	most       routine.Turn
	neighbours map[*routine.Figure]choreography.Neighbour
	order      []*routine.Figure // those that can be danced, the easiest first, then the others
}

func (b *beside) asked() bool { return b.after != "" || b.before != "" || b.turn != "" || b.all }

// besides finds the figure asked about in one of the chapters, and its neighbours. It returns that
// chapter alone.
func (a *app) besides(b *beside, chapters []*library.Chapter) ([]*library.Chapter, error) {
	name := b.after + b.before
	switch {
	case b.after != "" && b.before != "":
		return nil, outcome.Usage(errors.New("use --after or --before, not both"))
	case name == "" && b.turn != "":
		return nil, outcome.Usage(errors.New("--turn goes with --after or --before"))
	case name == "":
		return nil, outcome.Usage(errors.New("--all goes with --after or --before"))
	}
	if b.turn != "" {
		var ok bool
		if b.most, ok = routine.ParseAmount(b.turn); !ok {
			return nil, outcome.Usage(fmt.Errorf("--turn: %q is not an amount of turn; use 1/8, 1/4, 3/8 or 1/2", b.turn))
		}
	}
	c, figs, err := a.FiguresOfOneDance(chapters, []string{name})
	if err != nil {
		return nil, err
	}
	b.first = figs[0].Name
	ask := choreography.After
	if b.before != "" {
		ask = choreography.Before
	}
	b.neighbours = map[*routine.Figure]choreography.Neighbour{}
	all := ask(c.Dance, figs[0], c.Figures)
	for _, n := range all {
		b.neighbours[n.Figure] = n
	}
	for _, n := range append(choreography.Danceable(all), all...) {
		if !slices.Contains(b.order, n.Figure) {
			b.order = append(b.order, n.Figure)
		}
	}
	return []*library.Chapter{c}, nil
}

func (b *beside) join(fig *routine.Figure) *report.Join {
	if !b.asked() {
		return nil
	}
	n := b.neighbours[fig]
	e := &report.Join{Name: n.Name(), Way: n.Way, Other: n.Other, Danceable: len(n.Parted) == 0 || n.Turn != 0 && max(n.Turn, -n.Turn) <= b.most, Turn: n.Turn.String()}
	for _, f := range n.Parted {
		e.Why = append(e.Why, report.Cause{Code: f.Code, Message: f.Message})
	}
	return e
}

// sort puts figures in the order in which neighbours are listed.
func (b *beside) sort(figs []*routine.Figure) {
	slices.SortStableFunc(figs, func(x, y *routine.Figure) int {
		return cmp.Compare(slices.Index(b.order, x), slices.Index(b.order, y))
	})
}

// where says on which side of the figure the others are.
func (b *beside) where() string {
	if b.before != "" {
		return "before"
	}
	return "after"
}
