package draft

import (
	"cmp"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// first returns the first passage of an item, as an index of the score's; -1 if it has none.
func (d Draft) first(item int) (passage int) {
	if passage, ok := d.from(item); ok {
		return passage
	}
	return -1
}

// last returns the last passage of an item; -1 if it has none.
func (d Draft) last(item int) (passage int) {
	if d.first(item) < 0 {
		return -1
	}
	next, _ := d.from(item + 1)
	return next - 1
}

// from returns where the passages begin of an item or, if it has none, of those after it.
func (d Draft) from(item int) (passage int, ok bool) {
	return slices.BinarySearchFunc(d.Score.Passages, item, func(p routine.Passage, item int) int { return p.Item - item })
}

// Passage returns the passage with which a line of the order ends when it is danced the last time, as an
// index of the score's passages; -1 if it isn't danced.
func (d Draft) Passage(line int) int {
	ends := d.danced[line].ends
	if len(ends) == 0 {
		return -1
	}
	return d.last(ends[len(ends)-1])
}

// Begins returns the beat on which a line is danced first; ok is false if it isn't danced.
func (d Draft) Begins(line int) (at routine.Beats, ok bool) {
	if line < 0 || len(d.danced[line].begins) == 0 {
		return 0, false
	}
	passage := d.first(d.danced[line].begins[0])
	if passage < 0 {
		return 0, false
	}
	return d.Score.Passages[passage].Start, true
}

// Bar returns the bar, from 1, in which a line is danced first; 0 if it isn't danced.
func (d Draft) Bar(line int) int {
	at, ok := d.Begins(line)
	if bar := d.Score.Dance.Metre.Bar(); ok && bar > 0 {
		return int((at-d.Score.Start)/bar) + 1
	}
	return 0
}

// place is where figures are put in.
type place struct {
	from []routine.Outcome // after each way to dance what comes before
	next int               // the passage after it; -1 if that is nothing, or nothing known
}

// placesAfter returns the places at which a figure is danced that is put in after a line; -1 puts it before the
// first. They differ from each other, and there is at least one.
func (d Draft) placesAfter(line int) (places []place) {
	if d.Order.Len() == 0 {
		return []place{{d.before(0), -1}}
	}
	for _, item := range d.itemsAfter(line) {
		places = d.withPlace(places, item, item)
	}
	if len(places) == 0 { // it isn't danced, so that anything can come before it
		places = []place{{[]routine.Outcome{{}}, -1}}
	}
	return places
}

// itemsAfter returns the items of the score that come after a line, or that begin the first line. It passes
// over lines of the same part by which nothing is danced.
func (d Draft) itemsAfter(line int) (items []int) {
	first := func(line int) bool { _, first := d.Order.Part(line); return first }
	for at := line; at >= 0; at-- {
		for _, item := range d.danced[at].ends {
			items = append(items, item+1)
		}
		if len(items) > 0 || first(at) {
			break
		}
	}
	for at := line + 1; len(items) == 0 && at < d.Order.Len() && (at == 0 || !first(at)); at++ {
		items = d.danced[at].begins
	}
	return items
}

// placesOf returns the places at which a figure is danced that is put in instead of a line.
func (d Draft) placesOf(line int) (places []place) {
	for i, item := range d.danced[line].begins {
		places = d.withPlace(places, item, d.danced[line].ends[i]+1)
	}
	return places
}

// withPlace adds the place between what is danced before an item and what begins with another, unless there is one like it.
func (d Draft) withPlace(places []place, from, to int) []place {
	at := place{d.before(from), d.first(to)}
	if slices.ContainsFunc(places, func(p place) bool { return d.same(p, at) }) {
		return places
	}
	return append(places, at)
}

// seenOn is how many passages after a place are compared with those after another: what is put in seldom
// matters to later ones.
const seenOn = 4

// same reports whether what can be danced at one place can be danced at another.
func (d Draft) same(p, q place) bool {
	if !slices.Equal(p.from, q.from) || p.next < 0 || q.next < 0 {
		return p.next == q.next && slices.Equal(p.from, q.from)
	}
	after := func(p place) []routine.Passage {
		return d.Score.Passages[p.next:min(p.next+seenOn, len(d.Score.Passages))]
	}
	return slices.EqualFunc(after(p), after(q), func(a, b routine.Passage) bool {
		return a.Figure == b.Figure && a.From == b.From && a.To == b.To && a.Joined == b.Joined
	})
}

// before returns the outcomes of the ways to dance what comes before an item of the score.
func (d Draft) before(item int) []routine.Outcome {
	s := d.Score
	if item == 0 {
		if s.Faces != nil {
			return []routine.Outcome{routine.Opening(*s.Faces)}
		}
		return []routine.Outcome{{}}
	}
	p := d.last(item - 1)
	if p < 0 { // a figure that isn't known
		return []routine.Outcome{{}}
	}
	from := []routine.Outcome{s.After(p)}
	last := &s.Passages[p]
	if !last.Joined || s.Items[last.Item].Corner {
		return from
	}
	for _, way := range last.Figure.PartWays(last.From, last.To) {
		if end, _, parted := s.After(p-1).ThenPart(s.Dance, way, last.From, last.To); len(parted) == 0 && !slices.Contains(from, end) {
			from = append(from, end)
		}
	}
	return from
}

// isJoin reports whether a finding is about how two lines join.
func isJoin(f routine.Finding) bool {
	return strings.HasPrefix(string(f.Code), "join-") || f.Code == "bar-not-full"
}

// parted reports whether an item can't be danced after the one before it, as far as both are known.
func (d Draft) parted(item int) bool {
	before, after := d.last(item-1), d.first(item)
	return before >= 0 && after >= 0 && (!d.Score.Passages[after].Joined || d.apart(d.Score.After(before), after) != "")
}

// apart says why what follows, from a passage of the score on, can't be danced from an outcome; "" if it can,
// or nothing follows. It looks on as far as something is danced otherwise than now.
func (d Draft) apart(from routine.Outcome, next int) (why string) {
	if next < 0 {
		return ""
	}
	s, ends := d.Score, []routine.Outcome{from}
	for i := next; i < len(s.Passages); i++ {
		p := &s.Passages[i]
		if i > next && !p.Joined {
			return "" // it can't be danced now either
		}
		if ends, why = d.then(ends, p); len(ends) == 0 && i > next {
			return "further on, " + p.Figure.Name + " can't be danced then"
		}
		if item := &s.Items[p.Item]; len(ends) == 0 || slices.Contains(ends, s.After(i)) || item.Ends != 0 || item.Hands != 0 || item.Corner {
			return why
		}
	}
	return ""
}

// then returns the outcomes of all ways to dance a passage from others; if there are none, why says so.
func (d Draft) then(from []routine.Outcome, p *routine.Passage) (ends []routine.Outcome, why string) {
	for _, from := range from {
		for _, way := range p.Figure.PartWays(p.From, p.To) {
			end, _, parted := from.ThenPart(d.Score.Dance, way, p.From, p.To)
			switch {
			case len(parted) > 0:
				why = cmp.Or(why, parted[0].Message)
			case !slices.Contains(ends, end):
				ends = append(ends, end)
			}
		}
	}
	if len(ends) > 0 {
		why = ""
	}
	return ends, why
}
