package routine

import (
	"fmt"
	"slices"
	"strconv"
)

// dancing is the state while a routine is danced through.
type dancing struct {
	*checker
	out      *Score
	now      couple
	previous *Item // nil at the start, and after an item that is not known
	placed   bool  // whether it is known where in the bar previous ended
	doubt    bool  // whether the length of the whole is unknown
	steps    int
	corners  int
	chooser  chooser // of the items up to
	followed int
	ways     []*Figure // for each passage; nil if all are danced as charted
}

// last returns the latest passage, or nil if there is none.
func (d *dancing) last() *Passage {
	if len(d.out.Passages) == 0 {
		return nil
	}
	return &d.out.Passages[len(d.out.Passages)-1]
}

// written adds an item to the score as the sheet has it. It returns false if there is too much to dance.
func (d *dancing) written(w *Item) bool {
	var left, right *Figure
	if w.Figure == nil && w.Times > 1 {
		left, right = d.sidesOf(w)
	}
	if left == nil {
		return d.next(*w)
	}
	sides := [2]*Figure{left, right}
	if !d.fits(left) && d.fits(right) {
		sides = [2]*Figure{right, left}
	}
	d.add("sides-alternate", w.name, fmt.Sprintf("%s is danced to both sides in turn: %s, then %s", w.Name, sides[0].Name, sides[1].Name), "")
	for n := range w.Times {
		item := *w
		item.Name, item.Figure, item.To, item.Times = sides[n%2].Name, sides[n%2], len(sides[n%2].Rows), 1
		between := func(n int) Tempo { return w.Tempo + (w.TempoTo-w.Tempo)*Tempo(n)/Tempo(w.Times) }
		item.Tempo, item.TempoTo = between(n), between(n+1)
		if n < w.Times-1 {
			item.Ends, item.Hands, item.Corner, item.Closes = 0, 0, false, nil
		}
		if n > 0 {
			item.Remark, item.Opens = "", nil
		}
		if !d.next(item) {
			return false
		}
	}
	return true
}

// fits reports whether a figure can follow the items that the score has so far.
func (d *dancing) fits(fig *Figure) bool {
	d.follow()
	if !d.chooser.known {
		return true
	}
	item := Whole(fig)
	return slices.ContainsFunc(d.chooser.states, func(s *state) bool {
		return slices.ContainsFunc(item.Figure.danceable(0, item.To), func(way *Figure) bool {
			e := item.effectOf(way)
			_, cost := d.chooser.after(s, &item, &e)
			return cost == 0
		})
	})
}

// follow follows the ways to dance the items that were added.
func (d *dancing) follow() {
	d.chooser.sheet = d.sheet
	for ; d.followed < len(d.out.Items); d.followed++ {
		d.chooser.item(&d.out.Items[d.followed])
	}
}

// choose chooses how the passages are danced.
func (d *dancing) choose() {
	if slices.ContainsFunc(d.out.Items, func(i Item) bool { return i.Figure != nil && i.Figure.ways != nil }) {
		d.follow()
		d.ways = d.chooser.chosen()
	}
}

// next adds the next item to the score. It returns false if there is too much to dance.
func (d *dancing) next(next Item) bool {
	d.out.Items = append(d.out.Items, next)
	i := len(d.out.Items) - 1
	item := &d.out.Items[i]
	d.resolve(item)
	if item.Tempo != 0 {
		d.tempo(item.Tempo, item.TempoTo, item.tempoAt())
	}
	if item.Figure == nil {
		return true
	}
	if d.steps > mostSteps {
		d.add("too-large", item.text, fmt.Sprintf("the routine has more than %d steps", mostSteps), "")
		return false
	}
	d.steps += (item.To - item.From) * item.Times
	return true
}

// item dances one item as many times as it says.
func (d *dancing) item(index int, item *Item) {
	if item.Figure == nil {
		d.previous = nil // nothing is known of what follows
		d.doubt = true
		return
	}
	fig := item.Figure
	e := item.effectOf(fig)
	for round := range item.Times {
		if d.ways != nil && d.ways[len(d.out.Passages)] != fig {
			fig = d.ways[len(d.out.Passages)]
			e = item.effectOf(fig)
		}
		joined := d.join(item, &e)
		begins := d.now
		d.now = e.apply(d.now)
		if item.Ends != 0 && d.now.facings.apart(item.Ends.difference()) == 0 {
			d.add("end-contradicted", item.ends, fmt.Sprintf("after %s the partners can't be in %s: %s", item.Name, item.Ends, standing(d.now.facings)), "")
			d.now.positions, d.now.facings = AnyPosition, anyFacings
		}
		start := d.begin(item, fig)
		p := Passage{Item: index, Round: round, Figure: fig, From: item.From, To: item.To, Start: start,
			End: start + fig.Length(item.From, item.To), Begins: begins.shown(), Ends: d.now.positions, Held: e.held, Hands: e.hands,
			Corners: d.corners, Joined: joined, facings: begins.facings, moved: e, left: d.now}
		d.out.Passages = append(d.out.Passages, p)
		d.out.End = p.End
		d.previous, d.placed = item, !fig.unplaced && !fig.doubtful
		d.doubt = d.doubt || !d.placed
	}
	if item.Corner {
		d.corners++
		d.now.facings = d.now.facings.turned(Leader, CornerTurn).turned(Follower, CornerTurn)
		d.last().left = d.now
	}
}

