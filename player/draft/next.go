package draft

import (
	"cmp"
	"slices"

	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
)

// Next is a figure, or a part of it that the trade dances by itself, as it would be danced after a line of
// the order.
type Next struct {
	Figure   *routine.Figure
	From, To int    // its rows
	Named    string // what the part is called; "" if it has no name
	Why      string // it can't be danced there; "" if it can
	Apart    string // what comes after it in the order can't be danced then; "" if it can
}

// Line returns n as a line of an order.
func (n *Next) Line() routine.Line {
	l := routine.Line{Name: n.Figure.Name}
	if n.To-n.From < len(n.Figure.Rows) {
		l.Part = routine.Steps(n.From, n.To)
	}
	return l
}

// Length returns how long it lasts.
func (n *Next) Length() routine.Beats { return n.Figure.Length(n.From, n.To) }

// Offer is lines to put into the order, and why.
type Offer struct {
	After    int // -1 is before the first
	Lines    []routine.Line
	Why      string
	Replaces int // how many of the lines that follow they take the place of
}

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
	figs := slices.Clone(d.Score.Figures)
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

// place is where figures are put in.
type place struct {
	from  []routine.Outcome // after each way to dance the line before
	after *routine.Passage  // what is danced next; nil for nothing
}

// placeAfter returns the place after a line; -1 is the start.
func (d Draft) placeAfter(line int) place {
	s, p := d.Score, -1
	if line >= 0 {
		p = d.Passage(line)
	}
	var at place
	if p+1 < len(s.Passages) && (line < 0 || p >= 0) {
		at.after = &s.Passages[p+1]
	}
	if p < 0 {
		from := routine.Outcome{}
		if s.Faces != nil {
			from = routine.Opening(*s.Faces)
		}
		at.from = []routine.Outcome{from}
		return at
	}
	at.from = []routine.Outcome{s.After(p)}
	last := &s.Passages[p]
	if p == 0 || s.Items[last.Item].Corner {
		return at
	}
	for _, way := range last.Figure.PartWays(last.From, last.To) {
		if end, _, parted := s.After(p-1).ThenPart(s.Dance, way, last.From, last.To); len(parted) == 0 && !slices.Contains(at.from, end) {
			at.from = append(at.from, end)
		}
	}
	return at
}

// Next judges each figure of the dance, and its parts, as the one danced after a line of the order, from easy to hard: those
// that can be danced there, those that part what follows, and those that can't. -1 is before the first line.
func (d Draft) Next(line int) []Next {
	at := d.placeAfter(line)
	var list []Next
	for _, fig := range d.figures() {
		list = append(list, d.judge(at, Next{Figure: fig, To: len(fig.Rows)}))
		for _, part := range fig.Parts {
			list = append(list, d.judge(at, Next{Figure: fig, From: part.From, To: part.To, Named: part.Name}))
		}
	}
	rank := func(n Next) int {
		switch {
		case n.Why != "":
			return 2
		case n.Apart != "":
			return 1
		}
		return 0
	}
	slices.SortStableFunc(list, func(a, b Next) int { return cmp.Compare(rank(a), rank(b)) })
	return list
}

// judge returns n with what keeps it from being danced.
func (d Draft) judge(at place, n Next) Next {
	for _, from := range at.from {
		for _, way := range n.Figure.PartWays(n.From, n.To) {
			end, _, parted := from.ThenPart(d.Score.Dance, way, n.From, n.To)
			if len(parted) > 0 {
				n.Why = cmp.Or(n.Why, parted[0].Message)
				continue
			}
			apart := d.apart(end, at.after)
			if apart == "" {
				n.Why, n.Apart = "", ""
				return n
			}
			n.Apart = cmp.Or(n.Apart, apart)
		}
	}
	if n.Apart != "" {
		n.Why = ""
	}
	return n
}

// apart says why what follows can't be danced from an outcome; "" if it can, or nothing follows.
func (d Draft) apart(from routine.Outcome, p *routine.Passage) (why string) {
	if p == nil {
		return ""
	}
	for _, way := range p.Figure.PartWays(p.From, p.To) {
		_, _, parted := from.ThenPart(d.Score.Dance, way, p.From, p.To)
		if len(parted) == 0 {
			return ""
		}
		why = cmp.Or(why, parted[0].Message)
	}
	return why
}

// mostLinks is how many links are offered.
const mostLinks = 6

// Links returns what can be danced from a line up to and with a figure or, if that is nil, between the line
// and the one after it: the shortest first, the easiest first among those. It returns none if nothing leads
// there, or nothing is needed.
func (d Draft) Links(line int, to *Next) (offers []Offer) {
	p := d.Passage(line)
	if p < 0 {
		return nil
	}
	s := d.Score
	last := &s.Passages[p]
	j := choreography.Join{Dance: s.Dance, Before: s.Items[last.Item], From: s.After(p)}
	switch {
	case to != nil:
		j.Next = routine.Whole(to.Figure)
		j.Next.From, j.Next.To = to.From, to.To
	case p+1 < len(s.Passages):
		j.Next = s.Items[s.Passages[p+1].Item]
	default:
		return nil
	}
	for _, figs := range j.Link(d.figures(), mostLinks) {
		if len(figs) > 0 {
			o := Offer{After: line, Lines: linesOf(figs), Why: lengthOf(figs, s.Dance)}
			if to != nil {
				o.Lines = append(o.Lines, to.Line())
			}
			offers = append(offers, o)
		}
	}
	return offers
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
