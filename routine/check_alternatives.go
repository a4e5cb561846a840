package routine

import (
	"fmt"
	"slices"
)

// alternatives reports what makes no sense in what a figure's chart allows besides.
func (c *checker) alternatives(fig *Figure) []fault {
	if fig.ways == nil {
		return nil
	}
	for i := range fig.Rows {
		if fig.Rows[i].Steps[Leader].unclear || fig.Rows[i].Steps[Follower].unclear {
			return nil
		}
	}
	if f, apart := fig.varyApart(); apart {
		return []fault{f}
	}
	list, wrong := fig.findWays(0, len(fig.Rows))
	fig.ways.parts = map[[2]int][]*Figure{{0, len(fig.Rows)}: list}
	if len(wrong) > 0 {
		f := wrong[0].fault
		f.message = "danced " + wrong[0].way.Differs() + ": " + f.message
		return []fault{f}
	}
	var faults []fault
	for _, piece := range fig.Parts {
		if usual := fig.beginsOn(piece.From); len(piece.Or) > 0 && usual.Stand != NoStand && usual.Direction() != piece.Begins.Direction() {
			faults = append(faults, fault{piece.From, "alignment-contradicted", c.src.span(piece.at.from, piece.at.to),
				fmt.Sprintf("before %s the leader is %s, not %s", Steps(piece.From, piece.To), usual, piece.Begins), "write that alignment first, then the others", nil})
		}
		ways, _ := fig.findWays(piece.From, piece.To)
		list = append(list, ways...)
	}
	for _, t := range fig.Starts.Or {
		if !slices.ContainsFunc(list, func(w *Figure) bool {
			return w.way != nil && w.way.from == 0 && w.way.to == len(fig.Rows) && w.way.begins == t
		}) {
			faults = append(faults, fault{0, "start-contradicted", fig.Starts.At,
				fmt.Sprintf("begun %s, the turns do not lead to where the figure ends", fig.Starts.turned(t).oneFacing()),
				"say how far a turn may vary (1/4 to 3/8 R for both partners), or where it ends then: facing DC or LOD", nil})
		}
	}
	for _, t := range fig.Ends.Or {
		if !slices.ContainsFunc(list, func(w *Figure) bool { return w.way != nil && w.way.to == len(fig.Rows) && w.way.ends == t }) {
			faults = append(faults, fault{len(fig.Rows) - 1, "end-contradicted", fig.Ends.At,
				fmt.Sprintf("no turn varies so far that the figure ends %s", fig.Ends.turned(t).oneFacing()),
				"say how far a turn may vary (1/4 to 3/8 R for both partners), or leave this end out", nil})
		}
	}
	return faults
}

// oneFacing returns the alignment that a stance says, the leader's before the follower's.
func (s Stance) oneFacing() string {
	if s.Facing[Leader].Stand != NoStand {
		return s.Facing[Leader].String()
	}
	return "with the follower " + s.Facing[Follower].String()
}

// varyApart reports partners whose turns may not vary by the same.
func (f *Figure) varyApart() (fault, bool) {
	if f.Has != [2]bool{true, true} {
		return fault{}, false
	}
	var spans [2]Range
	var first [2]*slot
	for _, p := range Partners() {
		slots := f.slots(p, 0, len(f.Rows))
		for i, s := range slots {
			spans[p].From, spans[p].To = spans[p].From+s.from, spans[p].To+s.to
			if i == 0 {
				first[p] = &slots[0]
			}
		}
	}
	if spans[Leader] == spans[Follower] {
		return fault{}, false
	}
	at := first[Leader]
	if at == nil {
		at = first[Follower]
	}
	return fault{at.row, "turn-range", f.Rows[at.row].Steps[at.partner].At,
		fmt.Sprintf("the leader's turns may vary by %s, the follower's by %s", spans[Leader].by(), spans[Follower].by()),
		"the couple turns as a whole: let both partners' turns vary by the same amount altogether", nil}, true
}

// by returns how far turns may vary altogether: "up to 1/8 R", "1/8 L to 1/8 R".
func (r Range) by() string {
	switch {
	case !r.Varies():
		return "nothing"
	case r.From == 0:
		return "up to " + r.To.String()
	case r.To == 0:
		return "up to " + r.From.String()
	}
	return r.Text(r.From)
}
