package routine

import (
	"cmp"
	"fmt"
	"strings"
)

// couple is what is known of both partners at one moment.
type couple struct {
	free      [2]feet // the feet that may be free
	positions PositionSet
	hands     HandsSet // 0 if not known
	facings   facings
}

// shown returns c for callers that need one foot for each partner; NoFoot where either may be free.
func (c *couple) shown() Couple {
	return Couple{Free: [2]Foot{c.free[0].only(), c.free[1].only()}, Positions: c.positions, Hands: c.hands}
}

// effect is what a figure, or some of its rows, requires of the couple beforehand, and the couple it
// leaves.
type effect struct {
	needs couple
	turns [2]Turn
	// after is the couple at the end. Its facings hold only if lost; otherwise the facings at the end
	// are those at the start, turned.
	after couple
	held  []PositionSet // as [Passage].Held
	hands []HandsSet    // as [Passage].Hands
	grips bool          // ends with the hands as they were held before
	backs [2]bool       // the partner's first step goes back
	stays bool          // ends in the position it started in
	lost  bool          // a step could not be read, so the turns are not known
	// contradicted: something here contradicts itself, which has been reported, so the stances around
	// it can't be judged.
	contradicted bool
}

// effect returns the effect of the rows from "from" up to, but not including, "to". The figure must
// have been checked.
func (f *Figure) effect(from, to int) effect {
	switch {
	case f.way != nil && f.way.from == from && f.way.to == to:
		return f.way.effect
	case from == 0 && to == len(f.Rows):
		return f.whole
	}
	e, _ := walk(f, from, to)
	return e
}

// walker goes through the rows of one figure and reports what is wrong in them.
type walker struct {
	fig    *Figure
	faults []fault
	index  int // of this row

	now    couple // at this row
	effect effect
	start  PositionSet
	moved  bool     // the position at the start has been left
	freed  bool     // the hands are no longer held as at the start
	onto   [2]*Step // the step that took the weight
	light  [2]*Step // the last step since then that took none
	stood  [2]*Row  // the last row since then in which only the partner steps
	lostOf [2]bool  // feet that are no longer known
	// sure: a direction stated in the chart agreed with the turns.
	sure bool
	// astray: the first step uses another foot than the figure says it starts with.
	astray [2]bool
	// blind: the partners' rows can't be laid side by side.
	blind bool
}

// walk goes through the rows of fig from "from" up to, but not including, "to". It returns their effect
// and what is wrong in them.
func walk(fig *Figure, from, to int) (effect, []fault) {
	w := walker{fig: fig, blind: fig.unplaced && len(fig.text.tables) > 1}
	w.begin()
	for i := 0; i < to; i++ {
		w.index = i
		if i == from {
			w.effect = effect{needs: w.now, contradicted: w.effect.contradicted}
			w.start, w.moved, w.freed = w.now.positions, false, false
			for p, s := range fig.Rows[i].Steps {
				w.effect.backs[p] = s.Way == Back || s.Way == DiagonallyBack
			}
		}
		w.row(&fig.Rows[i])
		held := w.now.positions
		if !w.moved {
			held = 0
		}
		w.effect.held = append(w.effect.held, held)
		hands := HandsSet(0)
		if w.freed {
			hands = cmp.Or(w.now.hands, AnyHands)
		}
		w.effect.hands = append(w.effect.hands, hands)
	}
	w.finish(to)
	if w.effect.contradicted || w.blind {
		w.effect.needs.positions, w.effect.needs.facings = AnyPosition, anyFacings
		w.effect.after.positions, w.effect.after.facings = AnyPosition, anyFacings
		w.effect.stays, w.effect.lost = false, true
	}
	return w.effect, w.faults
}

func (w *walker) report(code Code, at Span, message, hint string, related ...Related) {
	w.faults = append(w.faults, fault{w.index, code, at, message, hint, related})
}

