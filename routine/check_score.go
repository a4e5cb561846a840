package routine

import "fmt"

// Read parses a sheet and dances it through. The score holds all that could be placed; it can be danced
// if no finding is an error.
func Read(name string, src []byte, book Book) (*Score, []Finding) {
	s, f := parse(name, src, book)
	c := checker{findings: f, sheet: s}
	c.figures()
	score := c.score()
	return score, Sorted(f.list)
}

// checker dances a sheet through and reports what can't be danced.
type checker struct {
	*findings
	sheet *Sheet
	sided sidedFigures // nil until it is asked for
	known []*Figure    // as library returns them; nil until they are asked for
}

// report is add for places that are already spans of this sheet.
func (c *checker) report(code Code, at Span, message, hint string, related ...Related) {
	c.list = append(c.list, NewFinding(code, at, message, hint, related...))
}

// figures checks every figure of the sheet on its own.
func (c *checker) figures() {
	for _, fig := range c.sheet.Figures {
		c.suppose(fig)
		for _, f := range c.causes(fig) {
			c.report(f.code, f.at, f.message, f.hint, f.related...)
		}
	}
}

// score places the order's figures and checks where one meets the next.
func (c *checker) score() *Score {
	s := c.sheet
	out := &Score{Sheet: *s}
	c.tempo(s.Tempo, s.Tempo, s.tempoAt)
	d := dancing{checker: c, out: out}
	out.Items = make([]Item, 0, len(s.Items))
	out.Passages = make([]Passage, 0, len(s.Items))
	whole := true
	for i := 0; i < len(s.Items) && whole; i++ {
		whole = d.written(&s.Items[i])
	}
	d.choose()
	for i := range out.Items {
		if whole || i < len(out.Items)-1 {
			d.item(i, &out.Items[i])
		}
	}
	d.close()
	out.settle(out.openings())
	c.phrased(out)
	c.idle(out)
	c.families(out)
	return out
}

func (i *Item) tempoAt() extent {
	for _, s := range i.sets {
		if s.name == "tempo" {
			return s.value
		}
	}
	return i.text
}

// tempo warns of tempi outside the dance's usual range.
func (c *checker) tempo(first, last Tempo, at extent) {
	d := c.sheet.Dance
	if !c.sheet.Known || at == (extent{}) {
		return
	}
	for _, t := range []Tempo{first, last} {
		if !d.Usual.Contains(t) {
			hint := "usual: " + d.RangeText(d.Usual)
			if d.UsualSource != "" {
				hint += " (" + d.UsualSource + ")"
			}
			for _, meant := range []Tempo{t * Tempo(d.Metre.Beats), t / Tempo(d.Metre.Beats)} { // in the other unit
				if 4*meant >= 3*d.Usual.Min && 4*meant <= 5*d.Usual.Max {
					hint = "perhaps you mean " + d.TempoText(meant) + "; " + hint
				}
			}
			c.add("tempo-range", at, fmt.Sprintf("%s is outside the usual range for %s", d.TempoText(t), d.Name), hint)
			return
		}
	}
}
