package choreography

import (
	"cmp"
	"iter"
	"math/rand/v2"
	"slices"

	"dance.example/slowquick/routine"
)

// try fills the plan in one way and reports whether it could.
func (c *composer) try(random *rand.Rand) bool {
	c.random, c.tried, c.faulty, c.steps, c.taken = random, 0, noStep, nil, map[*routine.Figure]routine.Beats{}
	return c.fill(c.start(), firstLane)
}

// start returns the place before the first figure.
func (c *composer) start() place {
	p := place{left: c.total()}
	if c.corners() {
		p.lane = firstLane.coarse()
	}
	return p
}

// toBoundary returns how much is left of the phrase when left is left of the routine.
func (c *composer) toBoundary(left routine.Beats) routine.Beats {
	if c.rules.phrase == 0 {
		return left
	}
	danced := c.total() - left
	return min(left, c.rules.phrase-danced%c.rules.phrase)
}

// onwardFrom yields what may be danced from a place.
func (c *composer) onwardFrom(from place) iter.Seq[*edge] {
	return func(yield func(*edge) bool) {
		most, begins := c.toBoundary(from.left), from.left == c.total()
		list := c.from(from.at)
		for i := range list {
			if e := &list[i]; e.takes <= most && (!begins || c.opener == nil || e.move == c.opener) && !yield(e) {
				return
			}
		}
	}
}

// after returns the place after a move, before a corner is taken; ok is false if it leads off the floor.
func (c *composer) after(from place, e *edge) (to place, ok bool) {
	to = place{e.to, from.left - e.takes, from.had | c.wish.includes(e.move), from.lane, from.came}
	if c.corners() {
		to.lane = from.lane.moved(e.goes.by).coarse()
		return to, to.lane.within(c.wish.Floor)
	}
	return to, true
}

func (c *composer) canFill(from place) bool {
	switch {
	case from.left < c.total() && c.closes(from) && !c.home(from.at):
		return false
	case from.left == 0:
		return from.had == c.wish.includesAll() && from.came == c.mustCorner()
	}
	spot := from.spot()
	known, ok := c.fills[spot]
	if ok {
		return known
	}
	for e := range c.onwardFrom(from) {
		to, ok := c.after(from, e)
		if !ok {
			continue
		}
		if c.canFill(to) || c.corners() && to.lane.nearCorner(c.wish.Floor) && c.canFill(c.afterCorner(to)) {
			c.fills[spot] = true
			return true
		}
	}
	c.fills[spot] = false
	return false
}

func (c *composer) afterCorner(p place) place {
	p.at = c.corner(p.at)
	p.lane = p.lane.turned(c.wish.Floor).coarse()
	p.came = p.came || c.mustCorner() && p.left > 0
	return p
}

// home reports whether the routine can begin again from an outcome, facing as it began if that matters.
func (c *composer) home(at int) bool {
	known, ok := c.homes[at]
	if ok {
		return known
	}
	starts, travels := c.outcomes[0].Faces(routine.Leader)
	faces, _ := c.outcomes[at].Faces(routine.Leader)
	can := !(c.dance.Travels && travels) || starts == faces
	can = can && slices.ContainsFunc(c.from(at), func(e edge) bool {
		return c.opener == nil || e.move == c.opener
	})
	c.homes[at] = can
	return can
}

// fill completes the routine from a place and reports whether it could.
func (c *composer) fill(from place, lane lane) bool {
	if c.rules.returns && (c.returned(c.steps)+from.left)*leastReturns < c.total() {
		return false
	}
	if from.left == 0 {
		return c.finished()
	}
	for _, e := range c.choices(from) {
		if !c.mayTake(&e) || !c.onTheFloor(&e) {
			continue
		}
		step := danceStep{edge: e, at: c.total() - from.left, lane: lane.moved(e.goes.by)}
		to, _ := c.after(from, &e)
		for _, corner := range c.cornersAfter(&step) {
			to := to
			step := step
			if corner {
				to = c.afterCorner(to)
				step.corner, step.lane = true, step.lane.turned(c.wish.Floor)
			}
			if c.corners() {
				to.lane = step.lane.coarse()
			}
			if !c.canFill(to) || c.closes(to) && !c.meetsOpening(&step) {
				continue
			}
			if c.tried++; c.tried > c.patience() {
				return false
			}
			c.take(&step, +1)
			if c.fill(to, step.lane) {
				return true
			}
			c.take(&step, -1)
			if c.faulty < len(c.steps) {
				return false
			}
			c.faulty = noStep
		}
	}
	return false
}

// closes reports whether the couple should be where the routine can begin again.
func (c *composer) closes(at place) bool {
	if at.left == 0 {
		return c.rules.again
	}
	return c.rules.unit > 0 && (c.total()-at.left)%c.rules.unit == 0
}

