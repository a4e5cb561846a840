package routine

import (
	"fmt"
	"slices"
)

// fault is something wrong in a figure, before it is known what caused it.
type fault struct {
	row     int
	code    Code
	at      Span
	message string
	hint    string
	related []Related
}

// counts reports what is wrong with the counts of a sheet's figures.
func (f *findings) counts(s *Sheet) {
	for _, fig := range s.Figures {
		for _, t := range f.miscounted(s, fig) {
			f.list = append(f.list, NewFinding(t.code, t.at, t.message, t.hint))
		}
	}
}

func (f *findings) miscounted(s *Sheet, fig *Figure) (faults []fault) {
	if !s.Known {
		return nil
	}
	for _, t := range fig.text.counted {
		faults = append(faults, f.countFaults(t.troubles, t.at)...)
	}
	return faults
}

func (f *findings) countFaults(troubles []countTrouble, at func(row int) extent) (faults []fault) {
	for _, t := range troubles {
		e := at(t.row)
		faults = append(faults, fault{t.row, t.code, f.src.span(e.from, e.to), t.message, t.hint, nil})
	}
	return faults
}

// causes checks a figure and returns what is wrong in it: for each mistake its cause, not what follows
// from it.
func (c *checker) causes(fig *Figure) []fault {
	var faults []fault
	fig.whole, faults = walk(fig, 0, len(fig.Rows))
	faults = append(c.miscounted(c.sheet, fig), faults...)
	if fig.copied() {
		fig.miswritten, fig.doubtful = true, true
		fig.whole.contradict()
		return []fault{{0, "columns-copied", fig.Rows[0].Steps[Follower].At, "the follower's steps are the same as the leader's, with the same feet",
			"write the follower's own steps, or, if they stand side by side, say so: \"- starts: left side\"", nil}}
	}
	differs := c.differs(fig)
	if len(faults) == 0 {
		fig.miswritten = len(differs) > 0 // so that its consequences are not reported too
		return slices.Concat(differs, c.twin(fig), c.alternatives(fig))
	}
	if fig.unplaced || len(fig.text.counted) != 1 {
		return faults
	}
	m := diagnosis{checker: c, model: c.model(fig), count: fig.text.counted[0].at, left: min(mostMends, mostMended/len(fig.Rows))}
	chart := variant{fig: fig, gap: -1}
	for i := range fig.Rows {
		chart.rows = append(chart.rows, i)
	}
	causes := m.explain(chart, faults)
	if m.rows { // whole rows are wrong, so nothing is known of the end
		fig.doubtful, fig.miswritten = true, true
		fig.whole.contradict()
	}
	if len(causes) == 1 && len(differs) == 1 { // the library knows better where it is
		if by := causes[0].row - differs[0].row; by < -1 || by > 1 {
			causes[0].related = append(causes[0].related, Related{causes[0].at, causes[0].message})
			causes[0].at, causes[0].message = differs[0].at, differs[0].message
		}
	}
	return causes
}

// copied reports whether both partners have the same steps although they don't begin facing the same way.
func (f *Figure) copied() bool {
	steps := 0
	for i := range f.Rows {
		leader, follower := &f.Rows[i].Steps[Leader], &f.Rows[i].Steps[Follower]
		if leader.unclear || follower.unclear || leader.Foot != follower.Foot || leader.Way != follower.Way || leader.Turns() != follower.Turns() {
			return false
		}
		if leader.Moves() {
			steps++
		}
	}
	for p := range f.Starts.Positions.Positions() {
		if d := positionFacts[p].difference; d == setOf(0) || d == anyDirection {
			return false
		}
	}
	return steps > 2
}

// contradict forgets all that a figure says of the couple.
func (e *effect) contradict() {
	e.needs.positions, e.needs.facings, e.needs.free = AnyPosition, anyFacings, [2]feet{bothFeet, bothFeet}
	e.after.positions, e.after.facings, e.after.free = AnyPosition, anyFacings, [2]feet{bothFeet, bothFeet}
	e.stays, e.lost, e.contradicted = false, true, true
}

// mostMends is how many changes are tried in one figure before its faults are reported as they are, and
// mostMended how many rows are danced for that.
const mostMends, mostMended = 60, 20_000

// diagnosis looks for the one change to a figure that leaves nothing wrong: that is what was meant.
type diagnosis struct {
	*checker
	model *Figure              // the library's figure of this name; nil if there is none
	count func(row int) extent // where a row's count stands
	left  int                  // how many changes may still be tried
	rows  bool                 // whole rows, or columns, were changed
}

