package screen

import (
	"cmp"
	"slices"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/routine"
)

// LibraryBook is a library as a [Handbook].
type LibraryBook struct{ *library.Library }

// Chapters lists the dances, the figures of each by their teaching level.
func (h LibraryBook) Chapters() []handbook.Chapter {
	var list []handbook.Chapter
	for _, c := range h.Library.Chapters() {
		figs := slices.Clone(c.Figures)
		slices.SortStableFunc(figs, func(a, b *routine.Figure) int { return cmp.Compare(a.Rank(), b.Rank()) })
		list = append(list, handbook.Chapter{Dance: c.Dance, Figures: figs})
	}
	return list
}

// Beside lists the figures that can be danced before one, and after it.
func (h LibraryBook) Beside(c *handbook.Chapter, fig *routine.Figure) (before, after []handbook.Neighbour) {
	return neighbours(choreography.Before(c.Dance, fig, c.Figures)), neighbours(choreography.After(c.Dance, fig, c.Figures))
}

func neighbours(all []choreography.Neighbour) (list []handbook.Neighbour) {
	for _, n := range choreography.Danceable(all) {
		list = append(list, handbook.Neighbour{Figure: n.Figure, Name: n.Name(), Way: n.Way, Turn: n.Turn})
	}
	return list
}

// Drill dances a figure, and what leads back to it, until that fills its bars.
func (h LibraryBook) Drill(c *handbook.Chapter, fig *routine.Figure) Drill {
	made := choreography.NewDrill(c.Dance, fig, c.Figures)
	d := Drill{Sheet: dance.Sheet{Name: made.Name, Findings: made.Findings}, Returns: made.Returns}
	if !routine.HasErrors(d.Findings) && len(made.Score.Passages) > 0 {
		d.Timeline = player.NewTimeline(made.Score)
	}
	return d
}
