package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

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
