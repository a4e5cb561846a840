package choreography

import (
	"math"
	"slices"

	"dance.example/slowquick/routine"
)

// What a teacher would like, and what earns nothing. Common practice, estimated.
const (
	wellTravelled = 60 // centimetres a bar along the line of dance
	inSets        = 0.4
	returning     = 0.25
	ofSequences   = 0.6
	cornerEach    = 20  // bars, on a floor
	tooMuchAgain  = 0.2 // more than the sections that come back
)

// judge returns the score of a routine.
func (c *composer) judge(r *Routine) (s Score) {
	d, w := c.dance, c.wish
	length := c.total().Float()
	var sets, listed, links, travel, corners, planned float64
	for i := range r.plan {
		if s := &r.plan[i]; s.again {
			planned += (s.to - s.from).Float() / length
		}
	}
	for i := range r.steps {
		step := &r.steps[i]
		travel += step.goes.by.X
		if step.corner {
			corners++
		}
		if step.move.set || len(step.danced) > 1 || r.within(i) {
			sets += step.takes.Float() / length
		}
		for j := range step.danced {
			p := &step.danced[j]
			if !p.usual() || !p.whole() && !step.move.set || p.length() < c.figure {
				links++
			}
			if c.listed[p.figure] {
				listed += p.length().Float() / length
			}
		}
	}
	n, back := different(r.steps), c.returned(r.steps).Float()/length
	least, most := 2+w.Bars/8, mostFigures(w.Bars)
	s.add("variety", 1-0.2*float64(max(0, least-n, n-most)), "%s in %s, counting a set as one", routine.Plural(n, "figure"), routine.Plural(w.Bars, "bar"))
	s.add("opening", 1-0.2*float64(c.usual), "%s", r.Items[0].Name)
	if slices.ContainsFunc(c.moves, func(m move) bool { return m.set }) {
		s.add("sets", sets/inSets, "%.0f %% is danced in sets", 100*sets)
	}
	if c.listed != nil {
		s.add("usual", listed/ofSequences, "%.0f %% is taken from the dance's usual sequences", 100*listed)
	}
	s.add("return", min(back/returning, 1-2*max(0, back-planned-tooMuchAgain)), "%.0f %% repeats what was danced before", 100*back)
	if as, again := r.asBefore(); again > 0 {
		share := as.Float() / again.Float()
		s.add("theme", share, "%.0f %% of what comes back is danced as at first", 100*share)
	}
	if d.Travels && !facesWall(d) {
		s.add("travel", travel/wellTravelled/float64(w.Bars), "%.1f m along the line of dance", travel/100)
	}
	if c.corners() && !facesWall(d) {
		s.add("corners", corners/math.Max(1, math.Floor(float64(w.Bars)/cornerEach)), "%s in %s", routine.Plural(int(corners), "corner"), routine.Plural(w.Bars, "bar"))
	}
	s.add("ease", 1-links/float64(len(r.Items)), "%d of %s only link others, or are danced in an unusual way", int(links), routine.Plural(len(r.Items), "item"))
	if len(r.taught) > 0 {
		s.add("new", 1-0.2*float64(max(0, len(r.taught)-1)), "%s", routine.Plural(len(r.taught), "new figure"))
	}
	return s
}

// within reports whether a step begins or ends in a hold that the routine must leave again.
func (r *Routine) within(i int) bool {
	for j := range r.steps[i].danced {
		fig := r.steps[i].danced[j].figure
		if !settles(fig) || usualHold(fig)&ordinary == 0 {
			return true
		}
	}
	return false
}
