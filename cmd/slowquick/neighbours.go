package main

import (
	"errors"
	"fmt"
	"strings"
	"text/tabwriter"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
)

// beside asks what can be danced after or before a figure.
type beside struct {
	after, before string // a figure's name, or ""
	turn          string // how far the couple may turn before the first step, or ""

	first      string // the figure's own name
	most       routine.Turn
	neighbours map[*routine.Figure]choreography.Neighbour
}

func (b *beside) asked() bool { return b.after != "" || b.before != "" || b.turn != "" }

// besides finds the figure asked about in one of the chapters, and its neighbours. It returns that
// chapter alone.
func (a *app) besides(b *beside, chapters []*library.Chapter) ([]*library.Chapter, error) {
	name := b.after + b.before
	switch {
	case b.after != "" && b.before != "":
		return nil, usage(errors.New("use --after or --before, not both"))
	case name == "":
		return nil, usage(errors.New("--turn goes with --after or --before"))
	}
	if b.turn != "" {
		var ok bool
		if b.most, ok = routine.ParseAmount(b.turn); !ok {
			return nil, usage(fmt.Errorf("--turn: %q is not an amount of turn; use 1/8, 1/4, 3/8 or 1/2", b.turn))
		}
	}
	c, figs, err := a.figuresOfOneDance(chapters, []string{name})
	if err != nil {
		return nil, err
	}
	b.first = figs[0].Name
	ask := choreography.After
	if b.before != "" {
		ask = choreography.Before
	}
	b.neighbours = map[*routine.Figure]choreography.Neighbour{}
	for _, n := range ask(c.Dance, figs[0], c.Figures) {
		b.neighbours[n.Figure] = n
	}
	return []*library.Chapter{c}, nil
}

// joinEntry says whether a figure can be danced beside another.
type joinEntry struct {
	Danceable bool        `json:"danceable"`
	Turn      string      `json:"turn,omitempty"` // that would make it danceable, before the first step
	Why       []joinCause `json:"why,omitempty"`
}

type joinCause struct {
	Code    routine.Code `json:"code"`
	Message string       `json:"message"`
}

func (b *beside) join(fig *routine.Figure) *joinEntry {
	if !b.asked() {
		return nil
	}
	n := b.neighbours[fig]
	e := &joinEntry{Danceable: len(n.Parted) == 0 || n.Turn != 0 && max(n.Turn, -n.Turn) <= b.most, Turn: n.Turn.String()}
	for _, f := range n.Parted {
		e.Why = append(e.Why, joinCause{f.Code, f.Message})
	}
	return e
}

// printNeighbours prints what can be danced beside a figure, then why the rest can't.
func (a *app) printNeighbours(b *beside, list []figureEntry) {
	where := "after " + b.first
	if b.before != "" {
		where = "before " + b.first
	}
	var can, cannot []figureEntry
	for _, e := range list {
		if e.Join.Danceable {
			can = append(can, e)
		} else {
			cannot = append(cannot, e)
		}
	}
	w := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "Can be danced %s:\n", where)
	for _, e := range can {
		fmt.Fprintf(w, "  %s\tlevel %d\tends %s\t%s\n", e.Name, e.Level, e.Ends, beforeFirst(e.Join.Turn))
	}
	if len(can) == 0 {
		fmt.Fprintln(w, "  none")
	}
	_ = w.Flush() // a.out keeps its error
	if len(cannot) > 0 {
		fmt.Fprintf(a.out, "\nCan't be danced %s:\n", where)
	}
	for _, e := range cannot {
		why := e.Join.Why[0].Message
		for _, first := range []string{b.first, e.Name} { // the heading or the line says it already
			why = strings.TrimPrefix(why, "after "+first+" ")
		}
		fmt.Fprintln(a.out, a.wrapped(e.Name+": "+why, "  ", "    "))
	}
}

func beforeFirst(turn string) string {
	if turn == "" {
		return ""
	}
	return "after turning " + turn + " before the first step"
}

// figureEntry is a figure as programs read it.
type figureEntry struct {
	library.Entry
	Join *joinEntry `json:"join,omitempty"` // with the figure that was asked about
}
