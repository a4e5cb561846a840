package routine

import "strings"

// Free returns the foot that each partner has free when a row begins, as the rows before leave it; NoFoot if
// either may be. The row after the last is one that is not written yet.
func (f *Figure) Free(row int) (free [2]Foot) {
	e, _ := walk(f, 0, row)
	for _, p := range Partners() {
		free[p] = e.after.free[p].only()
	}
	return free
}

// Led returns the figure as it would be if the leader did other steps, with the follower's where they were her
// natural opposite; steps are his, on all rows.
func (f *Figure) Led(steps []Step) *Figure {
	led := *f
	led.Rows = make([]Row, len(steps))
	for i := range steps {
		row := Row{Written: [2]bool{true, true}}
		follows := i >= len(f.Rows)
		if !follows {
			row = f.Rows[i]
			natural := f.Opposite(i, &row.Steps[Leader])
			follows = natural.String() == row.Steps[Follower].String()
		}
		led.Rows[i] = row
		led.Rows[i].Steps[Leader] = steps[i]
		if follows {
			led.Rows[i].Steps[Follower] = led.Opposite(i, &steps[i])
		}
	}
	return &led
}

// Opposite returns what the follower does by nature while the leader does a step on a row: it is what is danced
// unless something else is led (common practice). She takes the other foot, and goes so that the partners stay
// as they stood, or come to stand as the step's position says. Footwork, leads and notes are the leader's own.
func (f *Figure) Opposite(row int, leads *Step) Step {
	e, _ := walk(f, 0, row)
	before := e.after.apart()
	after := before
	switch {
	case leads.Position != 0:
		after = leads.Position.after(before, leads.Turn)
	case before.To(faceToFace)*before.To(faceToFace) == 1 && leads.Turn != 0: // one of them is an eighth behind in a turn
		after = faceToFace
	}
	s := Step{
		Foot: leads.Foot.Other(), Way: leads.Way, Slightly: leads.Slightly, Size: leads.Size, Weight: leads.Weight, Position: leads.Position,
		Turn: leads.Turn + before.To(after), After: leads.After,
	}
	whisks := leads.Way == CrossBehind && leads.Turn == 0 && row > 0 && f.Rows[row-1].Steps[Leader].Way == Side // as his partner does
	if after == faceToFace && !whisks {
		s.Way, s.Slightly = opposites(leads.Way, leads.Turn != 0), opposites(leads.Slightly, false)
	}
	for _, a := range leads.Actions {
		if shared := mirrored(a); shared != "" {
			s.Actions = append(s.Actions, shared)
		}
	}
	if leads.HeelTurns() {
		s.Way = Side // who passes round a heel turn steps to the side of it
	}
	if a := leads.Alignment; a.Stand == Facing || a.Stand == Backing {
		s.Alignment = Alignment{Facing, a.Direction().Turned(Turn(after))}
		if after == faceToFace && a.Stand == Facing {
			s.Alignment = Alignment{Backing, a.To}
		}
	}
	return s
}

// faceToFace is the difference of the directions of partners who face each other.
const faceToFace = Direction(opposite)

// apart returns the most usual difference of the partners' directions, the follower's less the leader's.
func (c *couple) apart() Direction {
	pair := anyFacings.apart(c.facings.apart(c.positions.difference()).difference()).likely(false)
	return Direction(0).Turned(pair[Leader].To(pair[Follower]))
}

// after returns the difference of the partners' directions in a position that they come to from another one
// while the leader turns: of those that it allows, the one for which the follower's turn mirrors his the most.
func (s PositionSet) after(before Direction, turn Turn) Direction {
	allowed := s.difference()
	mirror := before.Turned(-2 * turn)
	for _, t := range []Turn{0, 1, -1, 2, -2, 3, -3, 4} {
		if d := mirror.Turned(t); allowed.has(d) {
			return d
		}
	}
	return before
}

// opposites returns the way that a partner goes who is faced. In a turn that one goes round the foot that
// crosses.
func opposites(w Way, turning bool) Way {
	switch {
	case w == CrossInFront && turning:
		return Back
	case w == CrossBehind && turning:
		return Side
	}
	for _, pair := range [][2]Way{{Forward, Back}, {DiagonallyForward, DiagonallyBack}, {CrossInFront, CrossBehind}} {
		switch w {
		case pair[0]:
			return pair[1]
		case pair[1]:
			return pair[0]
		}
	}
	return w
}

// mirrored returns an action as the partner does it who faces the dancer; "" if it isn't shared.
func mirrored(action string) string {
	switch action {
	case "heel turn", "heel pull", "under the arm", "no foot rise":
		return ""
	}
	if rest, ok := strings.CutSuffix(action, " L"); ok {
		return rest + " R"
	}
	if rest, ok := strings.CutSuffix(action, " R"); ok {
		return rest + " L"
	}
	return action
}
