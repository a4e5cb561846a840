package draft

import (
	"fmt"
	"slices"

	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
)

// mostLinks is how many links are offered.
const mostLinks = 6

// Links returns what links a line with the one danced before it if that join is amiss, or else with the one
// danced after it: the shortest first, the easiest first among those. What it says is where they go, as in
// "between Fan and Hockey stick"; if there are none, why.
func (d Draft) Links(line int) (offers []Offer, says string) {
	if line < 0 {
		return nil, "nothing comes before the first line"
	}
	if d.partedBefore(line) {
		for _, item := range d.danced[line].begins {
			if d.parted(item) {
				return d.linksBefore(item)
			}
		}
		return nil, d.Order.Line(line).Name + " can't follow itself: write it in two lines to put something between"
	}
	return d.linksAfter(line)
}

// linksAfter returns what links a line with what is danced after it, as Links does.
func (d Draft) linksAfter(line int) (offers []Offer, says string) {
	ends := d.danced[line].ends
	if len(ends) == 0 {
		return nil, "this line isn't danced"
	}
	for _, item := range ends {
		if d.parted(item + 1) {
			return d.linksBefore(item + 1)
		}
	}
	return d.linksBefore(ends[0] + 1)
}

// partedBefore reports whether something is wrong with how a line joins what is danced before it.
func (d Draft) partedBefore(line int) bool {
	lines, _ := d.Objections()
	return slices.ContainsFunc(lines[line], func(f routine.Finding) bool {
		return isJoin(f)
	})
}

// linksBefore returns what links an item with the one before it, as Links does.
func (d Draft) linksBefore(item int) (offers []Offer, says string) {
	s := d.Score
	before, after := d.last(item-1), d.first(item)
	switch {
	case item == 0:
		return nil, "nothing is danced before this line"
	case item >= len(s.Items):
		return nil, "nothing comes after this line yet"
	case before < 0:
		return nil, "it isn't known how " + s.Items[item-1].Name + " ends"
	case after < 0:
		return nil, "it isn't known how " + s.Items[item].Name + " begins"
	case !d.parted(item):
		return nil, fmt.Sprintf("nothing is missing: %s can follow %s", s.Items[item].Name, s.Items[item-1].Name)
	}
	from, to := s.Items[item-1].Name, s.Items[item].Name
	line := d.lineBetween(item)
	j := choreography.Join{Dance: s.Dance, Before: s.Items[item-1], Next: s.Items[item], From: s.After(before)}
	places := d.placesAfter(line)
	for _, figs := range j.Link(d.matching(), mostLinks) {
		if len(figs) > 0 && d.allFollow(places, nextsOf(figs), true) {
			offers = append(offers, Offer{After: line, Lines: linesOf(figs), Why: lengthOf(figs, s.Dance)})
		}
	}
	if len(offers) > 0 {
		return offers, "between " + from + " and " + to
	}
	return nil, fmt.Sprintf("nothing leads from %s to %s: %s", from, to, d.apart(s.After(before), after))
}

// lineBetween returns the line after which a figure is put in that is to be danced before an item and nowhere
// else, if there is one: of two that follow each other in the order or in a part of it.
func (d Draft) lineBetween(item int) int {
	for _, before := range d.Score.Items[item-1].Closes {
		for _, after := range d.Score.Items[item].Opens {
			line := d.Order.At(before.Start.Offset)
			if line < 0 || line+1 != d.Order.At(after.Start.Offset) {
				continue
			}
			if _, first := d.Order.Part(line + 1); !first {
				return line
			}
		}
	}
	return d.Order.At(d.Score.Items[item-1].At.Start.Offset)
}

// LinksTo returns what leads from a line to a figure, and the figure, as Links orders it.
func (d Draft) LinksTo(line int, to *Next) (offers []Offer) {
	if line < 0 {
		return nil
	}
	places := d.placesAfter(line)
	for _, item := range d.danced[line].ends {
		before := d.last(item)
		if before < 0 || !slices.ContainsFunc(places, func(at place) bool { why, _ := d.judgeAt(&at, to); return why != "" }) {
			continue
		}
		j := choreography.Join{Dance: d.Score.Dance, Before: d.Score.Items[item], From: d.Score.After(before), Next: routine.Whole(to.Figure)}
		j.Next.From, j.Next.To = to.From, to.To
		for _, figs := range j.Link(d.matching(), mostLinks) {
			if len(figs) > 0 && d.allFollow(places, append(nextsOf(figs), *to), false) {
				offers = append(offers, Offer{After: line, Lines: append(linesOf(figs), to.Line()), Why: lengthOf(figs, d.Score.Dance)})
			}
		}
		if len(offers) > 0 {
			return offers
		}
	}
	return nil
}

// allFollow reports whether figures can be danced one after the other at all of some places and, if on is
// set, what comes after them too.
func (d Draft) allFollow(places []place, figs []Next, on bool) bool {
	for _, at := range places {
		from := at.from
		for _, n := range figs {
			from, _ = d.then(from, &routine.Passage{Figure: n.Figure, From: n.From, To: n.To})
		}
		if !slices.ContainsFunc(from, func(end routine.Outcome) bool { return !on || d.apart(end, at.next) == "" }) {
			return false
		}
	}
	return true
}

// nextsOf returns whole figures as they would be danced.
func nextsOf(figs []*routine.Figure) (list []Next) {
	for _, fig := range figs {
		list = append(list, Next{Figure: fig, To: len(fig.Rows)})
	}
	return list
}
