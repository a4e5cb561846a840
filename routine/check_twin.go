package routine

import (
	"cmp"
	"fmt"
)

// leastTwin is how many steps, of both partners, make a chart long enough to be known again. Shorter ones
// are alike by chance.
const leastTwin = 6

// twin notes that a figure with a name of its own has the steps of a figure of the library except one, or
// has the partners of such a figure exchanged. That may be meant, so nothing else depends on it. A figure
// that says where it ends has been thought about, and is left alone; so is one that says which feet begin,
// where partners are exchanged.
func (c *checker) twin(fig *Figure) []fault {
	if !c.sheet.Known || c.sheet.book == nil || fig.unplaced || fig.Has != [2]bool{true, true} || fig.Ends.Said() && !fig.Ends.Supposed || fig.steps() < leastTwin {
		return nil
	}
	if _, named := c.sheet.book.Figure(c.sheet.Dance, fig.Name); named {
		return nil
	}
	var found []fault
	for _, other := range c.library() {
		if other == fig || len(other.Rows) != len(fig.Rows) || !fig.sameUse(other, c.sheet.Dance.Family) {
			continue
		}
		row, p, once := fig.differsOnce(other)
		switch {
		case once && row < 0:
			return nil
		case once:
			found = append(found, fault{row, "figure-resembles", fig.Rows[row].Steps[p].At,
				fmt.Sprintf("all steps are those of the library's %s but this one: there the %s's is %s", other.Name, p, &other.Rows[row].Steps[p]), twinMeant, nil})
		case fig.Starts.Free == [2]Foot{} && fig.swapped(other) && !fig.symmetrical():
			found = append(found, fault{0, "figure-resembles", fig.Rows[0].Steps[Leader].At,
				fmt.Sprintf("these are the steps of the library's %s, with those of the leader and the follower exchanged", other.Name), twinMeant, nil})
		}
	}
	return found[:min(1, len(found))]
}

const twinMeant = "if it is meant, leave it so; with a line \"- ends: …\" nothing is said of it"

// library returns the library's figures of the sheet's dance.
func (c *checker) library() []*Figure {
	if c.known == nil {
		c.known = []*Figure{}
		for _, name := range c.sheet.book.Figures(c.sheet.Dance) {
			if fig, ok := c.sheet.book.Figure(c.sheet.Dance, name); ok {
				c.known = append(c.known, fig)
			}
		}
	}
	return c.known
}

// steps returns how many steps both partners make.
func (f *Figure) steps() (n int) {
	for i := range f.Rows {
		for _, p := range Partners() {
			if !f.Rows[i].Steps[p].Stands() {
				n++
			}
		}
	}
	return n
}

// sameUse reports whether a figure and one of the library may be danced in the same family and from the
// same hold. The library's figures are of the dance's family unless they name one.
func (f *Figure) sameUse(other *Figure, usual Family) bool {
	family := cmp.Or(other.Family, usual)
	return (f.Family == AnyFamily || family == AnyFamily || f.Family == family) &&
		(f.Starts.Positions == 0 || other.Starts.Positions == 0 || f.Starts.Positions&other.Starts.Positions != 0) && !f.Starts.Hands.differ(other.Starts.Hands)
}

// differsOnce reports whether two figures with as many rows differ in at most one step, and which; row is -1
// if they don't differ.
func (f *Figure) differsOnce(other *Figure) (row int, p Partner, once bool) {
	row = -1
	for i := range f.Rows {
		a, b := &f.Rows[i], &other.Rows[i]
		if a.Count != b.Count {
			return -1, 0, false
		}
		for _, q := range Partners() {
			switch things := a.Steps[q].unlike(&b.Steps[q]); {
			case things == 0:
			case things == 1 && row < 0:
				row, p = i, q
			default:
				return -1, 0, false
			}
		}
	}
	return row, p, true
}

// unlike returns in how many things two steps differ that a slip of the pen changes. It returns 2 where they
// differ in more, or as a variation does: in the size of a step, how far it turns, or the hold.
func (s *Step) unlike(other *Step) (things int) {
	if s.unclear || s.Foot != other.Foot || s.Slightly != other.Slightly || s.Size != other.Size || s.FootTurn != other.FootTurn ||
		s.Position != other.Position || s.Hands != other.Hands || s.Turn != other.Turn && s.Turn*other.Turn > 0 || s.After != other.After && s.After*other.After > 0 {
		return 2
	}
	for _, differs := range []bool{s.Way != other.Way || s.Weight != other.Weight, s.Turn != other.Turn, s.After != other.After} {
		if differs {
			things++
		}
	}
	return min(things, 2)
}

// swapped reports whether the steps are those of another figure, each partner's done by the other.
func (f *Figure) swapped(other *Figure) bool {
	for i := range f.Rows {
		a, b := &f.Rows[i], &other.Rows[i]
		if a.Count != b.Count || a.Steps[Leader].unlike(&b.Steps[Follower]) > 0 || a.Steps[Follower].unlike(&b.Steps[Leader]) > 0 {
			return false
		}
	}
	return true
}

// symmetrical reports whether the partners do the same with opposite feet. With the partners exchanged, that
// is the figure to the other side.
func (f *Figure) symmetrical() bool {
	for i := range f.Rows {
		leader, follower := &f.Rows[i].Steps[Leader], &f.Rows[i].Steps[Follower]
		if leader.Way != follower.Way || leader.Turns() != -follower.Turns() {
			return false
		}
	}
	return true
}
