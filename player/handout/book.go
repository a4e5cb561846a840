package handout

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// book is a class book: it shows each figure of its sheets once, and knows where.
type book struct {
	sheets int
	known  map[string]*shownFigure
	Index  []*shownFigure // in the order of their names, once all sheets are added
}

// add leaves a sheet only those figures that no sheet before it shows; of the others it says where they are.
func (b *book) add(sheet *programme, anchor func(figure int) string) {
	if b.known == nil {
		b.known = map[string]*shownFigure{}
	}
	b.sheets++
	var own []figurePart
	for _, f := range sheet.Figures {
		key := fmt.Sprint(sheet.Dance, f.Name, f.Facts, f.Rows, f.Prose)
		was := b.known[key]
		if was == nil {
			f.shown = &shownFigure{Name: f.Name, Dance: sheet.Dance, Anchor: anchor(f.Number)}
			b.known[key] = f.shown
			b.Index = append(b.Index, f.shown)
			own = append(own, f)
			continue
		}
		sheet.Earlier = append(sheet.Earlier, was)
		if sheet.elsewhere == nil {
			sheet.elsewhere = map[int]string{}
		}
		sheet.elsewhere[f.Number] = was.Anchor
	}
	sheet.Figures = own
	slices.SortStableFunc(b.Index, func(x, y *shownFigure) int {
		return cmp.Or(cmp.Compare(routine.Key(x.Name), routine.Key(y.Name)), cmp.Compare(x.Dance, y.Dance))
	})
}

// Holds says what the book holds.
func (b *book) Holds() string {
	var dances []string
	for _, f := range b.Index {
		if !slices.Contains(dances, f.Dance) {
			dances = append(dances, f.Dance)
		}
	}
	slices.Sort(dances)
	return fmt.Sprintf("%s, %s: %s", routine.Plural(b.sheets, "routine"), routine.Plural(len(b.Index), "figure"), strings.Join(dances, ", "))
}
