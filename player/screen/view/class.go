package view

import (
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/player/screen/term"
)

// class draws the count, the figure and what comes next, all as large as there is room.
func (l letters) class(c *cue.Cue, width, height int) []string {
	figure, next := c.Name(c.Item(c.Event())), c.Following()
	text := func(ink term.Ink, text string) []string { return []string{term.NewRow(width).Put(ink, text).String()} }
	const least = 3 // rows of the count
	// The count comes first: it is higher than a line of the name, as long as that can be read; what comes
	// next is written small before the figure is.
	for _, large := range []bool{true, false} {
		for _, share := range []int{2, 1, 0} {
			for rows := min(mostName+height/12, height/3); rows >= l.leastName(); rows-- {
				names := l.name(figure, width, rows, 2, raster.Strong)
				after := text(term.Plain, "next: "+next)
				if large {
					after = append(text(term.Plain, "next"), l.name(next, width, l.leastName()+rows/6, 2, raster.Room)...)
				}
				left := height - len(names) - len(after)
				if names == nil || large && len(after) == 1 || left < max(least, share*rows) {
					continue
				}
				return append(append(l.large(c.Counted(), c.Counts(), width, left, raster.Strong), names...), after...)
			}
		}
	}
	lines := text(l.theme.Present, " "+c.Counted()+" ")
	if high := height - 2; high >= least {
		lines = l.large(c.Counted(), c.Counts(), width, high, raster.Strong)
	}
	lines = append(append(lines, text(l.theme.Heading, figure)...), text(term.Plain, "next: "+next)...)
	return pad(lines, height)
}
