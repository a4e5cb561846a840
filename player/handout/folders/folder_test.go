//go:build unix

package folders_test

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/handout/folders"
)

// heldBy returns the texts of a folder's files by their paths.
func heldBy(t testing.TB, folder string) map[string]string {
	t.Helper()
	held := map[string]string{}
	require.NoError(t, fs.WalkDir(os.DirFS(folder), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(filepath.Join(folder, path))
		held[path] = string(text)
		return err
	}))
	return held
}

// folderOf is a folder of files that hold a text.
func folderOf(text string, names ...string) *folders.Folder {
	f := &folders.Folder{Index: folders.Index{Title: text, Parts: []folders.IndexPart{{}}}}
	for _, name := range names {
		add(f, name, func(w io.Writer) error { _, err := io.WriteString(w, text); return err })
	}
	return f
}

// add adds a file to a folder and its index.
func add(f *folders.Folder, name string, write func(io.Writer) error) {
	f.Files = append(f.Files, folders.File{Path: name, Write: write})
	f.Index.Parts[0].Files = append(f.Index.Parts[0].Files, folders.IndexFile{Path: name})
}

// TestAFolderIsAsItWasUntilAllIsMade: a failure half-way changes nothing in a folder and leaves nothing
// behind. What is made takes the place of the old, and its permissions.
func TestAFolderIsAsItWasUntilAllIsMade(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "class")
	names := []string{"handout.html", "pier/track.wav"}
	require.NoError(t, folderOf("old", names...).WriteNew(t.Context(), folder))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "notes.txt"), []byte("mine"), 0o600))
	require.NoError(t, os.Chmod(filepath.Join(folder, names[0]), 0o640))
	before := heldBy(t, folder)
	assert.Equal(t, []string{"handout.html", "index.html", "notes.txt", "pier/track.wav"}, sorted(before))

	broken := folderOf("new", names...)
	add(broken, "timeline.json", func(io.Writer) error {
		assert.Equal(t, "old", heldBy(t, folder)[names[0]], "nothing is written over before all is made")
		return errors.New("the river came in")
	})
	err := broken.Renew(t.Context(), folder)
	assert.ErrorContains(t, err, "timeline.json: the river came in")
	assert.Equal(t, before, heldBy(t, folder))

	require.NoError(t, os.Mkdir(filepath.Join(folder, "plan.svg"), 0o700))
	err = folderOf("new", append(names, "plan.svg")...).Renew(t.Context(), folder)
	assert.ErrorContains(t, err, "plan.svg: it is not a regular file")
	assert.Equal(t, before, heldBy(t, folder))

	require.NoError(t, folderOf("new", names...).Renew(t.Context(), folder))
	after := heldBy(t, folder)
	assert.Equal(t, sorted(before), sorted(after))
	assert.Equal(t, []string{"new", "new", "mine"}, []string{after[names[0]], after[names[1]], after["notes.txt"]})
	info, err := os.Stat(filepath.Join(folder, names[0]))
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o640), info.Mode().Perm())
}

func sorted(files map[string]string) []string { return slices.Sorted(maps.Keys(files)) }

// TestAnIndexLeadsNowhereElse: whatever an index lists, nothing outside its folder is removed, and no file
// whose checksum it doesn't know.
func TestAnIndexLeadsNowhereElse(t *testing.T) {
	dir := t.TempDir()
	folder := filepath.Join(dir, "class")
	require.NoError(t, folderOf("old", "handout.html").WriteNew(t.Context(), folder))
	outside := filepath.Join(dir, "outside.txt")
	require.NoError(t, os.WriteFile(outside, []byte("old"), 0o600))
	require.NoError(t, os.Symlink(outside, filepath.Join(folder, "link.txt")))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "mine.txt"), []byte("mine"), 0o600))
	page, err := os.ReadFile(filepath.Join(folder, "index.html"))
	require.NoError(t, err)
	link := string(page[bytes.Index(page, []byte("<a href")):bytes.Index(page, []byte("</a>"))])
	for _, path := range []string{"../outside.txt", outside, "link.txt", "mine.txt", "."} {
		page = append(page, strings.Replace(link, "handout.html", path, 1)+"</a>"...)
	}
	require.NoError(t, os.WriteFile(filepath.Join(folder, "index.html"), page, 0o600))
	require.NoError(t, folderOf("new", "timeline.json").Renew(t.Context(), folder))
	assert.FileExists(t, outside)
	assert.Equal(t, []string{"index.html", "link.txt", "mine.txt", "timeline.json"}, sorted(heldBy(t, folder)))
}
