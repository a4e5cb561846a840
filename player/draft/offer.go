package draft

import (
	"cmp"

	"dance.example/slowquick/routine"
)

// Next is a figure, or a part of it that the trade dances by itself, as it would be danced after a line of
// the order; or a part of the order.
type Next struct {
	Figure   *routine.Figure // of a part of the order the first
	From, To int             // its rows
	Named    string          // what the part is called; "" if it has no name
	Why      string          // it can't be danced there; "" if it can
	Apart    string          // what comes after it in the order can't be danced then; "" if it can
	Family   routine.Family
	Mixes    string // with a figure of the order that is of another family; "" if it doesn't

	Part   string // of the order; "" for a figure
	length routine.Beats
}

// Name returns what n is called.
func (n *Next) Name() string { return cmp.Or(n.Part, n.Figure.Name) }

// Names returns all that n may be called.
func (n *Next) Names() []string {
	if n.Part != "" {
		return []string{n.Part}
	}
	return append(n.Figure.Names(), n.Line().Part, n.Named)
}

// Line returns n as a line of an order.
func (n *Next) Line() routine.Line {
	if n.Part != "" {
		return routine.Line{Name: n.Part}
	}
	l := routine.Line{Name: n.Figure.Name}
	if n.To-n.From < len(n.Figure.Rows) {
		l.Part = routine.Steps(n.From, n.To)
	}
	return l
}

// Length returns how long it lasts.
func (n *Next) Length() routine.Beats {
	if n.Part != "" {
		return n.length
	}
	return n.Figure.Length(n.From, n.To)
}

// Offer is lines to put into the order, and why.
type Offer struct {
	After    int // -1 is before the first
	Lines    []routine.Line
	Why      string
	Replaces int // how many of the lines that follow they take the place of
}