// begin sets the couple from what the figure says of its start and what its first steps show.
func (w *walker) begin() {
	st := w.fig.Starts
	w.now = couple{free: [2]feet{bothFeet, bothFeet}, positions: st.Positions, hands: st.Hands, facings: anyFacings}
	w.freed = st.Hands == 0 && st.Positions.byBody()
	if w.now.positions == 0 {
		w.now.positions = AnyPosition
	}
	contradicted := false
	w.now.facings = anyFacings.apart(w.now.positions.difference())
	for _, p := range Partners() {
		if a := st.Facing[p]; a.Stand != NoStand {
			w.now.facings = w.now.facings.where(p, setOf(int(a.Direction())))
		}
		first := w.firstFree(p)
		if said := st.Free[p]; said != NoFoot {
			if first != NoFoot && first != said {
				w.report("start-contradicted", st.At, fmt.Sprintf("the %s starts with the %s free here, but the first step needs the %s", p, said, first), "")
				w.astray[p], first = true, NoFoot
			} else {
				first = said
			}
		}
		if first != NoFoot {
			w.now.free[p] = footSet(first)
		}
	}
	if w.now.facings == 0 {
		w.report("start-contradicted", st.At, "partners in "+w.now.positions.String()+" can't face the ways that are given here", "")
		w.now.facings = anyFacings.apart(w.now.positions.difference())
		contradicted = true
	}
	w.start = w.now.positions
	w.effect = effect{needs: w.now, contradicted: contradicted}
}

// firstFree returns the foot that a partner's first step needs free.
func (w *walker) firstFree(p Partner) Foot {
	for i := range w.fig.Rows {
		s := &w.fig.Rows[i].Steps[p]
		switch {
		case s.unclear:
			return NoFoot
		case s.Stands():
		case s.Pivots():
			return s.Foot.Other()
		default:
			return s.Foot
		}
	}
	return NoFoot
}

func (w *walker) row(r *Row) {
	for _, p := range Partners() {
		w.foot(p, r)
	}
	apart := Turn(0)
	for _, p := range Partners() {
		s := &r.Steps[p]
		w.now.facings = w.now.facings.turned(p, s.Turns())
		w.effect.turns[p] += s.Turns()
		apart += s.Turns() * (Turn(p)*2 - 1)
		if s.unclear || !w.fig.Has[p] {
			w.now.facings = forget(w.now.facings, p)
			w.effect.lost = true
			w.now.positions, w.moved = AnyPosition, true
		}
	}
	// A position that a step names holds until someone steps again; the one at the start holds until
	// the partners turn relative to each other.
	if apart != 0 || w.moved && (r.Steps[Leader].Moves() || r.Steps[Follower].Moves()) {
		w.now.positions, w.moved = AnyPosition, true
	}
	for _, p := range Partners() {
		if a := r.Steps[p].Alignment; a.Stand != NoStand {
			instead := forget(w.now.facings, p)
			if !w.sure { // it may be the start that is wrong, and both turned away from it
				instead |= revolve(w.now.facings)
			}
			w.narrow(w.now.facings.where(p, setOf(int(a.Direction()))), func() {
				w.report("alignment-contradicted", r.Steps[p].At, fmt.Sprintf("the turns so far leave the %s %s, not %s", p, alignments(w.now.facings.of(p), a.Stand == Backing), a), "")
			}, instead.where(p, setOf(int(a.Direction()))))
		}
	}
	if w.blind {
		return
	}
	leader, follower := &r.Steps[Leader], &r.Steps[Follower]
	w.hands(leader, follower)
	if a, b := leader.Position, follower.Position; a != 0 && b != 0 && a&b == 0 {
		w.report("said-twice", follower.At, fmt.Sprintf("the leader's step ends in %s, the follower's in %s", a, b), "keep one")
		w.now.positions, w.moved, w.effect.contradicted = AnyPosition, true, true
		return
	}
	for _, p := range Partners() {
		s := &r.Steps[p]
		if s.Position == 0 {
			continue
		}
		w.now.positions, w.moved = s.Position, true
		w.reach(s.Position, func() {
			w.report("position-contradicted", s.At, fmt.Sprintf("after these turns the partners can't be in %s: %s", s.Position, standing(w.now.facings)), turningRows(w.fig.Rows[:w.index+1]))
		})
	}
}

