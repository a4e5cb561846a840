package routine

import "fmt"

// couple is what is known of both partners at a moment.
type couple struct {
	free      [2]feet // which foot may be free
	positions PositionSet
	facings   facings
}

// effect is what a figure, or some rows of it, needs of the couple that begins
// it and makes of the couple that ends it.
type effect struct {
	needs couple
	turns [2]Turn
	// after is the couple at the end. Its facings hold only if lost; otherwise
	// they are the facings at the start, turned.
	after couple
	stays bool // ends in the position it started in
	lost  bool // a step could not be read, so the turns are not known
}

// walker goes through the rows of one figure and tells what is wrong there.
type walker struct {
	fig    *Figure
	report func(code Code, at Span, message, hint string, related ...Related)

	now    couple // at this row
	effect effect
	start  PositionSet
	moved  bool     // the position at the start is left
	onto   [2]*Step // the step that took the weight
	lostOf [2]bool  // feet no longer known
}

// effectOf walks rows from up to to of fig. What is wrong in those rows is
// reported once, by the figure's own check; report may be nil.
func effectOf(fig *Figure, from, to int, report func(Code, Span, string, string, ...Related)) effect {
	if report == nil {
		report = func(Code, Span, string, string, ...Related) {}
	}
	w := walker{fig: fig, report: report}
	w.begin()
	for i := 0; i < to; i++ {
		if i == from {
			w.effect = effect{needs: w.now}
			w.start, w.moved = w.now.positions, false
		}
		w.row(&fig.Rows[i])
	}
	w.finish(to)
	return w.effect
}

// begin takes what the figure says of its start, and what its first steps show.
func (w *walker) begin() {
	st := w.fig.Starts
	w.now = couple{free: [2]feet{bothFeet, bothFeet}, positions: st.Positions, facings: anyFacings}
	if w.now.positions == 0 {
		w.now.positions = anyPosition
	}
	w.now.facings = anyFacings.apart(w.now.positions.difference())
	for _, p := range Partners() {
		if a := st.Facing[p]; a.Stand != NoStand {
			w.now.facings = w.now.facings.where(p, setOf(int(a.Direction())))
		}
		first := w.firstFree(p)
		if said := st.Free[p]; said != NoFoot {
			if first != NoFoot && first != said {
				w.report("start-contradicted", st.At, fmt.Sprintf("the %s starts with the %s free here, but the first step needs the %s", p, said, first), "")
			} else {
				first = said
			}
		}
		if first != NoFoot {
			w.now.free[p] = footSet(first)
		}
	}
	if w.now.facings == 0 {
		w.report("start-contradicted", st.At, "partners in "+w.now.positions.String()+" can't face as it is said here", "")
		w.now.facings = anyFacings.apart(w.now.positions.difference())
	}
	w.start = w.now.positions
	w.effect = effect{needs: w.now}
}

// firstFree is the foot that the first step of a partner finds free.
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
		w.now.facings = w.now.facings.turned(p, s.Turn)
		w.effect.turns[p] += s.Turn
		apart += s.Turn * (Turn(p)*2 - 1)
		if s.unclear {
			w.now.facings = forget(w.now.facings, p)
			w.effect.lost = true
			w.now.positions, w.moved = anyPosition, true
		}
	}
	// A position that was named holds until someone steps on; the one at the
	// start holds until the partners turn from each other.
	if apart != 0 || w.moved && (r.Steps[Leader].Moves() || r.Steps[Follower].Moves()) {
		w.now.positions, w.moved = anyPosition, true
	}
	for _, p := range Partners() {
		if a := r.Steps[p].Alignment; a.Stand != NoStand {
			w.narrow(w.now.facings.where(p, setOf(int(a.Direction()))), func() {
				have := "another direction"
				if d, ok := w.now.facings.of(p).only(); ok {
					have = d.String()
				}
				w.report("alignment-contradicted", r.Steps[p].At, fmt.Sprintf("the turns so far leave the %s facing %s, not %s", p, have, a), "")
			}, anyFacings.where(p, setOf(int(a.Direction()))))
		}
	}
	for _, p := range Partners() {
		s := &r.Steps[p]
		if s.Position == 0 {
			continue
		}
		w.now.positions, w.moved = s.Position, true
		w.narrow(w.now.facings.apart(s.Position.difference()), func() {
			w.report("position-contradicted", s.At, fmt.Sprintf("after these turns the partners can't be in %s: %s", s.Position, standing(w.now.facings)), "")
		}, anyFacings.apart(s.Position.difference()))
	}
}

