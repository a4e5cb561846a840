package screen_test

import (
	"strings"
	"testing"
	"testing/synctest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/routine"
)

// TestNothingIsCutInTheExamples: in a window of 80 by 24 every step of every example is seen in whole
// words, in the steps, in the plan and in the class view, one partner's or both.
func TestNothingIsCutInTheExamples(t *testing.T) {
	lib := library.Open()
	names := lib.Sheets()
	require.NotEmpty(t, names)
	for _, name := range names {
		text, err := lib.Sheet(name)
		require.NoError(t, err)
		score, found := check.Sheet(name, text, lib)
		require.False(t, routine.HasErrors(found), "%v", found)
		timeline := player.NewTimeline(score)
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := newShow(t, "", 80, 24, screen.Options{})
				s.shelf.sheets["boathouse"] = dance.Sheet{Name: name, Timeline: timeline, Findings: found}
				s.keys("enter")
				for _, keys := range [][]string{nil, {"s"}, {"s", "v"}, {"s", "v"}, {"s", "v"}} {
					s.keys(keys...).keys("home").heard()
					for i := range timeline.Events {
						for line := range strings.Lines(s.text()) {
							assert.NotContains(t, line, "…", "event %d", i)
						}
						s.keys("right").heard()
					}
				}
			})
		})
	}
}