// variant is a figure with a change in it.
type variant struct {
	fig  *Figure
	rows []int // for each row, which of the chart it is; -1 for one that was put in
	gap  int   // the row that was put in last, or -1
}

// mend is a change, and what to say if it is what was meant. It must leave "fewer" faults less.
type mend struct {
	variant
	cause fault
	fewer int
	whole bool // changes rows or columns
	until int  // up to this row nothing may be wrong afterwards
}

// explain returns the causes of faults.
func (m *diagnosis) explain(v variant, faults []fault) []fault {
	if len(faults) == 0 {
		return nil
	}
	slices.SortStableFunc(faults, func(a, b fault) int { return a.row - b.row })
	for _, change := range m.mends(v, faults) {
		if m.left--; m.left < 0 {
			break
		}
		rest := m.examine(change.variant)
		slices.SortStableFunc(rest, func(a, b fault) int { return a.row - b.row })
		if len(rest) > 0 && (len(rest) > len(faults)-change.fewer || rest[0].row <= change.until) || len(rest) >= len(faults) {
			continue
		}
		m.rows = m.rows || change.whole
		return append([]fault{change.cause}, m.explain(change.variant, rest)...)
	}
	return faults
}

// examine returns what is wrong in a variant.
func (m *diagnosis) examine(v variant) []fault {
	var faults []fault
	if m.sheet.Known {
		var counts []Count
		var rows []int
		for i, r := range v.fig.Rows {
			if v.rows[i] >= 0 {
				counts, rows = append(counts, r.Count), append(rows, i)
			}
		}
		for _, t := range place(counts, m.sheet.Dance).troubles {
			if i := rows[t.row]; i == 0 || v.rows[i-1] >= 0 { // else a row was put in before it
				faults = append(faults, m.countFaults([]countTrouble{t}, func(int) extent { return m.count(v.rows[i]) })...)
				faults[len(faults)-1].row = i
			}
		}
	}
	_, found := walk(v.fig, 0, len(v.fig.Rows))
	return append(faults, found...)
}

// mends returns the changes that may mend the first of some faults, the likeliest first.
func (m *diagnosis) mends(v variant, faults []fault) (list []mend) {
	at, rows := faults[0].row, v.fig.Rows
	if len(faults) > 1 {
		list = append(list, m.columns(v)...)
	}
	list = append(list, m.turns(v, &faults[0])...)
	if !bothFeetAt(faults, at) {
		list = append(list, m.firstFoot(v, &faults[0])...)
	}
	counts := slices.ContainsFunc(faults, func(f fault) bool { return f.code == "count-skipped" || f.code == "count-order" })
	several := len(faults) > 1 && faults[1].row <= at+3
	for i := max(at-2, 0); i <= at && i+1 < len(rows) && (counts || several); i++ {
		list = append(list, m.exchanged(v, i)...)
	}
	for i := max(at-1, 1); i <= at+1 && i < len(rows) && (counts || several); i++ {
		if sameRow(&rows[i], &rows[i-1]) {
			list = append(list, m.without(v, i))
		}
	}
	if ofFeet(faults[0].code) || counts || several {
		list = append(list, m.gap(v, at, faults)...)
	}
	return list
}

// bothFeetAt reports whether neither partner has the foot free that a row needs.
func bothFeetAt(faults []fault, row int) bool {
	n := 0
	for _, f := range faults {
		if f.row == row && ofFeet(f.code) {
			n++
		}
	}
	return n > 1
}

func ofFeet(code Code) bool { return code == "foot-not-free" || code == "start-contradicted" }

// sameRow reports whether two rows say the same.
func sameRow(a, b *Row) bool {
	return a.Count == b.Count && a.Steps[0].String() == b.Steps[0].String() && a.Steps[1].String() == b.Steps[1].String()
}

// with returns v with other rows.
func (v variant) with(rows []Row, order []int) variant {
	fig := *v.fig
	fig.Rows, fig.ways = rows, nil
	return variant{fig: &fig, rows: order, gap: v.gap}
}

// columns exchanges the two columns.
func (m *diagnosis) columns(v variant) []mend {
	if v.fig.Has != [2]bool{true, true} {
		return nil
	}
	rows := slices.Clone(v.fig.Rows)
	for i := range rows {
		s := &rows[i].Steps
		s[Leader], s[Follower] = s[Follower], s[Leader]
	}
	cause := fault{0, "columns-swapped", v.fig.Rows[0].Steps[Leader].At, "the leader's and the follower's columns are swapped", "swap the two headings", nil}
	return []mend{{variant: v.with(rows, v.rows), cause: cause, fewer: len(rows) * 10, whole: true, until: len(rows)}}
}

