package making_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/screen/internal/screentest"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/x/ansi"
)

// TestTheHallIsAskedFor in whole words, with the keys that do something, and no others.
func TestTheHallIsAskedFor(t *testing.T) {
	for _, size := range [][2]int{{40, 15}, {80, 24}, {160, 48}} {
		b := making.NewBegin([]*routine.Dance{danceNamed(t, "waltz")}, "", term.NewTheme(false))
		view := func() string { return ansi.Strip(b.View(size[0], size[1])) }
		assert.Contains(t, view(), "↑↓ choose")
		require.Equal(t, making.Asking, b.Press(screentest.Key("enter")))
		assert.NotContains(t, view(), "…")
		assert.NotContains(t, view(), "↑↓")
		assert.Contains(t, view(), "enter go on")
		assert.Contains(t, strings.Join(strings.Fields(view()), " "), "along the line of dance")
		for _, r := range "12 x 8 m" {
			b.Press(screentest.Key(string(r)))
		}
		require.Equal(t, making.Chosen, b.Press(screentest.Key("enter")))
		assert.Equal(t, "12 x 8 m", b.Beginning().Floor.String())
	}
}
