// Package screentest has what tests of screens share: keys by name, and a small
// handbook.
package screentest

import (
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/routine"
)

// Book has the dances of package rehearsal. All that is known of a figure is that
// it can be danced after itself and, if the couple turns, after any other.
type Book []handbook.Chapter

// NewBook returns the book, which the caller may change.
func NewBook() Book {
	chaCha, foxtrot := score(rehearsal.Boathouse), score(rehearsal.Lounge)
	lantern, oar := chaCha.Figures[0], chaCha.Figures[1]
	lantern.Level, oar.Level = 1, 2
	lantern.Aliases = []string{"look at the lights"}
	oar.Source = "from memory"
	oar.Starts.Positions = 1<<routine.Closed | 1<<routine.OpenFacing
	oar.Starts.Free = [2]routine.Foot{routine.LF, routine.RF}
	return Book{{Dance: chaCha.Dance, Figures: chaCha.Figures}, {Dance: foxtrot.Dance, Figures: foxtrot.Figures}}
}

// Chapters returns all chapters.
func (b Book) Chapters() []handbook.Chapter { return b }

// Beside returns nothing that can be danced before a figure.
func (b Book) Beside(c *handbook.Chapter, fig *routine.Figure) (before, after []handbook.Neighbour) {
	after = []handbook.Neighbour{{Figure: fig, Name: fig.Name}}
	for _, other := range c.Figures {
		if other != fig {
			after = append(after, handbook.Neighbour{Figure: other, Name: other.Name, Turn: -1})
		}
	}
	return nil, after
}

func score(sheet string) *routine.Score {
	timeline, _ := rehearsal.Read(sheet)
	return timeline.Score
}