// narrow keeps what agrees with the facings now. If nothing does it tells so,
// and goes on from instead, so that one fault is found once.
func (w *walker) narrow(to facings, contradicted func(), instead facings) {
	if to == 0 {
		contradicted()
		w.now.facings, w.effect.lost = instead, true
		return
	}
	w.now.facings = to
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

// standing says how the partners stand to each other.
func standing(f facings) string {
	d, ok := f.difference().only()
	if !ok {
		return "they stand otherwise"
	}
	switch t := (int(d) + directions) % directions; t {
	case 0:
		return "both face the same way"
	case 4:
		return "they face opposite ways"
	default:
		if t > 4 {
			t -= directions
		}
		return "the follower faces " + Turn(t).String() + " of the leader"
	}
}

// foot follows one partner's weight through a row.
func (w *walker) foot(p Partner, r *Row) {
	s := &r.Steps[p]
	if s.unclear {
		w.now.free[p], w.lostOf[p] = bothFeet, true
		return
	}
	if s.Stands() {
		return
	}
	needed := s.Foot
	if s.Pivots() {
		needed = s.Foot.Other()
	}
	if !w.now.free[p].has(needed) {
		message := fmt.Sprintf("the %s's %s is not free on %s: it bears the weight", p, s.Foot, r.Count)
		if s.Pivots() {
			message = fmt.Sprintf("the %s's %s bears no weight on %s, so nobody can turn on it", p, s.Foot, r.Count)
		}
		var related []Related
		if w.onto[p] != nil {
			related = append(related, Related{w.onto[p].At, "the weight came onto the foot here"})
		}
		w.report("foot-not-free", s.At, message, "step with the "+s.Foot.Other().String()+", or say \"no weight\" on the step before", related...)
		w.now.free[p], w.lostOf[p] = bothFeet, true // so that one fault is found once
		w.onto[p] = nil
		return
	} else if w.now.free[p] == bothFeet && !w.lostOf[p] {
		w.effect.needs.free[p] = footSet(needed)
	}
	w.now.free[p] = footSet(needed)
	if s.Moves() {
		w.now.free[p], w.onto[p] = footSet(s.Foot.Other()), s
	}
}

// finish compares where the rows led with what the figure says of its end.
func (w *walker) finish(to int) {
	st := w.fig.Ends
	e := &w.effect
	if to < len(w.fig.Rows) {
		st = Stance{}
	}
	e.stays = !w.moved
	switch {
	case st.AsStarted:
		e.stays = true
		w.now.positions = w.start
	case st.Positions != 0:
		if w.moved && w.now.positions&st.Positions == 0 {
			w.report("end-contradicted", st.At, fmt.Sprintf("the steps end in %s", w.now.positions), "")
		}
		e.stays = false
		w.now.positions = st.Positions
	}
	contradicted := func() {
		w.report("end-contradicted", st.At, fmt.Sprintf("after these turns the partners can't end in %s: %s", w.now.positions, standing(w.now.facings)), "")
	}
	if !st.Said() {
		contradicted = func() {}
	}
	w.narrow(w.now.facings.apart(w.now.positions.difference()), contradicted, anyFacings.apart(w.now.positions.difference()))
	for _, p := range Partners() {
		if said := st.Free[p]; said != NoFoot && !w.now.free[p].has(said) {
			w.report("end-contradicted", st.At, fmt.Sprintf("the steps leave the %s's %s free, not the %s", p, w.now.free[p].only(), said), "")
		}
		if a := st.Facing[p]; a.Stand != NoStand {
			w.narrow(w.now.facings.where(p, setOf(int(a.Direction()))), func() {
				d, _ := w.now.facings.of(p).only()
				w.report("end-contradicted", st.At, fmt.Sprintf("the turns leave the %s facing %s, not %s", p, d, a), "")
			}, anyFacings.where(p, setOf(int(a.Direction()))))
		}
	}
	e.after = w.now
}

// apply is the couple after the rows, begun by a couple that met their needs.
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
	if !e.lost {
		after.facings = before.facings.turned(Leader, e.turns[Leader]).turned(Follower, e.turns[Follower])
		if narrowed := after.facings.apart(after.positions.difference()); narrowed != 0 {
			after.facings = narrowed
		}
	}
	return after
}
