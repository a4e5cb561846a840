package routine

import (
	"fmt"
	"strings"
)

// Outcome is what is known of a couple where one figure ends and another may begin: which feet are
// free, how the partners hold each other and face, and how far the bar has been danced. The zero
// Outcome is the state before anything is danced. Outcomes can be compared.
type Outcome struct {
	couple couple
	at     Beats // from the start of the bar; less than a bar
	last   Beats // the length of the last step; 0 before the first
	begun  bool
}

// Opening returns the state before anything is danced, with the leader's alignment a.
func Opening(a Alignment) Outcome {
	return Outcome{couple: couple{facings: anyFacings.where(Leader, setOf(int(a.Direction())))}}
}

// Turned returns m with the couple as a whole turned by t.
func (m Outcome) Turned(t Turn) Outcome {
	m.couple.facings = m.couple.facings.turned(Leader, t).turned(Follower, t)
	return m
}

// Faces returns the direction that a partner faces; ok is false unless only one is possible.
func (m Outcome) Faces(p Partner) (to Direction, ok bool) { return m.couple.facings.of(p).only() }

// Then dances the whole of fig, a figure of d, from m on. It returns the state afterwards, how long
// that takes from m, and what keeps the figure from being danced here. Places on the floor are not
// considered.
func (m Outcome) Then(d *Dance, fig *Figure) (after Outcome, takes Beats, parted []Finding) {
	return m.ThenPart(d, fig, 0, len(fig.Rows))
}

// ThenPart is Then for the rows from "from" up to, but not including, "to".
func (m Outcome) ThenPart(d *Dance, fig *Figure, from, to int) (after Outcome, takes Beats, parted []Finding) {
	e := fig.effect(from, to)
	agreed, bar := e.needs, d.Metre.Bar()
	start, length := fig.start(d, from), fig.Length(from, to)
	takes = length
	switch {
	case m.begun:
		meeting := meet(m.couple, &e)
		agreed = meeting.agreed
		parted = meeting.findings("this", fig.Name)
		gap, open := fig.gap(from, m.at, m.last, bar)
		if open {
			parted = append(parted, openBar("this", fig.Name, m.at, gap, fig.Rows[from].Count, d))
		}
		start, takes = m.at+gap, gap+length
	case m.couple.facings != 0:
		if agreed.facings &= m.couple.facings; agreed.facings == 0 {
			parted = append(parted, startsOtherwise(m.couple.facings, fig.Name, &e))
			agreed.facings = e.needs.facings
		}
	}
	return Outcome{
		couple: e.apply(agreed),
		at:     (start + length).Into(bar),
		last:   fig.Length(to-1, to),
		begun:  true,
	}, takes, parted
}

// meeting compares what one figure leaves with what the next needs.
type meeting struct {
	left, needs couple
	backs       [2]bool // as effect.backs
	feet        [2]bool // whose free foot differs
	position    bool    // the positions differ
	hands       bool    // which hands hold
	direction   bool    // a partner faces another way than needed
	// agreed is the couple that begins the next figure; where the two differ, as that figure needs.
	agreed couple
}

func meet(left couple, e *effect) meeting {
	m := meeting{left: left, needs: e.needs, backs: e.backs, agreed: left}
	for _, p := range Partners() {
		if m.feet[p] = !left.free[p].overlaps(e.needs.free[p]); m.feet[p] {
			m.agreed.free[p] = e.needs.free[p]
		} else {
			m.agreed.free[p] &= e.needs.free[p]
		}
	}
	if m.agreed.positions = left.positions & e.needs.positions; m.agreed.positions == 0 {
		m.position = true
		m.agreed.positions = e.needs.positions
		m.left.facings = anyFacings.apart(e.needs.positions.difference()).where(Leader, left.facings.of(Leader))
	}
	if m.hands = left.hands.differ(e.needs.hands); m.hands || left.hands == 0 {
		m.agreed.hands = e.needs.hands
	}
	m.agreed.facings = (m.left.facings & e.needs.facings).apart(m.agreed.positions.difference())
	if m.agreed.facings == 0 {
		m.direction = true
		m.agreed.facings = e.needs.facings
	}
	return m
}

