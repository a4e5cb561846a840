package routine

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
)

// ways are the ways to dance a figure, found when they are first asked for.
type ways struct {
	mu    sync.Mutex
	parts map[[2]int][]*Figure
	usual map[[2]int]*Figure // as charted, but for what may vary
}

// otherWay is how a figure, or a part of it, is danced otherwise than charted.
type otherWay struct {
	of       *Figure // as charted
	from, to int     // the rows that it is for
	begins   Turn    // from where they begin as charted to where they begin now
	ends     Turn    // the same for their end
	added    []slot  // the turns that are other than charted
	effect   effect  // of the rows
}

// slot is a turn that may vary, and by how much it does.
type slot struct {
	row      int
	partner  Partner
	after    bool
	from, to Turn // the least and the most that can be added to it
	by       Turn
}

// Ways returns the ways to dance the whole figure: as charted, then, the likeliest first, with turns as large, and from
// alignments such, as its chart allows besides. Each is a figure with the same rows, in which all turns and alignments
// are those that are danced.
func (f *Figure) Ways() []*Figure { return f.PartWays(0, len(f.Rows)) }

// PartWays is Ways for the rows from "from" up to, but not including, "to".
func (f *Figure) PartWays(from, to int) []*Figure {
	f = f.Charted()
	if f.ways == nil {
		return []*Figure{f}
	}
	f.ways.mu.Lock()
	defer f.ways.mu.Unlock()
	part := [2]int{from, to}
	list, ok := f.ways.parts[part]
	if !ok {
		list, _ = f.findWays(from, to)
		if f.ways.parts == nil {
			f.ways.parts = map[[2]int][]*Figure{}
		}
		f.ways.parts[part] = list
	}
	return list
}

// danceable returns the ways to dance some rows in an order: those of PartWays, and in place of the chart, which says what
// may vary, what is usually danced. A figure that is already a way is danced so.
func (f *Figure) danceable(from, to int) []*Figure {
	if f.ways == nil {
		return []*Figure{f}
	}
	list := slices.Clone(f.PartWays(from, to))
	f.ways.mu.Lock()
	defer f.ways.mu.Unlock()
	part := [2]int{from, to}
	usual := f.ways.usual[part]
	if usual == nil {
		usual, _ = f.danced(otherWay{of: f, from: from, to: to})
		if f.ways.usual == nil {
			f.ways.usual = map[[2]int]*Figure{}
		}
		f.ways.usual[part] = usual
	}
	list[0] = usual
	return list
}

// Charted returns the figure as its chart has it, of which f may be another way.
func (f *Figure) Charted() *Figure {
	if f.way != nil {
		return f.way.of
	}
	return f
}

// Differs says how f is danced otherwise than charted: "from LOD, 3/8 R on step 2". It returns "" if it is not.
func (f *Figure) Differs() string {
	w := f.way
	if w == nil {
		return ""
	}
	var parts []string
	if a := f.beginsOn(w.from); w.begins != 0 && a.Stand != NoStand {
		parts = append(parts, "from "+strings.TrimPrefix(a.String(), "facing "))
	}
	whose := Leader
	if !slices.ContainsFunc(w.added, func(s slot) bool { return s.partner == Leader }) {
		whose = Follower
	}
	for _, s := range w.added {
		if step := &f.Rows[s.row].Steps[whose]; s.partner == whose {
			turn, who := step.Turn.orNone(), ""
			if s.after {
				turn = step.After.orNone() + " after"
			}
			if whose == Follower {
				who = "follower "
			}
			parts = append(parts, fmt.Sprintf("%s%s on %s", who, turn, Steps(s.row, s.row+1)))
		}
	}
	if a := f.Ends.Facing[Leader]; w.to == len(f.Rows) && w.ends != 0 && a.Stand != NoStand {
		parts = append(parts, "ends "+a.String())
	}
	return strings.Join(parts, ", ")
}

// Others says in what other ways a figure is danced, "from LOD, 3/8 R on step 2; 1/4 R on step 5", or "".
func (f *Figure) Others() string {
	var list []string
	for _, way := range f.Ways()[1:] {
		list = append(list, way.Differs())
	}
	return strings.Join(list, "; ")
}

// beginsOn returns the leader's alignment before a row, as far as it is written.
func (f *Figure) beginsOn(row int) Alignment {
	if row == 0 {
		return f.Starts.Facing[Leader]
	}
	return f.Rows[row-1].Steps[Leader].Alignment
}

