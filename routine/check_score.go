package routine

import (
	"cmp"
	"fmt"
)

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
}

// report is add for places that are already spans of this sheet.
func (c *checker) report(code Code, at Span, message, hint string, related ...Related) {
	c.list = append(c.list, NewFinding(code, at, message, hint, related...))
}

// figures checks every figure of the sheet on its own.
func (c *checker) figures() {
	for _, fig := range c.sheet.Figures {
		fig.whole = effectOf(fig, 0, len(fig.Rows), c.report)
	}
}

// score places the order's figures and checks where one meets the next.
func (c *checker) score() *Score {
	s := c.sheet
	out := &Score{Sheet: *s}
	c.tempo(s.Tempo, s.Tempo, s.tempoAt)
	d := dancing{checker: c, out: out}
	for i := range out.Items {
		item := &out.Items[i]
		c.resolve(item)
		if item.Tempo != 0 {
			c.tempo(item.Tempo, item.TempoTo, item.tempoAt())
		}
		if item.Figure == nil {
			d.previous = nil // nothing is known of what follows
			d.doubt = true
			continue
		}
		if d.steps > mostSteps {
			c.add("too-large", item.text, fmt.Sprintf("the routine has more than %d steps", mostSteps), "")
			break
		}
		d.item(i, item)
	}
	d.close()
	out.settle()
	c.phrased(out)
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

// resolve finds an item's figure and the rows that are danced of it.
func (c *checker) resolve(item *Item) {
	if item.Figure != nil {
		return
	}
	s := c.sheet
	key := Key(item.Name)
	item.Figure = s.byKey[key]
	if item.Figure == nil && s.Known {
		if fig, ok := s.book.Figure(s.Dance, item.Name); ok {
			item.Figure = fig
		}
	}
	if item.Figure == nil {
		if s.Known && item.Name != "" { // else its figures can't be known
			c.add("unknown-figure", item.name, "unknown "+s.Dance.Name+" figure "+quoted(item.Name), c.figureHint(item.Name))
		}
		return
	}
	if len(item.Figure.Rows) == 0 {
		item.Figure = nil // its chart can't be read, which is reported there
		return
	}
	item.To = len(item.Figure.Rows)
	if item.steps[0] == 0 {
		return
	}
	if item.steps[0] > item.steps[1] || item.steps[0] < 1 || item.steps[1] > item.To {
		c.add("steps-range", item.name, fmt.Sprintf("%s has only %s", item.Figure.Name, Steps(0, item.To)), "")
		item.Figure = nil
		return
	}
	item.From, item.To = item.steps[0]-1, item.steps[1]
}

// figureHint returns what to write when a figure is not known.
func (c *checker) figureHint(name string) string {
	s := c.sheet
	if s.prose[Key(name)] {
		return "its section has no table with a column Count"
	}
	if len(c.list) > mostHints {
		return ""
	}
	var names []string
	for _, fig := range s.Figures {
		names = append(names, fig.Names()...)
	}
	return cmp.Or(didYouMean(name, append(names, s.book.Figures(s.Dance)...)), "write its steps below a heading \"## "+name+"\"")
}
