package choreography

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Lesson is a lesson with a routine: a warm-up, one figure step by step, and the routine.
type Lesson struct {
	Figure                 *routine.Figure
	WarmUp, Steps, Routine []routine.Item

	faces *routine.Alignment
}

// warmUpBars is how long a warm-up is at least.
const warmUpBars = 4

// Lesson returns a lesson on the routine's new figure or, if it has none, the one that was wished for, or
// its hardest that can be led to. What leads from one thing to the next is taken from figs, which are in order
// from easy to hard. What can't be led to is only danced in the routine.
func (r *Routine) Lesson(d *routine.Dance, figs []*routine.Figure, w Wish) Lesson {
	all := r.toTeach(w)
	for _, fig := range all {
		if l := r.lesson(d, figs, fig); l.Steps != nil {
			return l
		}
	}
	return Lesson{Figure: all[0], Routine: r.Items, faces: r.faces}
}

// lesson returns a lesson on a figure of the routine. It has no steps if the figure can't be led to.
func (r *Routine) lesson(d *routine.Dance, figs []*routine.Figure, fig *routine.Figure) Lesson {
	for _, rounds := range []int{1, 2} { // what doesn't fill whole bars once, may do so danced twice
		for _, inSteps := range []bool{true, false} {
			l := Lesson{Figure: fig, Routine: r.Items, faces: r.faces}
			c := chained{dance: d, figs: figs, tempo: d.Usual.Min}
			c.begin(r)
			l.WarmUp = c.taken()
			l.Steps = c.figure(fig, inSteps, rounds)
			if l.Steps != nil && c.leadTo(r.Items[0]) {
				if l.Steps = append(l.Steps, c.taken()...); l.passes(d) {
					return l
				}
			}
		}
	}
	return Lesson{}
}

// toTeach returns the figures that a lesson may be about, the likeliest first.
func (r *Routine) toTeach(w Wish) []*routine.Figure {
	for _, figs := range [][]*routine.Figure{r.taught, w.With} {
		if len(figs) > 0 {
			return figs[:1]
		}
	}
	var figs []*routine.Figure
	for _, item := range slices.Backward(r.Items) {
		if !slices.Contains(figs, item.Figure) {
			figs = append(figs, item.Figure)
		}
	}
	slices.SortStableFunc(figs, func(a, b *routine.Figure) int { return cmp.Compare(b.Rank(), a.Rank()) })
	return figs
}

// passes reports whether a lesson can be danced from beginning to end.
func (l *Lesson) passes(d *routine.Dance) bool {
	score, found := routine.InOrder(d, l.faces, slices.Concat(l.WarmUp, l.Steps, l.Routine)...)
	return len(append(found, floor.Check(score, found)...)) == 0
}

// chained is items danced one after the other, with what links them.
type chained struct {
	dance *routine.Dance
	figs  []*routine.Figure
	items []routine.Item
	at    routine.Outcome
	done  int           // items taken
	tempo routine.Tempo // at which items are danced; 0 for the dance's own
}

// taken returns the items since it was last asked.
func (c *chained) taken() []routine.Item {
	items := c.items[c.done:]
	c.done = len(c.items)
	return items
}

func (c *chained) dances(item routine.Item) {
	c.at, _, _ = c.at.ThenPart(c.dance, item.Figure, item.From, item.To)
	item.Tempo, item.TempoTo = c.tempo, c.tempo
	c.items = append(c.items, item)
}

// leadTo dances what links an item to the one before, and reports whether anything does.
func (c *chained) leadTo(item routine.Item) bool {
	join := Join{Dance: c.dance, Before: c.items[len(c.items)-1], Next: item, From: c.at}
	links := join.Link(c.figs, 1)
	if len(links) == 0 {
		return false
	}
	for _, fig := range links[0] {
		c.dances(routine.Whole(fig))
	}
	return true
}

// lead dances an item, after what links it to the one before, and reports whether anything does.
func (c *chained) lead(item routine.Item) bool {
	if !c.leadTo(item) {
		return false
	}
	c.dances(item)
	return true
}

// begin dances what the routine opens with, and what leads back to it, for some bars.
func (c *chained) begin(r *Routine) {
	opener := r.Items[0]
	if r.faces != nil {
		c.at = routine.Opening(*r.faces)
	}
	c.dances(opener)
	for c.length() < warmUpBars*c.dance.Metre.Bar() && c.lead(opener) {
	}
}

func (c *chained) length() (sum routine.Beats) {
	for _, item := range c.items {
		sum += item.Figure.Length(item.From, item.To)
	}
	return sum
}

// figure dances a figure: bar by bar first, each time from its beginning, as far as something leads
// back; then all of it, twice in each round. It returns nil if the figure can't be led to.
func (c *chained) figure(fig *routine.Figure, inSteps bool, rounds int) []routine.Item {
	if inSteps {
		for _, to := range heads(c.dance, fig) {
			head := routine.Whole(fig)
			head.To = to
			back := Join{Dance: c.dance, Before: head, Next: routine.Whole(fig)}
			back.From, _, _ = routine.Outcome{}.ThenPart(c.dance, fig, 0, to)
			if len(back.Link(c.figs, 1)) > 0 {
				c.lead(head)
			}
		}
	}
	for range 2 * rounds {
		if !c.lead(routine.Whole(fig)) {
			return nil
		}
	}
	return c.taken()
}

// heads returns the rows before which a figure can be stopped for now, from the first bar on.
func heads(d *routine.Dance, fig *routine.Figure) (rows []int) {
	for _, ways := range ways(fig)[1:] {
		if p := &ways[0]; p.from == 0 {
			rows = append(rows, p.to)
		}
	}
	if len(rows) > 0 {
		return rows
	}
	bar := d.Metre.Bar()
	for i := 1; i < len(fig.Rows); i++ {
		if fig.Length(0, i)%bar == 0 {
			rows = append(rows, i)
		}
	}
	return rows
}

// Sheet returns the text of a sheet for the lesson.
func (l *Lesson) Sheet(d *routine.Dance) []byte {
	var text bytes.Buffer
	title := fmt.Sprintf("%s lesson: %s", d.Name, l.Figure.Name)
	fmt.Fprintf(&text, "---\ndance: %s\ntitle: %q\n", strings.ToLower(d.Name), title)
	if l.faces != nil {
		fmt.Fprintf(&text, "faces: %s\n", l.faces.To)
	}
	fmt.Fprintf(&text, "---\n\n# %s\n\n## Order\n", title)
	for _, part := range []struct {
		name  string
		items []routine.Item
	}{{"Warm-up", l.WarmUp}, {"Step by step", l.Steps}, {"The routine", l.Routine}} {
		if len(part.items) > 0 {
			fmt.Fprintf(&text, "\n### %s\n\n", part.name)
			writeOrder(&text, d, part.items)
		}
	}
	return text.Bytes()
}
