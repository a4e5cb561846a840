package draft

import (
	"fmt"
	"slices"

	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
)

// How many ways of each kind are suggested.
const mostSuggested = 3

// Suggest returns ways to go on from a line, each with its reason: what leads to the next line if that can't
// be danced, what fills the phrase, another figure in the line's place, and what makes a routine that ends
// there one that can be repeated.
func (d Draft) Suggest(line int) (offers []Offer) {
	places := d.placesAfter(line)
	if line >= 0 && slices.ContainsFunc(places, func(at place) bool { return d.apart(at.from[0], at.next) != "" }) {
		links, _ := d.linksAfter(line)
		for _, o := range links[:min(len(links), mostSuggested)] {
			o.Why = "so that the next line can be danced · " + o.Why
			offers = append(offers, o)
		}
	}
	if len(places) == 1 && places[0].next < 0 {
		offers = append(offers, d.toPhrase(line, &places[0])...)
		offers = append(offers, d.toRepeat(line)...)
	}
	return append(offers, d.instead(line)...)
}

// known returns the figures of the order, and those that are no harder.
func (d Draft) known() []*routine.Figure {
	hardest := 1
	danced := map[string]bool{}
	for _, p := range d.Score.Passages {
		fig := d.Score.Items[p.Item].Figure
		hardest = max(hardest, fig.Level)
		danced[fig.Name] = true
	}
	return slices.DeleteFunc(d.matching(), func(fig *routine.Figure) bool { return fig.Rank() > hardest && !danced[fig.Name] })
}

// toPhrase suggests what fills the phrase.
func (d Draft) toPhrase(line int, at *place) (offers []Offer) {
	s := d.Score
	phrase := routine.Beats(s.Dance.PhraseBars) * s.Dance.Metre.Bar()
	if phrase == 0 {
		return nil
	}
	left := phrase - (s.End-s.Start)%phrase
	for _, figs := range choreography.GoOn(s.Dance, at.from, d.known(), left, mostSuggested) {
		offers = append(offers, Offer{After: line, Lines: linesOf(figs), Why: "to the end of the phrase · " + lengthOf(figs, s.Dance)})
	}
	return offers
}

// toRepeat suggests what leads back to the first figure.
func (d Draft) toRepeat(line int) (offers []Offer) {
	s := d.Score
	if len(s.Passages) == 0 || line < 0 || d.Passage(line) != len(s.Passages)-1 {
		return nil
	}
	first := &s.Passages[0]
	last := &s.Passages[len(s.Passages)-1]
	j := choreography.Join{Dance: s.Dance, Before: s.Items[last.Item], Next: s.Items[first.Item], From: s.After(len(s.Passages) - 1)}
	for _, figs := range j.Link(d.known(), mostSuggested) {
		if len(figs) > 0 {
			offers = append(offers, Offer{After: line, Lines: linesOf(figs), Why: "then it can be repeated · " + lengthOf(figs, s.Dance)})
		}
	}
	return offers
}

// instead suggests figures of the same length in a line's place.
func (d Draft) instead(line int) (offers []Offer) {
	if line < 0 || d.Order.Line(line).Times > 1 {
		return nil
	}
	p := d.Passage(line)
	if p < 0 || d.Order.At(d.Score.Items[d.Score.Passages[p].Item].At.Start.Offset) != line { // a part
		return nil
	}
	here := &d.Score.Passages[p]
	places := d.placesOf(line)
	length := here.Figure.Length(here.From, here.To)
	for _, fig := range d.known() {
		if fig == here.Figure.Charted() || fig.Length(0, len(fig.Rows)) != length {
			continue
		}
		if n := d.judge(places, Next{Figure: fig, To: len(fig.Rows)}); n.Why == "" && n.Apart == "" && len(offers) < mostSuggested {
			offers = append(offers, Offer{After: line - 1, Replaces: 1, Lines: linesOf([]*routine.Figure{fig}), Why: fmt.Sprintf("in place of %s", d.Order.Line(line).Name)})
		}
	}
	return offers
}
