package choreography

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Routine is an order of figures that fulfils a wish.
type Routine struct {
	Items  []routine.Item // each once
	Phrase int            // a figure begins each time so many bars have passed; 0 for never
	Again  bool           // it can be looped
	Closed bool           // each phrase ends where the opening can be danced
	Score  Score

	faces  *routine.Alignment
	taught []*routine.Figure // new ones
	steps  []danceStep
	plan   []section
}

// routine returns the routine composed so far.
func (c *composer) routine() *Routine {
	r := &Routine{Phrase: int(c.rules.phrase / c.dance.Metre.Bar()), Again: c.rules.again, Closed: c.rules.unit > 0, faces: c.wish.Faces, steps: slices.Clone(c.steps), plan: c.plan}
	for _, s := range r.steps {
		for i := range s.danced {
			item := s.danced[i].item()
			item.Corner = s.corner && i == len(s.danced)-1
			r.Items = append(r.Items, item)
		}
	}
	return r
}

// faulty returns the number of the first step with which something is wrong in a routine as a sheet would have
// it, or which would be danced in another way than was planned, as a sheet leaves the way open; ok is false if
// nothing is.
func (r *Routine) faulty(d *routine.Dance, w *Wish) (step int, ok bool) {
	var steps []int // of each item
	var ways []string
	items := slices.Clone(r.Items)
	for i := range r.steps {
		for _, p := range r.steps[i].danced {
			items[len(steps)].At.Start.Offset = len(steps) // findings point to it
			steps, ways = append(steps, i), append(ways, p.way.Differs())
		}
	}
	score, found := routine.InOrder(d, r.faces, items...)
	score.Floor = w.Floor
	step = len(r.steps)
	for _, f := range append(found, floor.Check(score, found)...) {
		if f.Code != "last-bar-open" {
			step, ok = min(step, steps[f.Span.Start.Offset]), true
		}
	}
	for i := range score.Passages {
		if score.Passages[i].Figure.Differs() != ways[i] {
			step, ok = min(step, steps[i]), true
		}
	}
	return step, ok
}

// returned returns how much of some steps is danced again after something else or, in a routine of a single
// phrase, danced again at all.
func (c *composer) returned(steps []danceStep) (sum routine.Beats) {
	short := c.total() <= routine.Beats(c.dance.PhraseBars)*c.dance.Metre.Bar()
	met := map[*routine.Figure]bool{}
	var first *routine.Figure // danced for the first time, and still going on
	for i := range steps {
		for j := range steps[i].danced {
			p := &steps[i].danced[j]
			switch {
			case !met[p.figure]:
				met[p.figure], first = true, p.figure
			case short || p.figure != first:
				sum += p.length()
				first = nil
			}
		}
	}
	return sum
}

// same reports whether two routines are the same order.
func (r *Routine) same(other *Routine) bool { return slices.EqualFunc(r.Items, other.Items, alike) }

// asBefore returns how much is in sections that come back, and how much of that is danced as before.
func (r *Routine) asBefore() (as, again routine.Beats) {
	for i := range r.steps {
		step := &r.steps[i]
		s := at(r.plan, step.at)
		if !s.again {
			continue
		}
		again += step.takes
		if recall(r.plan, r.steps[:i], s).next() == step.move {
			as += step.takes
		}
	}
	return as, again
}

// Sheet returns the text of a sheet for the routine.
func (r *Routine) Sheet(d *routine.Dance, w Wish) []byte {
	var text bytes.Buffer
	title := d.Name + ", " + routine.Plural(w.Bars, "bar")
	fmt.Fprintf(&text, "---\ndance: %s\ntitle: %s\n", strings.ToLower(d.Name), title)
	if r.faces != nil {
		fmt.Fprintf(&text, "faces: %s\n", r.faces.To)
	}
	if w.Floor != (routine.Room{}) {
		fmt.Fprintf(&text, "floor: %s\n", w.Floor)
	}
	fmt.Fprintf(&text, "---\n\n# %s\n\n## Order\n\n", title)
	if parts, order := parts(d.Metre.Bar(), r.plan, r.steps, r.Items); len(order) > 1 {
		for i, name := range order {
			fmt.Fprintf(&text, "%d. %s\n", i+1, name)
		}
		for _, p := range parts {
			fmt.Fprintf(&text, "\n### %s\n\n", p.name)
			writeOrder(&text, d, p.items)
		}
		return text.Bytes()
	}
	writeOrder(&text, d, r.Items)
	return text.Bytes()
}

// writeOrder writes items as a numbered list; what is danced several times in a row is one.
func writeOrder(text *bytes.Buffer, d *routine.Dance, items []routine.Item) {
	for i, number := 0, 1; i < len(items); number++ {
		first := &items[i]
		times := 1
		for i++; i < len(items) && !items[i-1].Corner && items[i].Figure == first.Figure && items[i].From == first.From && items[i].To == first.To; i++ {
			times++
		}
		fmt.Fprintf(text, "%d. %s", number, first.Name)
		if first.From > 0 || first.To < len(first.Figure.Rows) {
			fmt.Fprintf(text, " %s", routine.Steps(first.From, first.To))
		}
		if times > 1 {
			fmt.Fprintf(text, " × %d", times)
		}
		fmt.Fprintln(text)
		if first.Tempo != 0 {
			fmt.Fprintf(text, "   - tempo: %s\n", first.TempoText(d))
		}
		if items[i-1].Corner {
			fmt.Fprintln(text, "   - corner: after")
		}
	}
}
