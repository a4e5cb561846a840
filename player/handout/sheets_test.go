package handout_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// timeline reads a sheet that must be free of errors.
func timeline(t testing.TB, text string) *player.Timeline {
	t.Helper()
	score, found := routine.Read("sheet.md", []byte(text), shipped)
	require.False(t, routine.HasErrors(found), "%v", found)
	require.NotEmpty(t, score.Passages)
	return player.NewTimeline(score)
}

// late is a sheet that begins and ends between two beats.
const late = `---
dance: cha-cha
title: Lantern Night, late
tempo: 30 bars/min
count: words
---

The doors are open, and **the river** is high.

## Order

1. Late lantern × 2
2. Pier step — and hold

## Late lantern

| Count | Leader | Follower |
|---|---|---|
| & | LF forward | RF back |
| 3 | RF replace | LF replace |
| 4 | LF side | RF side |
| & | RF close | LF close |
| 1 | LF side | RF side |
| & | RF back | LF forward |
| 3 | LF replace | RF replace |
| 4 | RF side | LF side |
| & | LF close | RF close |
| 1 | RF side | LF side |

## Pier step

| Count | Leader | Follower |
|---|---|---|
| & | LF side | RF side |
| 3 | RF close | LF close |
| 4-1 | LF tap | RF tap |
`

// sheetTexts are the sheets that the tests dance: of two, three and four beats a bar, counted by
// numbers, slow and quick and in words, with ramps, corners, holes and late starts.
func sheetTexts(t testing.TB) map[string]string {
	t.Helper()
	texts := map[string]string{"late": late}
	for _, pattern := range []string{"../../library/sheets/*.md", "../../testdata/*.md"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, files)
		for _, file := range files {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			texts[strings.TrimSuffix(filepath.Base(file), ".md")] = string(text)
		}
	}
	return texts
}

func routines(t testing.TB) map[string]*player.Timeline {
	t.Helper()
	lines := map[string]*player.Timeline{}
	for name, text := range sheetTexts(t) {
		lines[name] = timeline(t, text)
	}
	return lines
}
