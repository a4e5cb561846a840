// Package paths has the sheets and paths that tests draw. Only tests import it.
package paths

import (
	"strings"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine/floor"
)

// Library is the library of all tests of a package: its chapters are read once.
var Library = library.Open()

// Order returns a sheet that dances figures of the library. Settings are whole lines.
func Order(settings string, figures ...string) string {
	return "---\n" + settings + "---\n\n## Order\n\n1. " + strings.Join(figures, "\n1. ") + "\n"
}

// Invented returns a sheet with one figure. Rows are "count | leader | follower".
func Invented(settings, starts string, rows ...string) string {
	return Order(settings, "Boathouse step") + "\n## Boathouse step\n\n- starts: " + starts +
		"\n\n| Count | Leader | Follower |\n|---|---|---|\n| " + strings.Join(rows, " |\n| ") + " |\n"
}

// Trace dances a sheet, even if there is something wrong with it.
func Trace(t require.TestingT, sheet string) *floor.Path {
	score, _ := check.Sheet("boathouse.md", []byte(sheet), Library)
	require.NotEmpty(t, score.Passages, sheet)
	return floor.Trace(score)
}

// Figures returns the paths of all figures in the library, each danced alone.
func Figures(t require.TestingT) (paths []*floor.Path) {
	for _, c := range Library.Chapters() {
		for _, fig := range c.Figures {
			paths = append(paths, floor.Trace(fig.Alone(c.Dance, c.Dance.Stride, fig.Starts.Positions)))
		}
	}
	require.Greater(t, len(paths), 100)
	return paths
}