// begin returns the beat on which a passage begins, and reports a bar that the passage before leaves
// open.
func (d *dancing) begin(item *Item, fig *Figure) Beats {
	last := d.last()
	if last == nil {
		d.out.Start = fig.start(d.sheet.Dance, item.From)
		return d.out.Start
	}
	gap, open := fig.gap(item.From, last.End, last.End-last.At(last.To-1), d.sheet.Dance.Metre.Bar())
	if open && d.placed && !fig.doubtful && d.previous != nil && d.sheet.Known {
		f := openBar(d.previous.Name, item.Name, last.End, gap, fig.Rows[item.From].Count, d.sheet.Dance)
		d.add(f.Code, item.name, f.Message, f.Hint)
		d.doubt = true // the last bar may be open for that
	}
	last.End += gap
	return last.End
}

// shorten takes time off the passage's last step. It returns false if that step is not longer than by.
func (p *Passage) shorten(by Beats) bool {
	if p.End-by <= p.At(p.To-1) {
		return false
	}
	p.End -= by
	return true
}

// countAt returns the number, within its bar, of the beat at a place.
func countAt(at Beats, d *Dance) string {
	return strconv.Itoa(d.Metre.BeatNumber(at))
}

// join compares what one passage leaves with what the next needs, and reports what does not fit. It
// returns true if both are known and fit.
func (d *dancing) join(item *Item, e *effect) bool {
	if d.previous == nil {
		d.now = e.needs
		if d.last() != nil { // something unknown was danced before
			return false
		}
		now, ok := d.sheet.begins(e)
		if d.now = now; !ok {
			f := startsOtherwise(anyFacings.where(Leader, setOf(int(d.sheet.Faces.Direction()))), item.Name, e)
			d.add(f.Code, item.name, f.Message, f.Hint)
		}
		return false
	}
	at := Related{d.src.span(d.previous.name.from, d.previous.name.to), "the figure before"}
	m := meet(d.now, e)
	for _, f := range m.findings(d.previous.Name, item.Name) {
		light := d.lightEnd(&m)
		switch {
		case f.Code != "join-foot" || light == nil:
			d.add(f.Code, item.name, f.Message, f.Hint, at)
		case d.previous.Figure == item.Figure: // so it's the step that is wrong, not the order
			d.report(f.Code, light.At, f.Message, light.lightly(), at)
		default:
			d.add(f.Code, item.name, f.Message, light.lightly()+"; if not, "+f.Hint, at, Related{light.At, "the step is here"})
		}
	}
	if !m.position {
		d.last().Ends = m.agreed.positions
	}
	d.now = m.agreed
	return !m.position && !m.direction
}

// lightEnd returns the step that ends the passage before without weight, if a partner would have the foot free that is
// needed if it took the weight; nil if there is none in this sheet.
func (d *dancing) lightEnd(m *meeting) *Step {
	last := d.last()
	if d.sheet.byKey[Key(last.Figure.Name)] != last.Figure {
		return nil
	}
	for _, p := range Partners() {
		for row := last.To - 1; m.feet[p] && row >= last.From; row-- {
			s := &last.Figure.Rows[row].Steps[p]
			if s.Stands() || s.Pivots() {
				continue
			}
			if s.Weight == None && m.needs.free[p].has(s.Foot.Other()) {
				return s
			}
			break
		}
	}
	return nil
}

// lightly says what may be wrong with a step that takes no weight.
func (s *Step) lightly() string {
	return "the last step of " + s.Foot.String() + " takes no weight; if it does, say where it goes instead"
}

// close warns of a routine that stops within a bar.
func (d *dancing) close() {
	if d.previous == nil || d.doubt || !d.sheet.Known {
		return
	}
	bar := d.sheet.Dance.Metre.Bar()
	over := (d.out.End - d.out.Start).Into(bar)
	if over == 0 {
		return
	}
	// If the routine is danced again at once, its first step follows its last. A first step between two
	// beats lengthens or shortens the last, as it does with any step before it.
	first, last := &d.out.Passages[0], d.last()
	if first.Figure.Rows[first.From].Count.splits() {
		if bar-over < Beat {
			last.End += bar - over
			over = 0
		} else if over < Beat && last.shorten(over) {
			over = 0
		}
		d.out.End = last.End
	}
	if over == 0 {
		return
	}
	d.add("last-bar-open", d.previous.name, fmt.Sprintf("the routine ends on count %s, %s before its last bar is full", countAt(d.out.End-1, d.sheet.Dance), (bar-over).InBeats()),
		"fill the bar, so that the routine can be repeated in time")
}
