package routine

import (
	"cmp"
	"slices"
)

// mostStates bounds the states that are followed through an order.
const mostStates = 64

// misfit is what a join that doesn't fit weighs against unusual ways to dance.
const misfit = 1_000_000

// state is where an order may have led the couple, and the cheapest way there.
type state struct {
	couple couple
	cost   int
	way    *Figure // how the latest passage was danced; nil before the first
	before *state
}

// chooser chooses how each passage of an order is danced, so that as many joins as possible fit, and as few passages as
// possible are danced otherwise than charted.
type chooser struct {
	sheet  *Sheet
	states []*state
	known  bool // whether what was danced last is known
	danced int  // how many passages there are
}

// effectOf returns what the item does when its figure is danced in a way.
func (i *Item) effectOf(way *Figure) effect {
	e := way.effect(i.From, i.To)
	if i.Ends != 0 {
		e.after.positions, e.stays = i.Ends, false
	}
	switch {
	case i.Hands != 0:
		e.after.hands, e.grips = i.Hands, false
		e.hands = slices.Clone(e.hands)
		e.hands[len(e.hands)-1] = i.Hands
	case i.Ends.byBody():
		e.after.hands, e.grips = 0, false
	}
	return e
}

// item follows the states through an item.
func (c *chooser) item(item *Item) {
	if item.Figure == nil {
		c.known = false
		return
	}
	ways := item.Figure.danceable(item.From, item.To)
	effects := make([]effect, len(ways))
	for i, way := range ways {
		effects[i] = item.effectOf(way)
	}
	if c.states == nil {
		c.states = []*state{{}}
	}
	for round := range item.Times {
		c.passage(item, ways, effects, item.Corner && round == item.Times-1)
	}
}

// passage follows the states through one passage.
func (c *chooser) passage(item *Item, ways []*Figure, effects []effect, corner bool) {
	var next []*state
	reached := map[couple]int{}
	for _, s := range c.states {
		for i, way := range ways {
			after, cost := c.after(s, item, &effects[i])
			if corner {
				after.facings = after.facings.turned(Leader, CornerTurn).turned(Follower, CornerTurn)
			}
			cost += s.cost + way.unusual()
			k, ok := reached[after]
			switch {
			case !ok:
				reached[after] = len(next)
				next = append(next, &state{after, cost, way, s})
			case cost < next[k].cost:
				*next[k] = state{after, cost, way, s}
			}
		}
	}
	if len(next) > mostStates {
		slices.SortStableFunc(next, func(a, b *state) int { return cmp.Compare(a.cost, b.cost) })
		next = next[:mostStates]
	}
	c.states, c.known = next, true
	c.danced++
}

// after returns the couple after a passage, and what its join weighs.
func (c *chooser) after(s *state, item *Item, e *effect) (after couple, cost int) {
	now := e.needs
	switch {
	case c.known:
		m := meet(s.couple, e)
		now = m.agreed
		for _, wrong := range []bool{m.feet[Leader], m.feet[Follower], m.position, m.hands, m.direction} {
			if wrong {
				cost += misfit
			}
		}
	case c.danced == 0:
		var ok bool
		if now, ok = c.sheet.begins(e); !ok {
			cost += misfit
		}
	}
	after = e.apply(now)
	if item.Ends != 0 && after.facings.apart(item.Ends.difference()) == 0 {
		after.positions, after.facings = AnyPosition, anyFacings
		cost += misfit
	}
	return after, cost
}

// begins returns the couple that begins a sheet; ok is false if the first figure can't begin as the sheet faces.
func (s *Sheet) begins(e *effect) (now couple, ok bool) {
	now = e.needs
	if s.Faces == nil {
		return now, true
	}
	from := anyFacings.where(Leader, setOf(int(s.Faces.Direction())))
	if now.facings&from == 0 {
		return now, false
	}
	now.facings &= from
	return now, true
}

// chosen returns the way in which each passage is danced.
func (c *chooser) chosen() []*Figure {
	list := make([]*Figure, c.danced)
	if c.danced == 0 {
		return nil
	}
	at := slices.MinFunc(c.states, func(a, b *state) int { return cmp.Compare(a.cost, b.cost) })
	for i := len(list) - 1; i >= 0; i, at = i-1, at.before {
		list[i] = at.way
	}
	return list
}
