package library_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

)

// TestLevelsAreThoseOfPublishedLists compares the library's levels, as the README explains them, with
// the lists in testdata/levels, which were copied from their pages.
func TestLevelsAreThoseOfPublishedLists(t *testing.T) {
	levels := map[string]int{"newcomer": 1, "pre-bronze": 1, "bronze": 2, "silver": 2, "gold": 3}
	lib := shipped()
	files, err := filepath.Glob("testdata/levels/*.txt")
	require.NoError(t, err)
	var lines []string
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		lines = append(lines, strings.Split(string(text), "\n")...)
	}
	compared := 0
	for _, line := range lines {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, " | ")
		require.Len(t, cells, 3, line)
		level, ok := levels[cells[1]]
		require.True(t, ok, line)
		d, ok := lib.Dance(cells[0])
		require.True(t, ok, line)
		for _, name := range strings.Split(cells[2], ", ") {
			fig, ok := lib.Figure(d, name)
			if assert.True(t, ok, "%s: no figure %s", cells[0], name) {
				assert.Equal(t, level, fig.Level, "%s: %s is %s", cells[0], name, cells[1])
				compared++
			}
		}
	}
	assert.Greater(t, compared, 60)
}
