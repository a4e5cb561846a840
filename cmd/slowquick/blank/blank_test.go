package blank_test

import (
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/cmd/slowquick/blank"
	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// assertBegins asserts that a sheet is tidy and clean, and dances one figure that it has itself.
func assertBegins(t *testing.T, lib *library.Library, text, dance string) {
	t.Helper()
	score, found := check.Sheet("new.md", []byte(text), lib)
	assert.Empty(t, found, dance)
	require.NotEmpty(t, score.Passages, dance)
	tidy, found := routine.Tidy("new.md", []byte(text), lib)
	assert.Empty(t, found, dance)
	assert.Equal(t, text, string(tidy), dance)
	assert.Contains(t, text, "\n## "+score.Passages[0].Figure.Name+"\n", dance)
	assert.Equal(t, routine.Key(dance), routine.Key(score.Dance.Name))
	assert.Equal(t, "My "+dance, score.Title)
	for line := range strings.Lines(text) {
		if !strings.HasPrefix(line, "|") && !strings.HasPrefix(line, "- ") {
			assert.LessOrEqual(t, runewidth.StringWidth(strings.TrimSpace(line)), 80, line)
		}
	}
}

// TestASheetOfEveryDanceBegins, of any other with its metre.
func TestASheetOfEveryDanceBegins(t *testing.T) {
	lib := library.Open()
	dances := lib.Dances()
	require.NotEmpty(t, dances)
	for _, dance := range dances {
		text, err := blank.Sheet(lib, dance, "")
		require.NoError(t, err)
		assertBegins(t, lib, string(text), dance)
	}
	text, err := blank.Sheet(lib, "Wiener Walzer", "")
	require.NoError(t, err)
	assertBegins(t, lib, string(text), "viennese waltz")

	for _, metre := range []string{"1/4", "2/2", "3/4", "5/4", "16/16"} {
		text, err := blank.Sheet(lib, "Lindy hop", metre)
		require.NoError(t, err)
		assertBegins(t, lib, string(text), "Lindy hop")
	}
	for _, dance := range []string{"Boathouse: the swing", "lantern #3", `"quay"`, "no", "1. jetty", "- pier"} {
		text, err := blank.Sheet(lib, dance, "3/4")
		require.NoError(t, err)
		_, found := check.Sheet("new.md", text, lib)
		assert.Empty(t, found, dance)
	}
}