// hands follows which hands hold. A hold of the bodies that says nothing of the hands has its own.
func (w *walker) hands(leader, follower *Step) {
	switch a, b := leader.Hands, follower.Hands; {
	case a.differ(b):
		w.report("said-twice", follower.At, fmt.Sprintf("the leader's step says %s, the follower's %s", a, b), "keep one")
		w.now.hands, w.freed = 0, true
	case a|b != 0:
		w.now.hands, w.freed = cmp.Or(a&b, a|b), true
	case (leader.Position | follower.Position).byBody():
		w.now.hands, w.freed = 0, true
	}
}

// reach narrows the facings to those that one of the positions allows.
func (w *walker) reach(ps PositionSet, contradicted func()) {
	ds := ps.difference()
	w.narrow(w.now.facings.apart(ds), contradicted, forget(w.now.facings, Leader).apart(ds)|forget(w.now.facings, Follower).apart(ds))
}

// narrow sets the facings to "to", the ones that agree with what the chart says. If none do, it calls
// contradicted and goes on with either the turns or the statement (instead) being right, so that one
// fault is reported once.
func (w *walker) narrow(to facings, contradicted func(), instead facings) {
	if to == 0 {
		contradicted()
		w.now.facings |= instead
		w.effect.lost, w.effect.contradicted = true, true
		return
	}
	w.now.facings, w.sure = to, true
	if !w.effect.lost {
		w.effect.needs.facings &= to.turned(Leader, -w.effect.turns[Leader]).turned(Follower, -w.effect.turns[Follower])
	}
}

func forget(f facings, p Partner) (all facings) {
	for t := range Turn(directions) {
		all |= f.turned(p, t)
	}
	return all
}

// revolve returns f with the couple as a whole facing any way in the hall.
func revolve(f facings) (all facings) {
	for t := range Turn(directions) {
		all |= f.turned(Leader, t).turned(Follower, t)
	}
	return all
}

// standing describes how the partners stand to each other.
func standing(f facings) string {
	var ways []string
	for d := range Direction(directions) {
		switch t := LOD.To(d); {
		case !f.difference().has(d):
		case t == 0:
			ways = append(ways, "both face the same way")
		case t == -opposite:
			ways = append(ways, "they face opposite ways")
		case t < 0:
			ways = append(ways, "the follower faces "+(-t).amount()+" to the leader's left")
		default:
			ways = append(ways, "the follower faces "+t.amount()+" to the leader's right")
		}
	}
	if len(ways) > 3 {
		return "they face other ways"
	}
	return strings.Join(ways, " or ")
}

// foot follows one partner's weight through a row.
func (w *walker) foot(p Partner, r *Row) {
	s := &r.Steps[p]
	if s.unclear {
		w.now.free[p], w.lostOf[p] = bothFeet, true
		return
	}
	if s.Stands() {
		if r.Steps[1-p].Moves() {
			w.stood[p] = r
		}
		return
	}
	if w.astray[p] {
		w.astray[p], w.lostOf[p] = false, true
		return
	}
	needed := s.Foot
	if s.Pivots() {
		needed = s.Foot.Other()
	}
	if !w.now.free[p].has(needed) {
		message := fmt.Sprintf("the %s's %s is not free on %s: the weight is on it", p, s.Foot, r.Count)
		if s.Pivots() {
			message = fmt.Sprintf("the %s's weight is not on the %s on %s, so it can't swivel", p, s.Foot, r.Count)
		}
		var related []Related
		if w.onto[p] != nil {
			related = append(related, Related{w.onto[p].At, "it took the weight here"})
		}
		hint := "step with the " + s.Foot.Other().String() + ", or write \"no weight\" on the step before"
		switch light, stood := w.light[p], w.stood[p]; {
		case light != nil && light.Foot != needed:
			hint = "step with the " + s.Foot.Other().String() + ", or, if the step before takes the weight, say where it goes instead"
			related = []Related{{light.At, "it takes no weight here"}}
		case stood != nil:
			hint = fmt.Sprintf("step with the %s; or is the %s's step missing on %s, where only the %s steps?", s.Foot.Other(), p, stood.Count, 1-p)
		}
		w.report("foot-not-free", s.At, message, hint, related...)
		w.now.free[p], w.lostOf[p] = bothFeet, true // so that one fault is reported once
		w.onto[p], w.light[p], w.stood[p] = nil, nil, nil
		return
	} else if w.now.free[p] == bothFeet && !w.lostOf[p] {
		w.effect.needs.free[p] = footSet(needed)
	}
	w.now.free[p], w.light[p] = footSet(needed), s
	if s.Moves() {
		w.now.free[p], w.onto[p], w.light[p], w.stood[p] = footSet(s.Foot.Other()), s, nil, nil
		if s.Weight == Split {
			w.now.free[p], w.lostOf[p] = bothFeet, true
		}
	}
}

