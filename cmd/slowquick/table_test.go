package main

import (
	"strings"
	"testing"
	"time"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// TestWhatIsPrintedElsewhereIsNotWrapped, as programs read it line by line.
func TestWhatIsPrintedElsewhereIsNotWrapped(t *testing.T) {
	stateIn(t, t.TempDir())
	d, err := diary.Open(diary.File())
	require.NoError(t, err)
	var counts []diary.TimedCount
	for _, name := range strings.Fields("1 2 3 4 5 6 7 8 & 9 10 11") {
		counts = append(counts, diary.TimedCount{Name: name, Median: 20 * time.Millisecond, Spread: time.Millisecond, Taps: 8})
	}
	require.NoError(t, d.KeepTimed(diary.Timed{Sheet: practice.Sheet{Dance: "Cha-cha", Title: "Jetty", Order: "2"}, Tempo: 120 * routine.BeatPerMinute, At: time.Now(), Counts: counts}))
	require.NoError(t, d.Close())
	out, _ := told(t, exitOK, "diary", "--timing")
	lines := strings.Split(out, "\n")
	require.Len(t, lines, 4, out)
	assert.Contains(t, lines[1], "11:+20±1")
	assert.Greater(t, runewidth.StringWidth(lines[1]), 80)
}
