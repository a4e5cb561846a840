package floor

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// Check traces the figures of a score's sheet and the score itself, and reports
// where partners can't be. It skips whatever already has an error among found.
func Check(s *routine.Score, found []routine.Finding) []routine.Finding {
	c := checker{score: s, stained: routine.Faulty(s.Figures, found)}
	unclear := slices.ContainsFunc(s.Passages, func(p routine.Passage) bool { return c.stained[p.Figure.Charted()] })
	for _, fig := range s.Figures {
		if !c.stained[fig] {
			c.figure(fig)
		}
	}
	if !routine.HasErrors(found) && len(s.Passages) > 0 && !unclear {
		c.order()
	}
	c.supposing()
	return c.list
}

// supposing notes what the sheet leaves open of where figures start.
func (c *checker) supposing() {
	var open []*routine.Figure
	for _, fig := range c.score.Figures {
		if len(fig.Rows) > 0 && !fig.Starts.Said() && fig.Has == [2]bool{true, true} || fig.Starts.Supposed {
			open = append(open, fig)
		}
	}
	if len(open) == 0 {
		return
	}
	first := open[0]
	stance := "as the library's figure of that name"
	if !first.Starts.Supposed {
		stance = "in " + c.supposed(first).String()
		for _, p := range routine.Partners() {
			if foot := first.Alone(c.score.Dance, c.score.Stride, routine.AnyPosition).Passages[0].Begins.Free[p]; foot != routine.NoFoot {
				stance += fmt.Sprintf(", %s %s free", p, foot)
			}
		}
	}
	others := ""
	if n := len(open) - 1; n > 0 {
		others = fmt.Sprintf(" (as do %s more)", routine.Plural(n, "figure"))
	}
	c.add("start-supposed", first.At, fmt.Sprintf("%s does not say how it starts%s; it is taken to start %s", first.Name, others, stance),
		"write \"- starts: …\" above its chart")
}

type checker struct {
	score   *routine.Score
	list    []routine.Finding
	stained map[*routine.Figure]bool // figures of the sheet that have an error
}

func (c *checker) add(code routine.Code, at routine.Span, message, hint string, related ...routine.Related) {
	c.list = append(c.list, routine.NewFinding(code, at, message, hint, related...))
}

// figure dances a figure from each position in which it may start.
func (c *checker) figure(fig *routine.Figure) {
	told := map[int]bool{} // by row
	starts := fig.Starts.Positions
	if starts == 0 {
		starts = c.supposed(fig)
	}
	for from := range starts.Positions() {
		path := c.danced(fig, from)
		for _, f := range path.faults {
			if told[f.row] {
				continue
			}
			told[f.row], c.stained[fig] = true, true
			beginning := ""
			if starts != 1<<from {
				beginning = "started in " + from.String() + ", "
			}
			row := &fig.Rows[f.row]
			at := row.Steps[routine.Follower].At
			if !fig.Has[routine.Follower] {
				at = row.Steps[routine.Leader].At
			}
			c.report(f, &path.Score.Passages[0], at, beginning)
		}
	}
}

// danced returns the path of a figure that starts in a position.
func (c *checker) danced(fig *routine.Figure, from routine.Position) *Path {
	return Trace(fig.Alone(c.score.Dance, c.score.Stride, 1<<from))
}

// usualStarts are the positions in which figures usually start, the commonest first (common practice).
var usualStarts = []routine.Position{routine.Closed, routine.OpenFacing, routine.Promenade, routine.CounterPromenade}

// supposed returns the position in which a figure starts that does not say so: where the couple is when
// it is danced in the order, or the usual hold; or any other, if only that lets it be danced.
func (c *checker) supposed(fig *routine.Figure) routine.PositionSet {
	for i := range c.score.Passages {
		if p := &c.score.Passages[i]; p.Figure.Charted() == fig && p.From == 0 && !p.Begins.Positions.Unknown() {
			return p.Begins.Positions
		}
	}
	usual := routine.PositionSet(0)
	for _, from := range usualStarts {
		if !fig.CanStart(from) {
			continue
		}
		if usual == 0 {
			usual = 1 << from
		}
		if len(c.danced(fig, from).faults) == 0 {
			return 1 << from
		}
	}
	return usual
}

// order dances the score, each figure from where the last one leaves the couple.
func (c *checker) order() {
	path := Trace(c.score)
	told := map[int]bool{} // by item
	for _, f := range path.faults {
		p := &c.score.Passages[f.passage]
		if told[p.Item] || c.stained[p.Figure.Charted()] || p.Begins.Positions.Unknown() { // judged by itself
			continue
		}
		told[p.Item] = true
		item := &c.score.Items[p.Item]
		c.report(f, p, item.At, fmt.Sprintf("on %s of %s ", p.Figure.Rows[p.From+f.row].Count, item.Name))
	}
	c.list = append(c.list, inHall(path)...)
	c.list = append(c.list, againstLine(path)...)
}

// report adds the finding for a fault.
func (c *checker) report(f fault, p *routine.Passage, at routine.Span, where string) {
	switch f.kind {
	case tooNear:
		c.add("too-near", at, fmt.Sprintf("%sthe partners run into each other: their bodies are %.0f cm too close", where, f.off),
			"make a step small, close instead, or step round the partner")
	case tooFar:
		c.add("too-far", at, fmt.Sprintf("%sthe partners are %.0f cm too far apart to hold hands", where, f.off),
			"take smaller steps, or let go of the hands and write \"in apart\"")
	default:
		since := ""
		if f.from < f.row {
			since = fmt.Sprintf(" (since %s)", p.Figure.Rows[p.From+f.from].Count)
		}
		told := fmt.Sprintf("the follower is %s for %s%s", f.tooFar(), f.position, since)
		switch why := f.collide(p); {
		case why == "":
		case strings.HasPrefix(where, "on "): // it says where the couple is already
			told += ": " + why
		default:
			told = why + ": " + told
		}
		hint := "the partners' steps differ in length or direction: compare the two columns, or write small or large"
		for _, side := range routine.Partners() {
			if !p.Figure.Has[side] {
				told += fmt.Sprintf(": the chart has no steps of the %s", side)
				hint = fmt.Sprintf("give it a column for the %s", side)
			}
		}
		c.add("place-missed", at, where+told, hint)
	}
}

// collide says on which step both partners go forward, or both back, if that is why a position is missed.
func (f *fault) collide(p *routine.Passage) string {
	if math.Abs(f.way.X) < math.Abs(f.way.Y) {
		return ""
	}
	for _, r := range p.Figure.Rows[p.From+f.from : p.From+f.row+1] {
		leader, follower := r.Steps[routine.Leader].Way, r.Steps[routine.Follower].Way
		switch {
		case f.way.X < 0 && ahead(leader) && ahead(follower):
			return fmt.Sprintf("on %s both go forward, into each other", r.Count)
		case f.way.X > 0 && astern(leader) && astern(follower):
			return fmt.Sprintf("on %s both go back, away from each other", r.Count)
		}
	}
	return ""
}

// tooFar says how far, and in which direction, the follower is outside a position's region.
func (f *fault) tooFar() string {
	side, by := "in front of the leader", f.way.X
	switch {
	case math.Abs(f.way.Y) > math.Abs(f.way.X) && f.way.Y > 0:
		side, by = "to the leader's right", f.way.Y
	case math.Abs(f.way.Y) > math.Abs(f.way.X):
		side, by = "to the leader's left", -f.way.Y
	case f.way.X < 0:
		side, by = "towards the leader's back", -f.way.X
	}
	return fmt.Sprintf("%.0f cm too far %s", by, side)
}
