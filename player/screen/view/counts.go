package view

import (
	"strings"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/term"
)

// counts is how wide a count is in the line of counts: as wide as the widest of a routine.
type counts struct {
	timeline *player.Timeline
	count    player.Counting
	columns  int
}

// width returns it, looking through the routine only when that has changed.
func (w *counts) width(c *cue.Cue) int {
	if w.timeline != c.Moment.Timeline || w.count != c.Count {
		*w = counts{c.Moment.Timeline, c.Count, 4}
		for i := range w.timeline.Events {
			w.columns = max(w.columns, term.Width(c.Label(i))+2)
		}
	}
	return w.columns
}

// draw draws the counts of the bar, or of a figure that does not keep to bars, with the one that is
// heard marked: two lines.
func (w *counts) draw(c *cue.Cue, t term.Theme, width int) []string {
	timeline := c.Moment.Timeline
	now := c.Event()
	from := timeline.Bar(timeline.Events[now].At).From
	if passage := timeline.Events[now].Passage; timeline.Score.Passages[passage].Figure.Floating {
		from = timeline.Passage(passage).From
	}
	first := max(0, timeline.At(from))
	if timeline.Events[first].At < from {
		first++
	}
	if loop := c.Moment.Settings.Loop; !loop.Empty() && loop.Contains(timeline.Events[now].At) {
		first = max(first, timeline.At(loop.From))
	}
	cell := w.width(c)
	room := max(1, (width-NameColumns)/cell)
	if now-first >= room {
		first = now - room/2
	}
	line := term.NewRow(width).Put(term.Plain, "count").To(NameColumns)
	marks := term.NewRow(width)
	for n, i := 0, first; n < room && i >= 0; n, i = n+1, c.After(i) {
		e := &timeline.Events[i]
		column := NameColumns + n*cell
		text := c.Label(i)
		if text == "" {
			text = "·"
		}
		if n > 0 && e.Beat == 1 && !e.Split {
			line.To(column).Put(term.Plain, "|")
		}
		ink := term.Plain
		if i == now && n == now-first && c.Moment.State != player.LeadIn {
			ink = t.Present
			marks.To(column+1).Put(t.Strong, strings.Repeat("▲", max(1, term.Width(text))))
		}
		line.To(column+1).Put(ink, text)
	}
	return []string{line.String(), marks.String()}
}
