package routine

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// placement is where counts fall. Each beat is counted from a beat that is the first of a bar or, in a
// floating figure, which can begin wherever the one before stopped, from the figure's own start.
type placement struct {
	at       []Beats
	end      Beats
	floating bool
	troubles []countTrouble
}

// countTrouble is something wrong with the count of one row.
type countTrouble struct {
	row     int
	code    Code
	message string
	hint    string
}

// place finds the beats of counts. A count lasts until the next one's beat; & and a take their time
// from the count before them; a hole is a trouble.
func place(counts []Count, d *Dance) placement {
	if len(counts) == 0 {
		return placement{}
	}
	p := newPlacer(counts, d)
	for row, c := range counts {
		p.row = row
		p.count(c)
	}
	p.out.end = max(p.end, p.previous)
	if p.out.floating {
		start := p.out.at[0]
		for i := range p.out.at {
			p.out.at[i] -= start
		}
		p.out.end -= start
	}
	return p.out
}

// placer goes along a figure's counts.
type placer struct {
	out       placement
	dance     *Dance
	slowQuick bool // the figure is counted in S and Q

	row      int
	beat     Beats // where the last beat of the last whole count began
	end      Beats // where it ends if nothing follows
	whole    Count // the last whole count; zero before there is one
	previous Beats // the onset of the count before
	doubted  bool  // whole did not follow from what came before it
	mixed    bool  // two kinds of count are mixed, so what follows is not reported
}

func newPlacer(counts []Count, d *Dance) *placer {
	first := Count{Kind: And}
	if i := slices.IndexFunc(counts, func(c Count) bool { return !c.splits() }); i >= 0 {
		first = counts[i]
	}
	p := &placer{dance: d, slowQuick: first.slowQuick(), beat: -Beat}
	p.out.at = make([]Beats, len(counts))
	p.out.floating = p.slowQuick || d.FigureNumbers || first.splits()
	if first.Kind == Number && !d.FigureNumbers {
		p.beat = Beats(first.First-2) * Beat // the beat before it, from which a late start takes its time
	}
	p.end = p.beat + Beat
	p.previous = p.beat - 1 // so that any first count comes later
	return p
}

func (p *placer) trouble(code Code, hint, format string, args ...any) {
	if !p.mixed {
		p.out.troubles = append(p.out.troubles, countTrouble{p.row, code, fmt.Sprintf(format, args...), hint})
	}
}

// count places the next count.
func (p *placer) count(c Count) {
	var at Beats
	switch {
	case c.Kind == And:
		at = p.end - p.dance.And
	case c.Kind == A:
		at = p.end - p.dance.A
	case c.Kind == E:
		at = p.beat + Beat/4
		if p.whole.slowQuick() {
			at = p.previous + Beat/4
		}
	case c.slowQuick() != p.slowQuick:
		p.trouble("count-mixed", "count a figure in numbers or in S and Q, not both", "%s is mixed with counts of the other kind", c)
		p.mixed = true
		at = max(p.end, p.previous)
	case c.slowQuick():
		at = p.lasting(c)
	default:
		at = p.number(c)
	}
	if at <= p.previous && !p.mixed {
		p.trouble("count-order", "", "%s does not come after the count before it", c)
		at = p.previous
	}
	p.out.at[p.row], p.previous = max(at, p.previous), max(at, p.previous)
}

// lasting places an S or Q, which begins where the count before ends.
func (p *placer) lasting(c Count) Beats {
	at, length := p.end, p.dance.Slow
	if c.Kind == Quick {
		length = p.dance.Quick
	}
	p.end = at + length
	p.whole = c
	return at
}

// number places a number on the next beat of that name.
func (p *placer) number(c Count) Beats {
	bar := p.dance.Metre.Bar()
	at := p.beat + Beat
	switch {
	case p.whole == Count{}:
	case c.First > p.whole.Last:
		at = p.beat + Beats(c.First-p.whole.Last)*Beat
	case !p.dance.FigureNumbers:
		at += (Beats(c.First-1)*Beat - at).Into(bar)
	}
	if meant, ok := p.backToFront(c); ok {
		p.trouble("count-order", "write "+meant.String(), "%s is held from a later beat to an earlier one", c)
		c, at = meant, p.beat+Beat
	} else if p.whole.Last != p.whole.First && c.First == p.whole.Last && !p.whole.splits() {
		p.trouble("count-order", fmt.Sprintf("write %d there, if it is not held", p.whole.First), "%s is already in the count before it, %s", c, p.whole)
		at = p.beat
	}
	skipped := p.whole != Count{} && at > p.end && !p.doubted // if doubted, the count before may be the wrong one
	switch {
	case skipped && c.First < p.whole.Last && at > p.end+Beat:
		p.trouble("count-skipped", "put the counts in order, or write what is missing between them",
			"%s stands after %s, and nothing is written for count %s between them", c, p.whole, p.missing(at))
	case skipped:
		p.trouble("count-skipped",
			fmt.Sprintf("write %s if %s is held, or a row with – in both columns if both wait", p.heldUntil(at), p.whole),
			"nothing is written for count %s before this %s", p.missing(at), c)
	}
	held := Beats(c.Last-c.First) * Beat
	if held < 0 {
		if held = held.Into(bar); p.dance.FigureNumbers || held == 0 {
			p.trouble("count-order", "", "%s is held from a later count to an earlier one", c)
			held = 0
		}
	}
	p.beat = at + held
	p.end = p.beat + Beat
	p.whole, p.doubted = c, skipped
	return at
}

// backToFront returns the count that is meant by 1-4 where 4-1 comes next.
func (p *placer) backToFront(c Count) (meant Count, ok bool) {
	if p.dance.FigureNumbers || c.First >= c.Last || p.whole == (Count{}) {
		return c, false
	}
	next, after := p.dance.Metre.BeatNumber(p.beat+Beat), p.dance.Metre.BeatNumber(p.beat+2*Beat)
	return Count{Number, c.Last, c.First}, c.Last == next && c.First == after
}

// missing lists the beats between the last one and the one at next.
func (p *placer) missing(next Beats) string {
	var names []string
	for b := p.beat + Beat; b < next && len(names) < 3; b += Beat {
		names = append(names, strconv.Itoa(p.dance.Metre.BeatNumber(b)))
	}
	if next-p.beat > 4*Beat {
		names = append(names, "…")
	}
	return strings.Join(names, ", ")
}

// heldUntil returns the last whole count, written as held up to the beat before next.
func (p *placer) heldUntil(next Beats) string {
	last := p.whole.Last + int((next-p.beat)/Beat) - 1
	if !p.dance.FigureNumbers && p.whole.Last <= p.dance.Metre.Beats {
		last = (last-1)%p.dance.Metre.Beats + 1
	}
	return Count{Number, p.whole.First, last}.String()
}
