package quiz_test

import (
	"regexp"
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
