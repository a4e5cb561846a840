package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestDaysThatCanNotBeAreAFaultOfTheCommandLine, and are reported before anything is written.
func TestDaysThatCanNotBeAreAFaultOfTheCommandLine(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, days := range [][]string{
		{"--from", "2026-12-18", "--until", "2026-12-17"}, {"--until", "2001-01-01"},
		{"--from", "2026-12-14", "--until", "2026-12-17", "--days", "fri"}, {"--from", "2026-01-01", "--until", "2036-01-01"},
	} {
		for _, args := range [][]string{{"write", "calendar", "lantern-night-waltz", "-o", "practice.ics"}, {"write", "all", "lantern-night-waltz", "-o", "class"}} {
			_, errOut := told(t, exitUsage, append(args, days...)...)
			assert.Regexp(t, "slowquick: error: --until 20[0-9-]+: .* between the two dates", errOut)
		}
	}
	left, err := os.ReadDir(".")
	require.NoError(t, err)
	assert.Empty(t, left)
}