// unusual is how far f is from what is usually danced; 0 for the figure as charted. That it is another way at all weighs
// most, then its end: a figure that begins elsewhere usually ends where it always does.
func (f *Figure) unusual() int {
	w := f.way
	if w == nil || w.begins == 0 && len(w.added) == 0 {
		return 0
	}
	n := 50 + w.begins.abs() + 4*w.ends.abs()
	for _, s := range w.added {
		if s.partner == Leader || !f.Has[Leader] {
			n += s.by.abs()
		}
	}
	return n
}

func (t Turn) abs() int { return int(max(t, -t)) }

// alternates reports whether a figure can be danced otherwise than charted.
func (f *Figure) alternates() bool {
	return len(f.Starts.Or) > 0 || slices.ContainsFunc(f.Rows, func(r Row) bool {
		return r.Steps[Leader].varies() || r.Steps[Follower].varies()
	}) || slices.ContainsFunc(f.Parts, func(p Piece) bool { return len(p.Or) > 0 })
}

func (s *Step) varies() bool { return s.Varies.Varies() || s.VariesAfter.Varies() }

// slots returns a partner's turns that may vary in some rows.
func (f *Figure) slots(p Partner, from, to int) (list []slot) {
	for i := from; i < to; i++ {
		s := &f.Rows[i].Steps[p]
		if r := s.Varies; r.Varies() {
			list = append(list, slot{row: i, partner: p, from: r.From - s.Turn, to: r.To - s.Turn})
		}
		if r := s.VariesAfter; r.Varies() {
			list = append(list, slot{row: i, partner: p, after: true, from: r.From - s.After, to: r.To - s.After})
		}
	}
	return list
}

// slotsBegun is slots for rows that are begun off the chart by begins: what may vary in a part that may begin elsewhere
// makes up for that, and for nothing else.
func (f *Figure) slotsBegun(begins Turn, p Partner, from, to int) []slot {
	return slices.DeleteFunc(f.slots(p, from, to), func(s slot) bool {
		return slices.ContainsFunc(f.Parts, func(piece Piece) bool {
			begun := piece.From == from && slices.Contains(piece.Or, begins)
			return len(piece.Or) > 0 && piece.From <= s.row && s.row < piece.To && !begun
		})
	})
}

// mostAstray is how far a way may be from where the chart is, in eighths.
const mostAstray = 2 * Turn(directions)

// findWays finds the ways to dance some rows, the figure as charted first, and the faults in those that can't be danced.
func (f *Figure) findWays(from, to int) (list []*Figure, faults []wayFault) {
	list = []*Figure{f}
	if f.whole.contradicted || f.whole.lost || f.unplaced || !f.Has[Leader] && !f.Has[Follower] {
		return list, nil
	}
	first, second := Leader, Follower
	if !f.Has[Leader] {
		first, second = Follower, Leader
	}
	for _, begins := range f.beginnings(from) {
		slots, others := f.slotsBegun(begins, first, from, to), f.slotsBegun(begins, second, from, to)
		found := routes(begins, slots)
		for _, ends := range slices.Sorted(maps.Keys(found)) {
			if begins == 0 && ends == 0 || !f.mayEnd(begins, ends, to) {
				continue
			}
			added := found[ends].slots
			if f.Has[second] {
				with, ok := follow(added, others, ends-begins)
				if !ok {
					continue
				}
				added = slices.Concat(added, with)
			}
			danced, wrong := f.danced(otherWay{of: f, from: from, to: to, begins: begins, ends: ends,
				added: slices.DeleteFunc(slices.Clone(added), func(s slot) bool { return s.by == 0 })})
			if len(wrong) > 0 {
				faults = append(faults, wayFault{danced, wrong[0]})
				continue
			}
			list = append(list, danced)
		}
	}
	slices.SortStableFunc(list, func(a, b *Figure) int { return cmp.Compare(a.unusual(), b.unusual()) })
	return list, faults
}

// wayFault is what is wrong in a way to dance a figure.
type wayFault struct {
	way   *Figure
	fault fault
}

// beginnings returns how far the couple may be turned from where the chart has it before a row.
func (f *Figure) beginnings(from int) []Turn {
	list := []Turn{0}
	add := func(t Turn) {
		if !slices.Contains(list, t) {
			list = append(list, t)
		}
	}
	for _, piece := range f.Parts {
		if piece.From == from {
			for _, t := range piece.Or {
				add(t)
			}
		}
	}
	if from == 0 {
		for _, t := range f.Starts.Or {
			add(t)
		}
		return list
	}
	ways, _ := f.findWays(0, from)
	for _, w := range ways[1:] {
		add(w.way.ends)
	}
	return list
}

