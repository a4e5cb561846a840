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

// TestAPlanIsTheSameEachTime if the time of making is given, as builds give it.
func TestAPlanIsTheSameEachTime(t *testing.T) {
	t.Chdir(t.TempDir())
	args := []string{"write", "calendar", "lantern-night-waltz", "-o", "-", "--from", "2026-11-27", "--until", "2026-12-18"}
	t.Setenv("SOURCE_DATE_EPOCH", "1795780800")
	first, _ := told(t, exitOK, args...)
	assert.Contains(t, first, "DTSTAMP:20261127T120000Z")
	assert.Contains(t, first, "TRIGGER:-PT30M")
	again, _ := told(t, exitOK, args...)
	assert.Equal(t, first, again)
	t.Setenv("SOURCE_DATE_EPOCH", "yesterday")
	_, errOut := told(t, exitUsage, args...)
	assert.Contains(t, errOut, `SOURCE_DATE_EPOCH: "yesterday" is not a number of seconds since 1970`)
}

// TestAFoldersSheetsArePractisedInTurn in one calendar.
func TestAFoldersSheetsArePractisedInTurn(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.Mkdir("lantern_night", 0o700))
	for _, name := range []string{"pier.md", "quay.md"} {
		require.NoError(t, os.WriteFile("lantern_night/"+name, []byte(twoFigures), 0o600))
	}
	out, _ := told(t, exitOK, "write", "calendar", "lantern_night", "-o", "-", "--from", "2026-11-27", "--until", "2026-11-27", "--minutes", "20", "--remind", "0")
	assert.Contains(t, out, "NAME:Lantern night\r\n")
	assert.Contains(t, out, "DTSTART:20261127T190000")
	assert.Contains(t, out, "DTSTART:20261127T192000")
	assert.NotContains(t, out, "VALARM")
}