// finish compares where the rows end with what the figure says of its end.
func (w *walker) finish(to int) {
	st := w.fig.Ends
	e := &w.effect
	if to < len(w.fig.Rows) {
		st = Stance{}
	}
	e.stays = !w.moved
	astray := false
	switch {
	case st.Hands != 0:
		if w.freed && w.now.hands.differ(st.Hands) {
			w.report("end-contradicted", st.At, fmt.Sprintf("the steps end with %s, not with %s", w.now.hands, st.Hands), "")
		}
		w.now.hands, w.freed = st.Hands, true
	case st.Positions.byBody():
		w.now.hands, w.freed = 0, true
	}
	e.grips = !w.freed
	switch {
	case st.AsStarted:
		e.stays = true
		w.now.positions = w.start
	case st.Positions != 0:
		if w.moved && w.now.positions&st.Positions == 0 {
			w.report("end-contradicted", st.At, fmt.Sprintf("the steps end in %s, not in %s", w.now.positions, st.Positions), "")
			e.contradicted, astray = true, true
		}
		e.stays = false
		w.now.positions = st.Positions
	}
	if fits := w.now.facings.apart(w.now.positions.difference()); fits != 0 {
		w.now.facings = fits
	} else if st.Said() && !astray && !w.blind {
		w.reach(w.now.positions, func() {
			w.report("end-contradicted", st.At, fmt.Sprintf("after these turns the partners can't end in %s: %s", w.now.positions, standing(w.now.facings)), turningRows(w.fig.Rows))
		})
	}
	for _, p := range Partners() {
		if said := st.Free[p]; said != NoFoot && !w.now.free[p].has(said) {
			w.report("end-contradicted", st.At, fmt.Sprintf("the steps leave the %s's %s free, not the %s", p, w.now.free[p].only(), said), "")
		}
		if a := st.Facing[p]; a.Stand != NoStand {
			w.narrow(w.now.facings.where(p, setOf(int(a.Direction()))), func() {
				w.report("end-contradicted", st.At, fmt.Sprintf("the turns leave the %s %s, not %s", p, alignments(w.now.facings.of(p), a.Stand == Backing), a), turningRows(w.fig.Rows))
			}, forget(w.now.facings, p).where(p, setOf(int(a.Direction()))))
		}
	}
	e.after = w.now
}

// apply returns the couple after the rows; before must meet their needs.
func (e *effect) apply(before couple) couple {
	after := e.after
	for _, p := range Partners() {
		if after.free[p] == bothFeet && e.needs.free[p] == bothFeet && !e.lost {
			after.free[p] = before.free[p] // never stepped
		}
	}
	if e.stays {
		after.positions = before.positions
	}
	if e.grips && before.hands != 0 {
		after.hands = before.hands
	}
	if !e.lost {
		after.facings = before.facings.turned(Leader, e.turns[Leader]).turned(Follower, e.turns[Follower])
		if narrowed := after.facings.apart(after.positions.difference()); narrowed != 0 {
			after.facings = narrowed
		}
	}
	return after
}
