package main

import (
	"cmp"
	"slices"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// handbook opens the library to the screen.
type handbook struct{ library *library.Library }

// Chapters lists the dances, the figures of each by their teaching level.
func (h handbook) Chapters() []screen.Chapter {
	var list []screen.Chapter
	for _, name := range h.library.Dances() {
		if c, ok := h.library.Chapter(name); ok {
			figs := slices.Clone(c.Figures)
			slices.SortStableFunc(figs, func(a, b *routine.Figure) int { return cmp.Compare(a.Rank(), b.Rank()) })
			list = append(list, screen.Chapter{Dance: c.Dance, Figures: figs})
		}
	}
	return list
}

// Beside lists the figures that can be danced before one, and after it.
func (h handbook) Beside(c *screen.Chapter, fig *routine.Figure) (before, after []screen.Neighbour) {
	return danceable(choreography.Before(c.Dance, fig, c.Figures)), danceable(choreography.After(c.Dance, fig, c.Figures))
}

// danceable keeps the neighbours that can be danced, those last that need a turn.
func danceable(all []choreography.Neighbour) (list []screen.Neighbour) {
	for _, n := range all {
		if len(n.Parted) == 0 || n.Turn != 0 {
			list = append(list, screen.Neighbour{Figure: n.Figure, Turn: n.Turn})
		}
	}
	slices.SortStableFunc(list, func(a, b screen.Neighbour) int { return cmp.Compare(turns(a), turns(b)) })
	return list
}

func turns(b screen.Neighbour) int {
	if b.Turn != 0 {
		return 1
	}
	return 0
}

// Drill dances a figure, and what leads back to it, until that fills its bars.
func (h handbook) Drill(c *screen.Chapter, fig *routine.Figure) screen.Drill {
	var d screen.Drill
	var items []routine.Item
	if figs := choreography.Drill(c.Dance, fig, c.Figures); figs == nil {
		d.Name = "drill: " + fig.Name + ", then walk back in a rest"
		items = []routine.Item{routine.Whole(fig)}
	} else {
		d.Returns = true
		d.Name = "drill: " + choreography.Names(figs)
		items = inWholeBars(c.Dance, figs)
	}
	score, found := routine.InOrder(c.Dance, nil, items...)
	for _, f := range append(found, floor.Check(score, found)...) {
		if f.Code != "last-bar-open" { // of a figure after which there is a rest
			d.Findings = append(d.Findings, f)
		}
	}
	if !routine.HasErrors(d.Findings) && len(score.Passages) > 0 {
		score.Title = d.Name
		d.Timeline = player.NewTimeline(score)
	}
	return d
}

// mostRounds bounds how often figures are danced to fill whole bars.
const mostRounds = 4

// inWholeBars dances figures in order until they end with a bar: else, danced
// again at once, they would shift against the music.
func inWholeBars(d *routine.Dance, figs []*routine.Figure) (items []routine.Item) {
	var length routine.Beats
	for _, f := range figs {
		items = append(items, routine.Whole(f))
		length += f.Length(0, len(f.Rows))
	}
	rounds := 1
	for n := range mostRounds {
		if routine.Beats(n+1)*length%d.Metre.Bar() == 0 {
			rounds = n + 1
			break
		}
	}
	if len(items) == 1 {
		items[0].Times = rounds
		return items
	}
	return slices.Repeat(items, rounds)
}
