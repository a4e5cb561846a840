package library_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// listed calls compare for each figure of the lists in a folder of testdata, with the middle of its line's three cells,
// and returns how many there are.
func listed(t *testing.T, folder string, compare func(fig *routine.Figure, said, line string)) (n int) {
	lib := shipped()
	files, err := filepath.Glob("testdata/" + folder + "/*.txt")
	require.NoError(t, err)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, line := range strings.Split(string(text), "\n") {
			if line == "" || strings.HasPrefix(line, "#") {
				continue
			}
			cells := strings.Split(line, " |")
			require.Len(t, cells, 3, line)
			d, ok := lib.Dance(cells[0])
			require.True(t, ok, line)
			for _, name := range strings.Split(cells[2], ", ") {
				fig, ok := lib.Figure(d, strings.TrimSpace(name))
				if assert.True(t, ok, "%s: no figure %s", cells[0], name) {
					compare(fig, strings.TrimSpace(cells[1]), line)
					n++
				}
			}
		}
	}
	return n
}

// TestLevelsAreThoseOfPublishedLists compares the library's levels, as the README explains them, with
// the lists in testdata/levels, which were copied from their pages.
func TestLevelsAreThoseOfPublishedLists(t *testing.T) {
	levels := map[string]int{"newcomer": 1, "pre-bronze": 1, "bronze": 2, "silver": 2, "gold": 3}
	compared := listed(t, "levels", func(fig *routine.Figure, said, line string) {
		said, upTo := strings.CutPrefix(said, "up to ")
		level, ok := levels[said]
		require.True(t, ok, line)
		if upTo && fig.Level < level {
			level = fig.Level
		}
		assert.Equal(t, level, fig.Level, "%s: %s", fig.Name, line)
	})
	assert.Greater(t, compared, 60)
}

// TestFamiliesAreThoseOfPublishedLists compares the figures' families with the lists in testdata/families.
func TestFamiliesAreThoseOfPublishedLists(t *testing.T) {
	compared := listed(t, "families", func(fig *routine.Figure, said, line string) {
		assert.Equal(t, said, fig.Family.String(), "%s: %s", fig.Name, line)
	})
	assert.Greater(t, compared, 40)
}

// TestAMixOfFamiliesIsSaid: international figures and those of the American style aren't danced in one routine, nor with
// those of 1914, but each with what both dance.
func TestAMixOfFamiliesIsSaid(t *testing.T) {
	for _, test := range []struct {
		dance string
		order []string
		mixed bool
	}{
		{"waltz", []string{"Whisk", "Twinkle"}, true},
		{"waltz", []string{"Hesitation waltz of 1914", "Natural spin turn"}, true},
		{"waltz", []string{"Box step", "Twinkle", "Natural turn"}, false},
		{"waltz", []string{"Box step", "Natural turn", "Whisk"}, false},
		{"tango", []string{"Tango basic", "Progressive link"}, true},
		{"tango", []string{"Two walks", "Progressive link", "Closed promenade"}, false},
		{"viennese waltz", []string{"Cross-body lead", "Contra check"}, true},
		{"viennese waltz", []string{"Natural turn", "RF forward change", "Reverse turn"}, false},
	} {
		_, found := check.Sheet("mix.md", inOrder(test.dance, test.order...), shipped())
		mixed := slices.ContainsFunc(found, func(f routine.Finding) bool { return f.Code == "mixed-families" })
		assert.Equal(t, test.mixed, mixed, "%v", test.order)
	}
}