// meetsOpening reports whether the partners meet if the routine begins again after a step.
func (c *composer) meetsOpening(s *danceStep) bool {
	opening := s
	if len(c.steps) > 0 {
		opening = &c.steps[0]
	}
	return c.meet(join{s.danced[len(s.danced)-1], opening.danced[0], s.corner})
}

// patience returns how many moves are tried for a plan.
func (c *composer) patience() int {
	if c.corners() {
		return patience + onAFloor*c.wish.Bars
	}
	return patience + eachBar*c.wish.Bars
}

// take adds a step to the routine, or takes the last one away.
func (c *composer) take(s *danceStep, sign routine.Beats) {
	if sign > 0 {
		c.steps = append(c.steps, *s)
	} else {
		c.steps = c.steps[:len(c.steps)-1]
	}
	for _, p := range s.danced {
		c.taken[p.figure] += sign * p.length()
	}
}

// cornersAfter returns whether a corner may be taken after a step, what is better first. It returns
// nothing if the step leaves the floor.
func (c *composer) cornersAfter(s *danceStep) []bool {
	switch {
	case !c.corners():
		return []bool{false}
	case !s.lane.within(c.wish.Floor):
		return nil
	case s.lane.nearCorner(c.wish.Floor):
		begun := c.wish.Faces != nil
		faces, known := c.outcomes[c.corner(s.to)].Faces(routine.Leader)
		asBegun := begun && known && faces == c.wish.Faces.Direction()
		return []bool{asBegun, !asBegun}
	}
	return []bool{false}
}

// mayTake reports whether the figures of a move have enough of their share left, it was not just danced inARow
// times, it is not the rest of a figure that could have been danced whole, and it does not go back up the room.
func (c *composer) mayTake(e *edge) bool {
	if c.goesBack(e) {
		return false
	}
	if n := len(c.steps); n > 0 {
		if last := &c.steps[n-1]; !last.corner && last.danced[len(last.danced)-1].goesOn(&e.danced[0]) {
			return false
		}
	}
	row := 0
	for n := len(c.steps) - 1; n >= 0 && c.steps[n].move == e.move; n-- {
		row++
	}
	if row >= inARow && !c.rules.anyRow {
		return false
	}
	takes := map[*routine.Figure]routine.Beats{}
	for _, p := range e.danced {
		takes[p.figure] += p.length()
	}
	for _, p := range e.danced {
		if most := max(c.share, min(2*p.way.Length(0, len(p.way.Rows)), c.total()/2), takes[p.figure]); c.taken[p.figure]+takes[p.figure] > most {
			return false
		}
	}
	return true
}

// goesBack reports whether a move takes the couple against the line of dance, and no chart says that it does so by
// nature. A box that turns may go back as far as it just came.
func (c *composer) goesBack(e *edge) bool {
	aligned := func(p piece) bool { return p.figure.Starts.Facing[routine.Leader].Stand != routine.NoStand }
	if !c.dance.Travels || facesWall(c.dance) || slices.ContainsFunc(e.danced, aligned) {
		return false
	}
	way := e.goes.by.X
	for n := len(c.steps) - 1; n >= 0 && c.steps[n].move == e.move && !c.steps[n].corner; n-- {
		way += c.steps[n].goes.by.X
	}
	return way < -leastBack
}

// onTheFloor reports whether the partners still meet if a move is danced next.
func (c *composer) onTheFloor(e *edge) bool {
	var before *piece
	corner := false
	if n := len(c.steps); n > 0 {
		last := &c.steps[n-1]
		before, corner = &last.danced[len(last.danced)-1], last.corner
	}
	for i := range e.danced {
		if before != nil && !c.meet(join{*before, e.danced[i], corner}) {
			return false
		}
		before, corner = &e.danced[i], false
	}
	return true
}

// finished reports whether the routine can be danced as its sheet will have it.
func (c *composer) finished() bool {
	step, ok := c.routine().faulty(c.dance, c.wish)
	if ok {
		c.tried += wholeFails
		c.faulty = step
	}
	return !ok
}

// choices returns what may be danced from a place, what the plan prefers first.
func (c *composer) choices(from place) []edge {
	type choice struct {
		*edge
		cost float64
	}
	var ranked []choice
	s := at(c.plan, c.total()-from.left)
	before := recall(c.plan, c.steps, s)
	for e := range c.onwardFrom(from) {
		ranked = append(ranked, choice{e, c.cost(e, s, before) + spread*c.random.Float64()})
	}
	slices.SortStableFunc(ranked, func(a, b choice) int { return cmp.Compare(a.cost, b.cost) })
	list := make([]edge, len(ranked))
	for i := range ranked {
		list[i] = *ranked[i].edge
	}
	return list
}
