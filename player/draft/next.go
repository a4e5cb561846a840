package draft

import (
	"cmp"
	"fmt"
	"slices"

	"dance.example/slowquick/routine"
)

// Put returns the text with an offer put in, for Change.
func (d Draft) Put(offer Offer) ([]byte, error) {
	text, order := d.Text(), d.Order
	edited := func(next []byte) (err error) {
		text = next
		order, err = routine.EditOrder(d.Sheet.Name, text, d.shelf.Library)
		return err
	}
	if len(offer.Lines) == 1 && offer.Replaces == 1 { // its settings stay
		return order.Write(offer.After+1, offer.Lines[0]), nil
	}
	for range offer.Replaces {
		if err := edited(order.Remove(offer.After + 1)); err != nil {
			return nil, err
		}
	}
	for i, l := range offer.Lines {
		if err := edited(order.Insert(offer.After+1+i, l)); err != nil {
			return nil, err
		}
	}
	return text, nil
}

// figures returns the sheet's own figures and the library's of its dance, from easy to hard.
func (d Draft) figures() []*routine.Figure {
	figs := slices.DeleteFunc(slices.Clone(d.Score.Figures), func(fig *routine.Figure) bool { return len(fig.Rows) == 0 })
	if c, ok := d.shelf.Library.Chapter(d.Score.Dance.Name); ok {
		for _, fig := range c.Figures {
			if !slices.ContainsFunc(d.Score.Figures, func(own *routine.Figure) bool { return routine.Key(own.Name) == routine.Key(fig.Name) }) {
				figs = append(figs, fig)
			}
		}
	}
	slices.SortStableFunc(figs, func(a, b *routine.Figure) int { return cmp.Compare(a.Rank(), b.Rank()) })
	return figs
}

// mixes says with which figure of the order one of a family doesn't go; "" if it goes with all.
func (d Draft) mixes(f routine.Family) string {
	if f == routine.AnyFamily {
		return ""
	}
	for _, p := range d.Score.Passages {
		fig := d.Score.Items[p.Item].Figure
		if other := d.Score.FamilyOf(fig); other != routine.AnyFamily && other != f && other.Timing() == f.Timing() {
			return fmt.Sprintf("%s is %s, this is %s", fig.Name, other, f)
		}
	}
	return ""
}

// matching returns the figures that go with those of the order, from easy to hard.
func (d Draft) matching() []*routine.Figure {
	return slices.DeleteFunc(d.figures(), func(fig *routine.Figure) bool { return d.mixes(d.Score.FamilyOf(fig)) != "" })
}

// Next judges what can be danced after a line of the order: its parts, each figure of the dance, and the figure's parts,
// from easy to hard. First come those that can be danced there, then those that part what follows, those of another family,
// and those that can't. -1 is before the first line.
func (d Draft) Next(line int) []Next {
	at := d.placesAfter(line)
	list := d.partsAfter(line)
	for _, fig := range d.figures() {
		family := d.Score.FamilyOf(fig)
		mixes := d.mixes(family)
		list = append(list, d.judge(at, Next{Figure: fig, To: len(fig.Rows), Family: family, Mixes: mixes}))
		for _, part := range fig.Parts {
			list = append(list, d.judge(at, Next{Figure: fig, From: part.From, To: part.To, Named: part.Name, Family: family, Mixes: mixes}))
		}
	}
	rank := func(n Next) int {
		switch {
		case n.Why != "":
			return 3
		case n.Mixes != "":
			return 2
		case n.Apart != "":
			return 1
		}
		return 0
	}
	slices.SortStableFunc(list, func(a, b Next) int { return cmp.Compare(rank(a), rank(b)) })
	return list
}

// judge returns n with what keeps it from being danced at one of the places where it would be.
func (d Draft) judge(at []place, n Next) Next {
	for i := range at {
		why, apart := d.judgeAt(&at[i], &n)
		n.Why, n.Apart = cmp.Or(n.Why, why), cmp.Or(n.Apart, apart)
	}
	if n.Why != "" {
		n.Apart = ""
	}
	return n
}

// judgeAt returns what keeps n from being danced at a place, and what parts that from what comes after it.
func (d Draft) judgeAt(at *place, n *Next) (why, apart string) {
	for _, from := range at.from {
		for _, way := range n.Figure.PartWays(n.From, n.To) {
			end, _, parted := from.ThenPart(d.Score.Dance, way, n.From, n.To)
			if len(parted) > 0 {
				why = cmp.Or(why, parted[0].Message)
				continue
			}
			next := d.apart(end, at.next)
			if next == "" {
				return "", ""
			}
			apart = cmp.Or(apart, next)
		}
	}
	if apart != "" {
		why = ""
	}
	return why, apart
}

func linesOf(figs []*routine.Figure) (lines []routine.Line) {
	for _, fig := range figs {
		if n := len(lines); n > 0 && lines[n-1].Name == fig.Name {
			lines[n-1].Times = max(lines[n-1].Times, 1) + 1
			continue
		}
		lines = append(lines, routine.Line{Name: fig.Name})
	}
	return lines
}

// lengthOf says how long figures are.
func lengthOf(figs []*routine.Figure, d *routine.Dance) string {
	var beats routine.Beats
	for _, fig := range figs {
		beats += fig.Length(0, len(fig.Rows))
	}
	return InBars(beats, d)
}

// InBars writes a length as dancers count it.
func InBars(length routine.Beats, d *routine.Dance) string {
	if bar := d.Metre.Bar(); bar > 0 && length%bar == 0 {
		return routine.Plural(int(length/bar), "bar")
	}
	return length.InBeats()
}
