package routine

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// resolve finds an item's figure and the rows that are danced of it.
func (c *checker) resolve(item *Item) {
	if item.Figure != nil {
		return
	}
	if item.Figure = cmp.Or(c.sideInRemark(item), c.named(item.Name)); item.Figure == nil {
		if c.sheet.Known && item.Name != "" { // else its figures can't be known
			c.unknown(item)
		}
		return
	}
	if len(item.Figure.Rows) == 0 {
		item.Figure = nil // its chart can't be read, which is reported there
		return
	}
	item.To = len(item.Figure.Rows)
	if piece, ok := item.Figure.pieceNamed(item.Name); ok {
		item.From, item.To = piece.From, piece.To
		if item.steps[0] != 0 {
			c.add("steps-range", c.rangeOf(item), item.Name+" is a part of "+item.Figure.Name+" already", "write "+quoted(item.Figure.Name)+" and its steps")
			item.Figure = nil
		}
		return
	}
	if item.share.unit != wholeFigure {
		c.shareOf(item)
		return
	}
	if item.steps[0] == 0 {
		return
	}
	if item.steps[0] > item.steps[1] || item.steps[0] < 1 || item.steps[1] > item.To {
		c.add("steps-range", c.rangeOf(item), fmt.Sprintf("%s has only %s", item.Figure.Name, Steps(0, item.To)), "")
		item.Figure = nil
		return
	}
	item.From, item.To = item.steps[0]-1, item.steps[1]
}

// named returns the figure that a name means, which may tell its side in another way; nil if there is none.
func (c *checker) named(name string) *Figure {
	if fig := c.sheet.figure(name); fig != nil || !c.sheet.Known {
		return fig
	}
	base, side := sided(name)
	return c.sidedFigures().find(base, side)
}

// sideInRemark returns the figure of an item that tells its side after a dash or in brackets, "New York (left)"; nil if
// there is none.
func (c *checker) sideInRemark(item *Item) *Figure {
	if item.Remark == "" || !c.sheet.Known {
		return nil
	}
	if base, side := sided("x " + item.Remark); base != "x" || side == noSide {
		return nil
	}
	if _, side := sided(item.Name); side != noSide {
		return nil
	}
	base, side := sided(item.Name + " " + item.Remark)
	return c.sidedFigures().find(base, side)
}

// sidedFigures returns the sheet's and the dance's figures that have a side.
func (c *checker) sidedFigures() sidedFigures {
	if c.sided != nil {
		return c.sided
	}
	c.sided = sidedFigures{}
	for _, fig := range c.sheet.Figures {
		c.sided.add(fig)
	}
	for _, name := range c.sheet.book.Figures(c.sheet.Dance) {
		if fig, ok := c.sheet.book.Figure(c.sheet.Dance, name); ok && c.sheet.byKey[Key(name)] == nil {
			c.sided.add(fig)
		}
	}
	return c.sided
}

// sidesOf returns the figures to the left and to the right that an item means whose name tells no side. Both are nil
// if there is one figure of that name which may follow itself, or not one of each.
func (c *checker) sidesOf(item *Item) (left, right *Figure) {
	if !c.sheet.Known || item.partial() {
		return nil, nil
	}
	base, side := sided(item.Name)
	if side != noSide {
		return nil, nil
	}
	all := c.sidedFigures()
	if fig := c.named(item.Name); fig != nil {
		if item.Times < 2 || fig.repeats() {
			return nil, nil
		}
		if base, side = sided(fig.Name); side == noSide {
			return nil, nil
		}
	}
	if left, right = all.find(base, toLeft), all.find(base, toRight); left == nil || right == nil || left == right || len(left.Rows) == 0 || len(right.Rows) == 0 {
		return nil, nil
	}
	return left, right
}

// repeats reports whether a figure can be danced again at once.
func (f *Figure) repeats() bool {
	if len(f.Rows) == 0 {
		return true
	}
	e := f.effect(0, len(f.Rows))
	m := meet(e.apply(e.needs), &e)
	return len(m.findings("", "")) == 0
}

