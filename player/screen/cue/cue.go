// Package cue works out what to tell dancers at a moment: the count, each
// partner's step, the figure, and what follows, as far as they want it shown.
//
// It draws nothing and keeps nothing: a [Cue] is a value that every view of the
// dance reads. What is hidden from dancers who learn by heart is hidden here, so
// that no view can give it away.
package cue

import (
	"cmp"
	"fmt"
	"strconv"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// Cue is a moment of a dance, and how it is shown.
type Cue struct {
	Moment  player.Moment // its timeline has events
	Dancers routine.Dancers
	Count   player.Counting
	Hidden  practice.Hidden
}

// Ellipsis stands for a step or a name that is hidden.
const Ellipsis = "…"

// Event returns the index of the event that is shown: in a lead-in, the first step.
func (c *Cue) Event() int {
	if c.Moment.State == player.LeadIn {
		return max(0, c.Moment.Timeline.At(c.Moment.Begins))
	}
	return max(0, c.Moment.Event)
}

// At returns the event that is shown.
func (c *Cue) At() *player.Event { return &c.Moment.Timeline.Events[c.Event()] }

// Moving reports whether the couple dances or is counted in.
func (c *Cue) Moving() bool {
	return c.Moment.State == player.Dancing || c.Moment.State == player.LeadIn
}

// Style returns how an event is counted.
func (c *Cue) Style(event int) routine.CountStyle {
	return c.Moment.Timeline.Style(event, c.Count)
}

// Language returns what is counted in.
func (c *Cue) Language() routine.Language { return c.Moment.Timeline.Language(c.Count) }

// Label returns what is counted on an event; where nothing is said, the count in
// the chart; "" where there is none either.
func (c *Cue) Label(event int) string {
	labels := c.Moment.Timeline.Events[event].Labels
	return harmless.Line(cmp.Or(c.Moment.Timeline.Said(labels, event, c.Count), labels.Count))
}

// said is what is counted on an event, in letters that can be drawn large.
func (c *Cue) said(event int) string {
	labels := c.Moment.Timeline.Events[event].Labels
	if text := c.Moment.Timeline.Said(labels, event, c.Count); term.Drawable(text) {
		return harmless.Line(text)
	}
	return harmless.Line(labels.Count)
}

// Counted returns the count that is heard, or the last one if nothing is said now.
// Its letters can be drawn large.
func (c *Cue) Counted() string {
	if c.Moment.State == player.LeadIn {
		return strconv.Itoa(c.Moment.LeadInNumber())
	}
	for i := c.Event(); i >= 0; i-- {
		if text := c.said(i); text != "" {
			return text
		}
	}
	return ""
}

// Counts returns every text that Counted can return for the timeline, each once.
func (c *Cue) Counts() []string {
	timeline := c.Moment.Timeline
	var texts []string
	seen := map[string]bool{"": true}
	add := func(text string) {
		if !seen[text] {
			seen[text] = true
			texts = append(texts, text)
		}
	}
	for n := range timeline.Score.Dance.Metre.Beats {
		add(strconv.Itoa(n + 1))
	}
	for i := range timeline.Events {
		add(c.said(i))
	}
	return texts
}

// After returns the event that is danced after another, round the loop if there is
// one; -1 at the end.
func (c *Cue) After(event int) int {
	timeline := c.Moment.Timeline
	next := event + 1
	if loop := c.Moment.Settings.Loop; !loop.Empty() && timeline.Events[event].At < loop.To && (next >= len(timeline.Events) || timeline.Events[next].At >= loop.To) {
		return max(0, timeline.At(loop.From))
	}
	if next >= len(timeline.Events) {
		return -1
	}
	return next
}

// Step returns what a partner does at an event: the step that began last, and the
// event on which it began. It is nil before the first step.
func (c *Cue) Step(p routine.Partner, event int) (*routine.Step, int) {
	for i := event; i >= 0; i-- {
		if s := c.Moment.Timeline.Events[i].Steps[p]; s != nil {
			return s, i
		}
	}
	return nil, -1
}

// Next returns the step that a partner does after the one at an event, and on which
// event; nil if there is none.
func (c *Cue) Next(p routine.Partner, event int) (*routine.Step, int) {
	i := event
	for range c.Moment.Timeline.Events { // a loop may have none
		if i = c.After(i); i < 0 {
			break
		}
		if s := c.Moment.Timeline.Events[i].Steps[p]; s != nil {
			return s, i
		}
	}
	return nil, -1
}

// Shows reports whether the step that a partner does at an event is shown.
func (c *Cue) Shows(p routine.Partner, event int) bool {
	if c.Hidden.AllSteps() {
		return true
	}
	_, at := c.Step(p, event)
	if at < 0 {
		return true
	}
	e := &c.Moment.Timeline.Events[at]
	passage := &c.Moment.Timeline.Score.Passages[e.Passage]
	return c.Hidden.Step(practice.Cell{Figure: passage.Figure.Name, Line: passage.Item + 1, Row: e.Row - passage.From, Partner: p})
}

// Foot returns the foot of the step that a partner does at an event: "L", "R", "-" if
// the partner stands, "" if there is none or it is hidden.
func (c *Cue) Foot(p routine.Partner, event int) string {
	s, _ := c.Step(p, event)
	switch {
	case s == nil || !c.Shows(p, event):
		return ""
	case s.Stands():
		return "-"
	}
	return s.Foot.String()[:1]
}

// Words returns a step in words, or the ellipsis if it is hidden; event is that on
// which it is danced.
func (c *Cue) Words(p routine.Partner, s *routine.Step, event int) string {
	switch {
	case s == nil:
		return ""
	case c.Shows(p, event):
		return harmless.Line(s.Words())
	}
	return Ellipsis
}

// Item returns the line of the order that is danced at an event.
func (c *Cue) Item(event int) *routine.Item {
	score := c.Moment.Timeline.Score
	return &score.Items[score.Passages[c.Moment.Timeline.Events[event].Passage].Item]
}

// Name returns the name of an item's figure, or the ellipsis if names are hidden.
func (c *Cue) Name(item *routine.Item) string {
	items := c.Moment.Timeline.Score.Items
	for i := range items {
		if &items[i] == item && !c.Hidden.Name(item.Figure.Name, i+1) {
			return Ellipsis
		}
	}
	return harmless.Line(item.Figure.Part(item.From, item.To))
}

// Differs says how the figure is danced here otherwise than charted, or "" if it is not, or if its steps are hidden.
func (c *Cue) Differs() string {
	event := c.Event()
	for _, p := range c.Dancers.Partners() {
		if !c.Shows(p, event) {
			return ""
		}
	}
	timeline := c.Moment.Timeline
	return timeline.Score.Passages[timeline.Events[event].Passage].Figure.Differs()
}

// Ahead returns the figure that begins within a bar while the couple dances, "the
// end", or "" if that is further off.
func (c *Cue) Ahead() string {
	timeline, event := c.Moment.Timeline, c.Event()
	end := timeline.Passage(timeline.Events[event].Passage).To
	if c.Moment.State != player.Dancing || end-c.Moment.Beat > timeline.Score.Dance.Metre.Bar() {
		return ""
	}
	return c.Following()
}

// Following returns the figure that comes after the one that is shown, or "the end".
func (c *Cue) Following() string {
	timeline, event := c.Moment.Timeline, c.Event()
	passage := timeline.Events[event].Passage
	last := event
	for last+1 < len(timeline.Events) && timeline.Events[last+1].Passage == passage {
		last++
	}
	next := c.After(last)
	if loop := c.Moment.Settings.Loop; !loop.Empty() && timeline.Events[event].At < loop.To && loop.To < timeline.Passage(passage).To {
		next = max(0, timeline.At(loop.From)) // the loop ends before the figure does
	}
	if next < 0 {
		return "the end"
	}
	return c.Name(c.Item(next))
}

// Coming returns up to n figures that come next, or what follows the last.
func (c *Cue) Coming(n int) []string {
	timeline, event := c.Moment.Timeline, c.Event()
	loop := c.Moment.Settings.Loop
	again := !loop.Empty() && timeline.Events[event].At < loop.To
	var names []string
	for i := timeline.Events[event].Passage + 1; i < len(timeline.Score.Passages) && len(names) < n; i++ {
		passage := &timeline.Score.Passages[i]
		if again && passage.Start >= loop.To {
			break
		}
		if passage.Round > 0 && len(names) > 0 {
			continue // its first round has named it
		}
		item := &timeline.Score.Items[passage.Item]
		name := c.Name(item)
		switch {
		case passage.Round > 0:
			name += " again"
		case item.Times > 1:
			name += fmt.Sprintf(" × %d", item.Times)
		}
		names = append(names, name)
	}
	switch {
	case len(names) == n:
		return names
	case again:
		return append(names, "again from "+Place(timeline, loop.From))
	}
	return append(names, "the end")
}

// Place names a beat by its bar and count.
func Place(t *player.Timeline, beat routine.Beats) string {
	e := &t.Events[max(0, t.At(beat))]
	if e.Labels.Count == "" {
		return fmt.Sprintf("bar %d, beat %d", e.Bar, e.Beat)
	}
	return fmt.Sprintf("bar %d, count %s", e.Bar, e.Labels.Count)
}