// mayEnd reports whether rows up to "to" may end as far from where the chart has them as ends. Where a figure
// doesn't say so, it may end wherever it can when begun as usual; but what its turns may vary to make up for another
// beginning is not for a usual one.
func (f *Figure) mayEnd(begins, ends Turn, to int) bool {
	whole := to == len(f.Rows)
	if whole && len(f.Ends.Or) > 0 {
		return ends == 0 || slices.Contains(f.Ends.Or, ends)
	}
	for _, other := range f.Starts.Or {
		if begins == 0 && other*ends < 0 {
			return false
		}
	}
	if begins == 0 || !whole || f.Ends.Facing == [2]Alignment{} {
		return true
	}
	least, most := Turn(0), Turn(0)
	for _, s := range f.slots(f.primary(), 0, to) {
		least, most = least+s.from, most+s.to
	}
	return least <= ends && ends <= most && f.mayEnd(0, ends, to)
}

// primary is the partner whose turns are varied first.
func (f *Figure) primary() Partner {
	if f.Has[Leader] {
		return Leader
	}
	return Follower
}

// route is a sequence of slots with their amounts.
type route struct {
	slots  []slot
	astray int // for how many slots, and how far, the couple is turned from where the chart has it
}

// routes returns, for each turn by which rows with these slots may end off the chart, the way there that keeps longest to
// it.
func routes(begins Turn, slots []slot) map[Turn]route {
	found := map[Turn]route{begins: {}}
	for _, s := range slots {
		next := map[Turn]route{}
		for _, now := range slices.Sorted(maps.Keys(found)) {
			for s.by = s.from; s.by <= s.to; s.by++ {
				then, before := now+s.by, found[now]
				astray := before.astray + 4*then.abs() + s.by.abs()
				if old, ok := next[then]; then.abs() > int(mostAstray) || ok && old.astray <= astray {
					continue
				}
				next[then] = route{append(slices.Clip(before.slots), s), astray}
			}
		}
		found = next
	}
	return found
}

// follow varies a partner's turns as the other's are, as far as they allow, by total altogether. It returns false if they
// can't.
func follow(lead, slots []slot, total Turn) ([]slot, bool) {
	slots = slices.Clone(slots)
	now := Turn(0)
	for i := range slots {
		s := &slots[i]
		least, most := total, total // that may be reached here, so that total is reached in the end
		for _, later := range slots[i+1:] {
			least, most = least-later.to, most-later.from
		}
		least, most = max(least, now+s.from), min(most, now+s.to)
		if least > most {
			return nil, false
		}
		led := Turn(0)
		for _, l := range lead {
			if l.row <= s.row {
				led += l.by
			}
		}
		then := min(max(led, least), most)
		s.by, now = then-now, then
	}
	return slots, now == total
}

// danced returns the figure as it is danced in a way, and what is wrong with that.
func (f *Figure) danced(w otherWay) (*Figure, []fault) {
	d := *f
	d.ways, d.way = nil, &w
	d.Starts, d.Ends = f.Starts.turned(w.begins), f.Ends.turned(w.ends)
	d.Rows = slices.Clone(f.Rows)
	off := [2]Turn{w.begins, w.begins}
	for i := range d.Rows {
		r := &d.Rows[i]
		for _, s := range w.added {
			if s.row != i {
				continue
			}
			step := &r.Steps[s.partner]
			if s.after {
				step.After += s.by
			} else {
				step.Turn += s.by
			}
			off[s.partner] += s.by
		}
		for p := range r.Steps {
			step := &r.Steps[p]
			step.Varies, step.VariesAfter = Range{}, Range{}
			step.Alignment.To = step.Alignment.To.Turned(off[p])
		}
	}
	var faults []fault
	w.effect, faults = walk(&d, w.from, w.to)
	d.whole = w.effect
	return &d, faults
}

// turned returns the stance with the couple as a whole turned.
func (s Stance) turned(t Turn) Stance {
	s.Or = nil
	for p := range s.Facing {
		if s.Facing[p].Stand != NoStand {
			s.Facing[p].To = s.Facing[p].To.Turned(t)
		}
	}
	return s
}
