package screen_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/screen"
)

// TestTheReadmeIsTrue: the README shows the screen as it is, and every key.
func TestTheReadmeIsTrue(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	dances(t, "evening", 80, 24, func(s *show) {
		s.keys(" ")
		s.wait(2 * (6*beat + 3*beat/4)) // at half the tempo of the other views
		assert.Contains(t, string(text), s.text(), "copy the view into the README:\n%s", s.text())
	})
	for _, table := range screen.KeyTables() {
		assert.Contains(t, string(text), table, "copy the keys into the README:\n%s", table)
	}
}
