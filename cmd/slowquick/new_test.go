package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	a := &app{library: library.Open()}
	dances := a.library.Dances()
	require.NotEmpty(t, dances)
	for _, dance := range dances {
		text, err := a.begun(dance, "")
		require.NoError(t, err)
		assertBegins(t, a.library, string(text), dance)
	}
	text, err := a.begun("Wiener Walzer", "")
	require.NoError(t, err)
	assertBegins(t, a.library, string(text), "viennese waltz")

	for _, metre := range []string{"1/4", "2/2", "3/4", "5/4", "16/16"} {
		text, err := a.begun("West Coast swing", metre)
		require.NoError(t, err)
		assertBegins(t, a.library, string(text), "West Coast swing")
	}
	for _, dance := range []string{"Boathouse: the swing", "lantern #3", `"quay"`, "no", "1. jetty", "- pier"} {
		text, err := a.begun(dance, "3/4")
		require.NoError(t, err)
		_, found := check.Sheet("new.md", text, a.library)
		assert.Empty(t, found, dance)
	}
}

func TestWhatSheetCanNotBegin(t *testing.T) {
	for _, test := range []struct {
		args []string
		want string
	}{
		{[]string{"new"}, "name one dance"},
		{[]string{"new", "tangoo"}, "hint: perhaps tango; with its metre, any dance works: slowquick new \"tangoo\" --metre 4/4"},
		{[]string{"new", "river shuffle"}, "hint: dances: argentine tango, "},
		{[]string{"new", "river shuffle", "--metre", "4"}, `"4" is not a metre`},
		{[]string{"new", "rumba", "--metre", "4/4"}, "the library knows Rumba"},
		{[]string{"new", "rumba", "-o", "mine.pdf"}, "can't write .pdf; end the file's name in .md"},
	} {
		out, errs := told(t, exitUsage, test.args...)
		assert.Empty(t, out)
		assert.Contains(t, errs, test.want)
	}
}

// TestANewSheetIsNeverWrittenOverAFile, nor into a folder.
func TestANewSheetIsNeverWrittenOverAFile(t *testing.T) {
	t.Chdir(t.TempDir())
	out, _ := told(t, exitOK, "new", "rumba", "-o", "mine.md")
	assert.Empty(t, out)
	first, err := os.ReadFile("mine.md")
	require.NoError(t, err)
	printed, _ := told(t, exitOK, "new", "rumba")
	assert.Equal(t, printed, string(first))

	require.NoError(t, os.Mkdir("folder", 0o700))
	for _, path := range []string{"mine.md", "folder"} {
		_, errs := told(t, exitFailed, "new", "waltz", "-o", path)
		assert.Contains(t, errs, "slowquick: error: write "+path+": file already exists\nslowquick: hint: name a new file\n")
	}
	again, err := os.ReadFile("mine.md")
	require.NoError(t, err)
	assert.Equal(t, first, again)
	left, err := filepath.Glob("*")
	require.NoError(t, err)
	assert.Equal(t, []string{"folder", "mine.md"}, left)
}
