package routine

import (
	"cmp"
	"fmt"
)

// model returns the library's figure that a figure of the sheet is named after, if their steps are much
// alike; otherwise nil.
func (c *checker) model(fig *Figure) *Figure {
	if !c.sheet.Known || c.sheet.book == nil || fig.unplaced {
		return nil
	}
	model, ok := c.sheet.book.Figure(c.sheet.Dance, fig.Name)
	if !ok || model == fig || !fig.like(model) {
		return nil
	}
	return model
}

// suppose takes what a figure does not say of its start, its end and its use from the library's figure of
// that name.
func (c *checker) suppose(fig *Figure) {
	if fig.Starts.Said() && fig.Ends.Said() && fig.Begun != nil && fig.Family != AnyFamily {
		return
	}
	model := c.model(fig)
	if model == nil {
		return
	}
	if fig.Begun == nil {
		fig.Begun = model.Begun
	}
	fig.Family = cmp.Or(fig.Family, model.Family)
	for _, s := range []struct{ to, from *Stance }{{&fig.Starts, &model.Starts}, {&fig.Ends, &model.Ends}} {
		if !s.to.Said() && s.from.Said() {
			*s.to = *s.from
			s.to.At, s.to.Supposed = fig.At, true
		}
	}
}

// like reports whether most steps of two figures are the same, if need be after a row more or less, with
// the columns swapped, or with one of them wrong throughout.
func (f *Figure) like(model *Figure) bool {
	longer := len(f.Rows) - len(model.Rows)
	if longer < -1 || longer > 1 {
		return false
	}
	for _, p := range Partners() {
		for _, q := range Partners() {
			if f.Has[p] && 4*f.alike(p, model, q, longer) >= 3*min(len(f.Rows), len(model.Rows)) {
				return true
			}
		}
	}
	return false
}

// alike returns how many steps of partner p are those of partner q in the model.
func (f *Figure) alike(p Partner, model *Figure, q Partner, longer int) int {
	n := min(len(f.Rows), len(model.Rows))
	same := func(i, k int) bool {
		a, b := &f.Rows[i].Steps[p], &model.Rows[k].Steps[q]
		return a.Foot == b.Foot && a.Way == b.Way
	}
	head, tail := 0, 0
	for i := range n {
		if same(i, i) {
			head++
		}
	}
	best := head
	for i := n - 1; i >= 0 && longer != 0; i-- { // up to here from the front, then from the end
		if same(i, i) {
			head--
		}
		if same(i+max(longer, 0), i+max(-longer, 0)) {
			tail++
		}
		best = max(best, head+tail)
	}
	return best
}

// differs reports the one step of a figure that goes or turns otherwise than in the library's figure of that
// name, if all others are the same.
func (c *checker) differs(fig *Figure) []fault {
	model := c.model(fig)
	if model == nil {
		return nil
	}
	if len(fig.Rows) != len(model.Rows) {
		return fig.longer(model)
	}
	var found []fault
	for i := range fig.Rows {
		for _, p := range Partners() {
			s, was := &fig.Rows[i].Steps[p], &model.Rows[i].Steps[p]
			if s.Foot != was.Foot || fig.Rows[i].Count != model.Rows[i].Count {
				return nil
			}
			if s.Way == was.Way && s.Slightly == was.Slightly && s.Turn == was.Turn && s.After == was.After && s.Weight == was.Weight {
				continue
			}
			found = append(found, fault{i, "step-differs", s.At, fmt.Sprintf("all steps are those of the library's %s but this one: there the %s's is %s", model.Name, p, was),
				"if it is meant, give the figure a name of its own", nil})
		}
	}
	if len(found) != 1 {
		return nil
	}
	return found
}

// longer reports the one row that a figure has more or less than the model, if all others are the same.
func (f *Figure) longer(model *Figure) []fault {
	more, less := f.Rows, model.Rows
	if len(more) < len(less) {
		more, less = less, more
	}
	i := 0
	for i < len(less) && sameSteps(&more[i], &less[i]) {
		i++
	}
	for k := i; k < len(less); k++ {
		if !sameSteps(&more[k+1], &less[k]) {
			return nil
		}
	}
	f.doubtful = true
	extra := &more[i]
	row := min(i, len(f.Rows)-1)
	message := fmt.Sprintf("all rows are those of the library's %s, but this one is not in it", model.Name)
	if len(f.Rows) < len(model.Rows) {
		where := "before"
		if i > row {
			where = "after"
		}
		message = fmt.Sprintf("all rows are those of the library's %s, but %s this one it has another: %s | %s | %s", model.Name, where, extra.Count, &extra.Steps[Leader], &extra.Steps[Follower])
	}
	return []fault{{row, "step-differs", f.Rows[row].Steps[Leader].At, message, "if it is meant, give the figure a name of its own", nil}}
}

// sameSteps reports whether two rows have the same feet, ways and turns on the same count.
func sameSteps(a, b *Row) bool {
	for p := range a.Steps {
		s, t := &a.Steps[p], &b.Steps[p]
		if s.Foot != t.Foot || s.Way != t.Way || s.Turn != t.Turn {
			return false
		}
	}
	return a.Count == b.Count
}
