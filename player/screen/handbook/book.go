package handbook

import (
	"fmt"

	"dance.example/slowquick/routine"
)

// Book knows dances and their figures. Its methods are called from commands,
// perhaps several at a time, as they may have to read and search.
type Book interface {
	// Chapters lists the dances.
	Chapters() []Chapter
	// Beside lists the figures of a chapter that can be danced before one of them,
	// and those that can be danced after it; the ones that need no turn come first.
	Beside(c *Chapter, fig *routine.Figure) (before, after []Neighbour)
}

// Chapter is a dance and its figures, from easy to hard. It is immutable.
type Chapter struct {
	Dance   *routine.Dance
	Figures []*routine.Figure
}

// Neighbour is a figure that can be danced before or after another.
type Neighbour struct {
	Figure *routine.Figure
	Name   string       // with the steps if only a part can be danced there
	Way    string       // how it is danced there, if not as charted
	Turn   routine.Turn // of the couple between the two, before the first step; 0 for none
}

// levelText names the teaching level of a figure.
func levelText(fig *routine.Figure) string {
	if fig.Level == 0 {
		return "level not said"
	}
	return fmt.Sprintf("level %d", fig.Level)
}