// unknown reports an item that names no figure.
func (c *checker) unknown(item *Item) {
	if left, right := c.sidesOf(item); left != nil {
		c.add("side-missing", item.name, item.Name+" is danced to the left or to the right", "write "+quoted(left.Name)+" or "+quoted(right.Name)+"; with × 2 it is danced to one side and then to the other")
		return
	}
	if Key(item.Name) == "" {
		c.add("unknown-figure", item.name, quoted(item.Name)+" names no figure", "write which figure is danced here")
		return
	}
	if left, right := c.sidesOf(&Item{Name: withoutSides(item.Name), Times: 2}); left != nil {
		c.add("side-missing", item.name, item.Name+" is two figures, one to each side", "write "+quoted(left.Name)+" and "+quoted(right.Name)+" as two items, in the order in which they are danced")
		return
	}
	if at, told := c.sheet.prose[Key(item.Name)]; told {
		var where []Related
		if at != (extent{}) {
			where = []Related{{c.src.span(at.from, at.to), "this is not read as a chart"}}
		}
		c.add("unknown-figure", item.name, "the section "+quoted(item.Name)+" has no chart", "write the steps there as a table with the columns Count, Leader and Follower", where...)
		return
	}
	c.add("unknown-figure", item.name, "unknown "+c.sheet.Dance.Name+" figure "+quoted(item.Name), c.figureHint(item.Name))
}

// figureHint returns what to write when a figure is not known.
func (c *checker) figureHint(name string) string {
	s := c.sheet
	if len(c.list) > mostHints {
		return ""
	}
	var names []string
	for _, fig := range s.Figures {
		names = append(names, fig.Names()...)
	}
	names = append(names, s.book.Figures(s.Dance)...)
	if dances := c.dancesWith(name); len(dances) > 0 {
		hint := "it is a figure of " + strings.Join(dances, ", ")
		if near := misspelt(name, names); len(near) > 0 {
			hint += "; here perhaps " + strings.Join(near, ", ")
		}
		return hint
	}
	return cmp.Or(didYouMean(name, names), "write its steps below a heading \"## "+name+"\"")
}

// dancesWith returns up to five other dances that have a figure.
func (c *checker) dancesWith(name string) (dances []string) {
	for _, other := range c.sheet.book.Dances() {
		d, ok := c.sheet.book.Dance(other)
		if !ok || Key(d.Name) == Key(c.sheet.Dance.Name) {
			continue
		}
		if _, ok := c.sheet.book.Figure(d, name); ok && len(dances) < 5 {
			dances = append(dances, d.Name)
		}
	}
	return dances
}

// idle mentions the figures of the sheet that its order does not dance.
func (c *checker) idle(out *Score) {
	if len(c.sheet.written) == 0 || c.sheet.Defines {
		return
	}
	meant, lost := map[*Figure]bool{}, false
	for i := range out.Items {
		item := &out.Items[i]
		meant[item.Figure], meant[c.sheet.byKey[Key(item.Name)]] = true, true // also one that can't be danced
		if item.Figure == nil {
			lost = true
			left, right := c.sidesOf(item)
			meant[left], meant[right] = true, true
		}
	}
	for _, fig := range c.sheet.Figures {
		if meant[fig] {
			continue
		}
		at := extent{fig.text.at.from, fig.text.at.to}
		near := slices.IndexFunc(c.sheet.written, func(item Item) bool {
			return c.sheet.byKey[Key(item.Name)] == nil && len(misspelt(item.Name, fig.Names())) > 0
		})
		switch {
		case near < 0 && !lost:
			c.add("figure-not-danced", at, quoted(fig.Name)+" is told here, but the order does not dance it", "")
		case near >= 0 && c.named(c.sheet.written[near].Name) != nil:
			item := &c.sheet.written[near]
			c.add("figure-near", at, quoted(fig.Name)+" is not danced: the order's "+quoted(item.Name)+" is the library's figure", "write both names alike", Related{item.At, "it is danced here"})
		} // else the item is reported, with this figure as what may be meant
	}
}

var rangePattern = lazily(`\d+(\s*(–|—|-|to)\s*\d+)?`)

// rangeOf returns where an item says which steps are danced, "1–9".
func (c *checker) rangeOf(item *Item) extent {
	from := min(item.name.to, item.text.to)
	at := rangePattern.FindStringIndex(c.src.slice(extent{from, item.text.to}))
	if at == nil {
		return item.name
	}
	return extent{from + at[0], from + at[1]}
}
