package view

import (
	"math"
	"strings"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// large draws a text as large as all of texts can be drawn in so many columns and rows, in the
// middle.
func (m *Model) large(text string, texts []string, columns, rows int, ink raster.Ink) []string {
	canvas := raster.New(columns, rows, m.cells)
	width, height := canvas.Size()
	size := float64(height)
	for _, t := range texts {
		from, to := raster.Text(t, 100).Bounds()
		if w := to.X - from.X; w > 0 {
			size = min(size, float64(width-2)/w*100)
		}
	}
	// Letters that hang below the line need room too.
	shape := raster.Text(text, math.Floor(size*0.95))
	from, to := shape.Bounds()
	canvas.Fill(shape.Move(math.Round((float64(width)-to.X+from.X)/2-from.X), math.Round(max(0, (float64(height)-size)/2))), ink)
	return canvas.Rows()
}

// mostName is the rows of a name's letters where there is room.
const mostName = 6

// leastName returns the rows of letters below which a name is written as text. Without shades between
// the colours small letters can't be read.
func (m *Model) leastName() int {
	if m.cells.Mode().Depth == raster.Mono {
		return 4
	}
	return 3
}

// name draws a name in letters of so many rows, on as many lines as it needs; nil if it needs more
// than lines.
func (m *Model) name(text string, columns, rows, lines int, ink raster.Ink) []string {
	size := float64(2*rows) * 0.72 // capitals; the rest is for what hangs below the line
	wide := func(t string) float64 {
		_, to := raster.Text(t, size).Bounds()
		return to.X
	}
	var parts []string
	for _, word := range strings.Fields(strings.ReplaceAll(text, "-", "- ")) {
		if wide(word) > float64(columns) {
			return nil
		}
		if n := len(parts); n > 0 {
			between := " "
			if strings.HasSuffix(parts[n-1], "-") {
				between = ""
			}
			if wide(parts[n-1]+between+word) <= float64(columns) {
				parts[n-1] += between + word
				continue
			}
		}
		parts = append(parts, word)
	}
	if len(parts) > lines {
		return nil
	}
	var drawn []string
	for _, part := range parts {
		canvas := raster.New(columns, rows, m.cells)
		canvas.Fill(raster.Text(part, size).Move(0, 1), ink)
		drawn = append(drawn, canvas.Rows()...)
	}
	return drawn
}

// class draws the count, the figure and what comes next, all as large as there is room.
func (m *Model) class(c *cue.Cue, width, height int) []string {
	figure, next := c.Name(c.Item(c.Event())), c.Following()
	text := func(ink term.Ink, text string) []string { return []string{term.NewRow(width).Put(ink, text).String()} }
	const least = 3 // rows of the count
	// The count comes first: it is higher than a line of the name, as long as that can be read; what comes
	// next is written small before the figure is.
	for _, large := range []bool{true, false} {
		for _, share := range []int{2, 1, 0} {
			for rows := min(mostName+height/12, height/3); rows >= m.leastName(); rows-- {
				names := m.name(figure, width, rows, 2, raster.Strong)
				after := text(term.Plain, "next: "+next)
				if large {
					after = append(text(term.Plain, "next"), m.name(next, width, m.leastName()+rows/6, 2, raster.Room)...)
				}
				left := height - len(names) - len(after)
				if names == nil || large && len(after) == 1 || left < max(least, share*rows) {
					continue
				}
				return append(append(m.large(c.Counted(), c.Counts(), width, left, raster.Strong), names...), after...)
			}
		}
	}
	lines := text(m.theme.Present, " "+c.Counted()+" ")
	if high := height - 2; high >= least {
		lines = m.large(c.Counted(), c.Counts(), width, high, raster.Strong)
	}
	lines = append(append(lines, text(m.theme.Heading, figure)...), text(term.Plain, "next: "+next)...)
	return pad(lines, height)
}

// Counts draws the counts of the bar, or of a figure that does not keep to bars, with the one that is
// heard marked: two lines.
func (m *Model) Counts(c *cue.Cue, width int) []string {
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
	cell := m.counts.width(c)
	room := max(1, (width-NameColumns)/cell)
	if now-first >= room {
		first = now - room/2
	}
	counts := term.NewRow(width).Put(term.Plain, "count").To(NameColumns)
	marks := term.NewRow(width)
	for n, i := 0, first; n < room && i >= 0; n, i = n+1, c.After(i) {
		e := &timeline.Events[i]
		column := NameColumns + n*cell
		text := c.Label(i)
		if text == "" {
			text = "·"
		}
		if n > 0 && e.Beat == 1 && !e.Split {
			counts.To(column).Put(term.Plain, "|")
		}
		ink := term.Plain
		if i == now && n == now-first && c.Moment.State != player.LeadIn {
			ink = m.theme.Present
			marks.To(column+1).Put(m.theme.Strong, strings.Repeat("▲", max(1, term.Width(text))))
		}
		counts.To(column+1).Put(ink, text)
	}
	return []string{counts.String(), marks.String()}
}

// cells is how wide a count is in the line of counts: as wide as the widest of a routine.
type cells struct {
	timeline *player.Timeline
	count    routine.CountStyle
	columns  int
}

// width returns it, looking through the routine only when that has changed.
func (w *cells) width(c *cue.Cue) int {
	if w.timeline != c.Moment.Timeline || w.count != c.Count {
		*w = cells{c.Moment.Timeline, c.Count, 4}
		for i := range w.timeline.Events {
			w.columns = max(w.columns, term.Width(c.Label(i))+2)
		}
	}
	return w.columns
}
