package quiz_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen/internal/screentest"
	"dance.example/slowquick/player/screen/quiz"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// TestOneAnswerCounts: the right one is shown, and no other can be given.
func TestOneAnswerCounts(t *testing.T) {
	timeline, _ := rehearsal.Read(rehearsal.Boathouse)
	q := quiz.New(timeline.Score, routine.Both, nil, nil, term.NewTheme(true))
	view := func() string { return ansi.Strip(q.View(80, 24)) }
	require.Contains(t, view(), "Do you know it?")
	require.NotContains(t, view(), "✓")
	assert.Equal(t, term.PageStay, q.Press(screentest.Key("1")))
	assert.Contains(t, view(), "✓")
	assert.Regexp(t, regexp.MustCompile("[01] of 1 right"), view())
	answered := view()
	q.Press(screentest.Key("2"))
	assert.Equal(t, answered, view())
	q.Press(screentest.Key(" "))
	assert.NotContains(t, view(), "✓")
	assert.Equal(t, term.PageBack, q.Press(screentest.Key("esc")))
	assert.Equal(t, term.PageQuit, q.Press(screentest.Key("q")))
}

// TestTheAnswerIsExplained in any window: whether it is right, why, and the steps that it is about.
func TestTheAnswerIsExplained(t *testing.T) {
	timeline, _ := rehearsal.Read(rehearsal.Boathouse)
	for range 20 {
		q := quiz.New(timeline.Score, routine.Both, nil, nil, term.NewTheme(true))
		require.NotContains(t, ansi.Strip(q.View(80, 24)), "▸")
		q.Press(screentest.Key("1"))
		for _, width := range []int{30, 40, 80, 160} {
			for _, line := range strings.Split(ansi.Strip(q.View(width, 24)), "\n") {
				assert.LessOrEqual(t, ansi.StringWidth(line), width)
			}
		}
		view := ansi.Strip(q.View(80, 24))
		assert.Regexp(t, `(?m)^(Right|Not quite)\. [A-Z]`, view)
		assert.Regexp(t, `(?m)^▸ \S`, view, "one row is the right one")
		assert.Equal(t, strings.Contains(view, "✗"), strings.Contains(view, "Not quite."))
		assert.Equal(t, strings.Contains(view, "✗"), strings.Contains(view, "1 will come back"))
	}
}
