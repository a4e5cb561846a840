package choreography

import (
	"slices"

	"dance.example/slowquick/routine"
)

// What a plan is worth, in units in which a figure not danced yet is worth one.
const (
	spread      = 1.6 // how far chance goes
	asBefore    = 10  // as in the section that comes back
	fromSection = 2   // a figure of it
	known       = 1   // any that was danced
	tooMany     = 3   // one more figure than a class keeps
	inSet       = 0.4
	unusualWay  = 0.5
	linking     = 0.5 // shorter than a bar
	inPart      = 0.8 // a part of a figure
	standing    = 1.2 // a dance that travels, and a figure that does not
	repeated    = 0.8
	wished      = 3
)

// cost says how little a move suits the plan at a beat.
func (c *composer) cost(e *edge, danced routine.Beats) float64 {
	s := at(c.plan, danced)
	cost := c.novelty(e, s, danced)
	var beats, share routine.Beats
	for i := range e.danced {
		p := &e.danced[i]
		beats += p.length()
		share = max(share, c.taken[p.figure])
		if !p.usual() {
			cost += unusualWay
		}
		if !p.whole() {
			cost += inPart
		}
	}
	cost += share.Float() / c.share.Float()
	if beats < c.dance.Metre.Bar() {
		cost += linking
	}
	if e.move.set {
		cost -= inSet
	}
	if c.dance.Travels && !facesWall(c.dance) && e.goes.by.X < travelling {
		cost += standing
	}
	if n := len(c.steps); n > 0 && c.steps[n-1].move == e.move {
		cost += repeated
	}
	return cost
}

// novelty says how little a move suits a section for being new, or known.
func (c *composer) novelty(e *edge, s *section, danced routine.Beats) float64 {
	fresh := 0
	if slices.ContainsFunc(e.move.figures(), func(fig *routine.Figure) bool { return c.taken[fig] == 0 }) {
		fresh = 1
	}
	wish := c.wish.includes(e.move)
	for i := range c.steps {
		wish &^= c.wish.includes(c.steps[i].move)
	}
	if wish != 0 && !s.again {
		return -wished
	}
	if s.again {
		as, of := before(c.plan, c.steps, e.move, s, danced)
		switch {
		case as:
			return -asBefore
		case of:
			return -fromSection
		case fresh == 0:
			return -known
		}
		return float64(fresh)
	}
	switch {
	case fresh == 0:
		return 0
	case different(c.steps)+fresh > mostFigures(c.wish.Bars):
		return tooMany
	}
	return -1
}

// before reports whether a move, danced at a beat of a section, is among steps at this place of the section
// danced first, and whether it is anywhere in that.
func before(plan []section, steps []danceStep, m *move, s *section, danced routine.Beats) (as, of bool) {
	i := slices.IndexFunc(plan, func(first section) bool { return first.letter == s.letter })
	first := &plan[i]
	for j := range steps {
		if step := &steps[j]; step.at >= first.from && step.at < first.to && step.move == m {
			of = true
			as = as || step.at-first.from == danced-s.from
		}
	}
	return as, of
}

// different returns how many different moves there are; a set counts as one.
func different(steps []danceStep) int {
	met := map[*move]bool{}
	for i := range steps {
		met[steps[i].move] = true
	}
	return len(met)
}

// mostFigures is how many figures or sets a routine should have at most for a class to keep them. Common
// practice, estimated.
func mostFigures(bars int) int { return 4 + bars/6 }