// findings reports what keeps two figures apart, without places in a sheet.
func (m *meeting) findings(before, next string) (list []Finding) {
	add := func(code Code, message, hint string) {
		list = append(list, NewFinding(code, Span{}, "after "+before+" "+message, hint))
	}
	var left, needed []string
	for _, p := range Partners() {
		if m.feet[p] {
			left = append(left, fmt.Sprintf("the %s's %s is free", p, m.left.free[p].only()))
			needed = append(needed, fmt.Sprintf("the %s", m.needs.free[p].only()))
		}
	}
	if len(left) > 0 {
		add("join-foot", fmt.Sprintf("%s, but %s starts with %s", strings.Join(left, " and "), next, strings.Join(needed, " and ")),
			"dance a figure between them that ends on the other foot")
	}
	if m.position {
		add("join-position", fmt.Sprintf("the couple is in %s, but %s starts in %s", m.left.positions, next, m.needs.positions),
			"if the hold changes on the last step, write \"- ends: "+m.needs.positions.First().String()+"\" below the item before; if not, dance a figure between them that leads there")
	}
	if m.hands && !m.position {
		first, _ := m.needs.hands.First() // known, as they differ
		add("join-hands", fmt.Sprintf("the couple holds %s, but %s starts with %s", m.left.hands, next, m.needs.hands),
			"if the hands change on the last step, write \"- ends: "+first.String()+"\" below the item before")
	}
	if m.direction {
		message, hint := m.directions(next)
		add("join-direction", message, hint)
	}
	return list
}

// directions reports which partner faces another way than the next figure needs.
func (m *meeting) directions(next string) (message, hint string) {
	for _, p := range Partners() {
		have, needed := m.left.facings.of(p), m.needs.facings.of(p)
		if have&needed != 0 {
			continue
		}
		message = fmt.Sprintf("the %s is %s, but %s starts %s", p, alignments(have, m.backs[p]), next, alignments(needed, m.backs[p]))
		from, ok1 := have.only()
		to, ok2 := needed.only()
		if ok1 && ok2 {
			hint = fmt.Sprintf("a turn of %s is missing", from.To(to))
		}
		return message, hint
	}
	left, needed := standing(m.left.facings), standing(m.needs.facings.apart(m.agreed.positions.difference()))
	if needed == "" || needed == left {
		return left + ", but " + next + " starts with the partners facing other ways", ""
	}
	return left + ", but when " + next + " starts, " + needed, ""
}

// startsOtherwise reports a first figure that can't begin the way the sheet faces.
func startsOtherwise(faces facings, first string, e *effect) Finding {
	return NewFinding("join-direction", Span{},
		fmt.Sprintf("the sheet starts %s, but %s starts %s", alignments(faces.of(Leader), false), first, alignments(e.needs.facings.of(Leader), e.backs[Leader])),
		"change \"faces\" at the top of the sheet")
}

// openBar reports a bar that is not filled: gap beats are missing from at on.
func openBar(before, next string, at, gap Beats, first Count, d *Dance) Finding {
	ends := countAt(at-1, d)
	missing := gap.InBeats() + " are"
	if gap <= Beat {
		missing = gap.InBeats() + " is"
	}
	return NewFinding("bar-not-full", Span{},
		fmt.Sprintf("%s ends on count %s, but %s starts on %s: %s left empty", before, ends, next, first, missing),
		"hold the last step (count "+ends+"-"+countAt(at+gap-1, d)+"), dance something that fills the bar, or start where the bar stopped")
}

// start returns the beat on which a couple that has danced nothing before begins with row "from".
func (f *Figure) start(d *Dance, from int) Beats {
	if f.Floating {
		return (Beats(d.Begins-1)*Beat - f.upbeat(from)).Into(d.Metre.Bar())
	}
	return f.Rows[from].At.Into(d.Metre.Bar())
}

// gap returns the time between the end of the figure before and row "from". The figure before ends at
// "at", with a last step as long as "last". The gap is negative where an upbeat takes its time from
// that step. Open says that the gap should be filled.
func (f *Figure) gap(from int, at, last, bar Beats) (gap Beats, open bool) {
	if f.Floating {
		if up := f.upbeat(from); up < last {
			return -up, false
		}
		return 0, false
	}
	gap = (f.Rows[from].At - at).Into(bar)
	splits := f.Rows[from].Count.splits()
	if splits && bar-gap < Beat && bar-gap < last {
		return gap - bar, false
	}
	late := splits && gap < Beat // a late start lengthens the step before
	return gap, gap != 0 && !late
}

// upbeat returns how long the counts between two beats last with which a floating figure begins. They
// take that time from the step before.
func (f *Figure) upbeat(from int) Beats {
	if !f.Floating || from > 0 {
		return 0
	}
	for _, r := range f.Rows {
		if !r.Count.splits() {
			return r.At
		}
	}
	return 0
}