// firstFoot takes the other foot for the step that a stated start does not allow.
func (m *diagnosis) firstFoot(v variant, f *fault) []mend {
	if f.code != "start-contradicted" {
		return nil
	}
	var list []mend
	for _, p := range Partners() {
		for i := range v.fig.Rows {
			s := &v.fig.Rows[i].Steps[p]
			if s.Stands() {
				continue
			}
			rows := slices.Clone(v.fig.Rows)
			rows[i].Steps[p].Foot = s.Foot.Other()
			cause := fault{i, "foot-not-free", s.At, fmt.Sprintf("the %s's %s is not free on %s: the figure starts with the %s free", p, s.Foot, rows[i].Count, s.Foot.Other()),
				"step with the " + s.Foot.Other().String(), []Related{{v.fig.Starts.At, "it says so here"}}}
			list = append(list, mend{variant: v.with(rows, v.rows), cause: cause, fewer: 1, until: -1})
			break
		}
	}
	return list
}

// exchanged exchanges rows i and i+1, or their counts.
func (m *diagnosis) exchanged(v variant, i int) (list []mend) {
	a, b := v.fig.Rows[i], v.fig.Rows[i+1]
	if v.rows[i] < 0 || v.rows[i+1] < 0 || sameRow(&a, &b) {
		return nil
	}
	e := m.count(v.rows[i+1])
	cause := fault{i, "count-order", m.src.span(e.from, e.to), fmt.Sprintf("%s stands after %s", b.Count, a.Count), "swap the two counts", nil}
	change := func(x, y Row, order []int, code Code, hint string, whole bool) {
		rows := slices.Clone(v.fig.Rows)
		rows[i], rows[i+1] = x, y
		cause.code, cause.hint = code, hint
		list = append(list, mend{variant: v.with(rows, order), cause: cause, fewer: 2, whole: whole, until: i + 1})
	}
	if a.Count != b.Count {
		x, y := a, b
		x.Count, y.Count = b.Count, a.Count
		change(x, y, v.rows, "count-order", "swap the two counts", false)
	}
	order := slices.Clone(v.rows)
	order[i], order[i+1] = order[i+1], order[i]
	if a.Count == b.Count {
		cause.message = fmt.Sprintf("this row and the one before it, both on %s, are in the wrong order", a.Count)
	} else {
		cause.message += ": these two rows are in the wrong order"
	}
	change(b, a, order, "rows-swapped", "swap the two rows", true)
	return list
}

// without leaves out row i, which says the same as the one before it.
func (m *diagnosis) without(v variant, i int) mend {
	rows := slices.Delete(slices.Clone(v.fig.Rows), i, i+1)
	order := slices.Delete(slices.Clone(v.rows), i, i+1)
	e := m.count(max(v.rows[i], 0))
	cause := fault{i, "row-again", m.src.span(e.from, e.to), fmt.Sprintf("the row on %s stands here twice", v.fig.Rows[i].Count), "leave one out", nil}
	return mend{variant: v.with(rows, order), cause: cause, fewer: 1, whole: true, until: -1}
}

// gap puts a row of which nothing is known before the first fault.
func (m *diagnosis) gap(v variant, at int, faults []fault) []mend {
	if v.gap == at || v.rows[at] < 0 {
		return nil
	}
	skipped := slices.IndexFunc(faults, func(f fault) bool { return f.row == at && f.code == "count-skipped" })
	e := m.count(v.rows[at])
	cause := fault{at, "row-missing", m.src.span(e.from, e.to), "a step is missing before this " + v.fig.Rows[at].Count.String() + ": it starts with the foot that has the weight", "write the step between them in a row of its own", nil}
	switch {
	case skipped >= 0:
		cause = faults[skipped]
	case !bothFeetAt(faults, at):
		return nil
	case at == 0:
		cause.code = "start-contradicted"
		cause.message = "both partners start with the other foot than the figure says: " + faults[0].message
		cause.hint = "change what it says of its start, or write the first step"
		cause.related = []Related{{v.fig.Starts.At, "it says so here"}}
	}
	missing := Row{Count: v.fig.Rows[at].Count}
	missing.Steps[0].unclear, missing.Steps[1].unclear = true, true
	change := v.with(slices.Insert(slices.Clone(v.fig.Rows), at, missing), slices.Insert(slices.Clone(v.rows), at, -1))
	change.gap = at
	return []mend{{variant: change, cause: cause, fewer: 1, whole: true, until: at + 1}}
}
