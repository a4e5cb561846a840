package choreography

import (
	"slices"

	"dance.example/slowquick/routine"
)

// What a plan is worth, in units in which a figure not danced yet is worth one.
const (
	spread        = 1.6 // how far chance goes
	asBefore      = 10  // as in the section that comes back
	fromSection   = 2   // a figure of it
	known         = 1   // any that was danced
	tooMany       = 3   // one more figure than a class keeps
	inSet         = 0.4
	unusualWay    = 0.5
	linking       = 1   // shorter than a figure; more after others
	inPart        = 0.8 // a part of a figure
	unlisted      = 1.2 // a figure that none of the dance's sequences names
	standing      = 1.2 // a dance that travels, and a figure that does not
	repeated      = 0.8
	wished        = 3
	elsewhere     = 0.3 // in each routine found so far; up to mostElsewhere
	mostElsewhere = 2
)

// cost says how little a move suits a section, of which before was danced already.
func (c *composer) cost(e *edge, s *section, before recalled) float64 {
	cost := c.novelty(e, s, before)
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
	if c.listed != nil && !c.listed[e.move.first().figure] {
		cost += unlisted
	}
	cost += share.Float() / c.share.Float()
	if beats < c.figure {
		cost += linking * float64(1+c.links())
	}
	if e.move.set {
		cost -= inSet
	}
	if c.dance.Travels && !facesWall(c.dance) && e.goes.by.X < travelling {
		cost += standing
		if c.mustCorner() {
			cost += standing
		}
	}
	if c.repeats(e.move) {
		cost += repeated
	}
	return cost + min(mostElsewhere, elsewhere*float64(c.met[e.move]))
}

// links returns how many moves shorter than a figure were danced last, besides the first: a walk or two leads on, more
// of them are no dance.
func (c *composer) links() (n int) {
	for i := len(c.steps) - 1; i >= 0 && c.steps[i].takes < c.figure; i-- {
		n++
	}
	return max(0, n-1)
}

// repeats reports whether a move was just danced, or would be danced in turns with another.
func (c *composer) repeats(m *move) bool {
	n := len(c.steps)
	return n > 0 && c.steps[n-1].move == m || n > 2 && c.steps[n-2].move == m && c.steps[n-3].move == c.steps[n-1].move
}

// novelty says how little a move suits a section for being new, or known.
func (c *composer) novelty(e *edge, s *section, before recalled) float64 {
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
		switch {
		case before.next() == e.move:
			return -asBefore
		case slices.Contains(before.first, e.move):
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

// recalled is what a section that comes back was when it was danced first, and how much of that is danced
// again already.
type recalled struct {
	first []*move
	again int
}

// next returns what comes next in the section as danced first; nil at its end.
func (r recalled) next() *move {
	if r.again == len(r.first) {
		return nil
	}
	return r.first[r.again]
}

// recall returns what is recalled of a section after some steps.
func recall(plan []section, steps []danceStep, s *section) (r recalled) {
	i := slices.IndexFunc(plan, func(first section) bool { return first.letter == s.letter })
	for j := range steps {
		switch step := &steps[j]; {
		case step.at >= s.from:
			r.dances(step.move)
		case step.at >= plan[i].from && step.at < plan[i].to:
			r.first = append(r.first, step.move)
		}
	}
	return r
}

// dances goes on past a move, if the rest has it.
func (r *recalled) dances(m *move) {
	if i := slices.Index(r.first[r.again:], m); i >= 0 {
		r.again += i + 1
	}
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
