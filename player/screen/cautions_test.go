package screen_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/screen"

	tea "github.com/charmbracelet/bubbletea"
)

// cautions puts the cautions before a show, and tells whether they were seen.
func (s *show) cautions(width, height int) *bool {
	seen := new(bool)
	s.model = screen.Cautioned(screen.New(s.ctx, screen.Options{Shelf: s.shelf}), func() { *seen = true })
	s.do(s.model.Init())
	s.size(width, height)
	return seen
}

// TestCautionsView shows all of them at once, down to a small window.
func TestCautionsView(t *testing.T) {
	for _, size := range []struct{ width, height int }{{200, 60}, {80, 24}, {40, 12}} {
		t.Run(fmt.Sprintf("%dx%d", size.width, size.height), func(t *testing.T) {
			dances(t, "", size.width, size.height, func(s *show) {
				seen := s.cautions(size.width, size.height)
				text := s.text()
				golden.Equal(t, text+"\n")
				assert.Contains(t, text, "any key goes on")
				words := strings.Join(strings.Fields(text), " ")
				assert.Contains(t, words, strings.Join(strings.Fields(screen.Cautions), " "))
				s.keys("x")
				assert.True(t, *seen)
				assert.Contains(t, s.text(), "choose a sheet")
			})
		})
	}
}

// TestCautionsInAWindowTooSmall are read page by page, to the end.
func TestCautionsInAWindowTooSmall(t *testing.T) {
	dances(t, "", 20, 6, func(s *show) {
		seen := s.cautions(20, 6)
		var read []string
		for !*seen {
			lines := strings.Split(s.text(), "\n")
			require.Len(t, lines, 6)
			read = append(read, lines[:5]...)
			s.keys(" ")
			require.Less(t, len(read), 100)
		}
		assert.Equal(t, strings.Fields(screen.Cautions), strings.Fields(strings.Join(read, " ")))
	})
}

// TestCautionsThatWereNotRead are not seen: nothing was shown yet, or it was left.
func TestCautionsThatWereNotRead(t *testing.T) {
	dances(t, "", 80, 24, func(s *show) {
		seen := s.cautions(0, 0)
		s.keys("x")
		assert.False(t, *seen)
		s.size(80, 24)
		s.keys("ctrl+c")
		assert.False(t, *seen)
		assert.True(t, s.quit)
	})
}

// TestCautionsTakeTheWholeMessage: keys that were held down do not go on to the list.
func TestCautionsTakeTheWholeMessage(t *testing.T) {
	dances(t, "", 80, 24, func(s *show) {
		seen := s.cautions(80, 24)
		s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("xxxx")})
		s.settle()
		assert.True(t, *seen)
		assert.Contains(t, s.text(), "Lantern Night at the boathouse")
	})
}

// TestHelpHasTheCautions at its end.
func TestHelpHasTheCautions(t *testing.T) {
	dances(t, "boathouse", 120, 200, func(s *show) {
		s.keys("?")
		assert.Contains(t, strings.Join(strings.Fields(s.text()), " "), strings.Join(strings.Fields(screen.Cautions), " "))
	})
}
