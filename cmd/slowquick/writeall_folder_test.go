//go:build unix

package main

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/handout/folders"
)

func sorted(files map[string]string) []string { return slices.Sorted(maps.Keys(files)) }

// TestWhatIsNoLongerMadeIsRemoved, unless it was changed or was never ours, and the index lists what is
// there.
func TestWhatIsNoLongerMadeIsRemoved(t *testing.T) {
	inSwaying(t)
	require.NoError(t, os.Mkdir("evening", 0o700))
	for _, name := range []string{"pier.md", "river #2.md"} {
		require.NoError(t, os.WriteFile(filepath.Join("evening", name), []byte(swaying), 0o600))
	}
	write := func(args ...string) {
		t.Helper()
		told(t, exitOK, append([]string{"write", "all", "evening", "-o", "class", "--force"}, args...)...)
	}
	write("--until", "2026-12-18", "--from", "2026-11-27")
	listed := func() (paths []string) {
		index, err := os.Open("class/index.html")
		require.NoError(t, err)
		defer index.Close()
		for _, f := range folders.ReadIndex(index) {
			paths = append(paths, f.Path)
		}
		return paths
	}
	besides := func(strangers ...string) (paths []string) {
		for _, path := range sorted(heldBy(t, "class")) {
			if path != "index.html" && !slices.Contains(strangers, path) {
				paths = append(paths, path)
			}
		}
		return paths
	}
	assert.ElementsMatch(t, besides(), listed())
	require.FileExists(t, "class/pier/practice.ics")
	require.FileExists(t, "class/river #2/practice.ics")

	changed := "class/pier/practice.ics"
	require.NoError(t, os.WriteFile(changed, []byte("with a birthday"), 0o600))
	require.NoError(t, os.WriteFile("class/river #2/mine.txt", []byte("mine"), 0o600))
	write("--flac")
	assert.FileExists(t, changed, "it was changed")
	assert.NoFileExists(t, "class/river #2/practice.ics")
	assert.NoFileExists(t, "class/pier/track.wav")
	assert.FileExists(t, "class/river #2/mine.txt")
	assert.ElementsMatch(t, besides("pier/practice.ics", "river #2/mine.txt"), listed())

	require.NoError(t, os.Remove("evening/pier.md"))
	require.NoError(t, os.Remove("class/pier/practice.ics"))
	write("--flac")
	assert.NoDirExists(t, "class/pier", "nothing is left in it")
	assert.NoFileExists(t, "class/book.html")
	assert.FileExists(t, "class/river #2/mine.txt")
	assert.FileExists(t, "class/handout.html", "of a single sheet")
}

// TestAKilledWriterLeavesAFolderOfWholeFiles: mostly of one run, as moving them takes but a moment; and as
// long as one of them is old, so is the index.
func TestAKilledWriterLeavesAFolderOfWholeFiles(t *testing.T) {
	if testing.Short() {
		t.Skip("many programs are started")
	}
	kills := kills(t, 8)
	dir := t.TempDir()
	args := []string{"write", "all", "lantern-night-cha-cha", "--figures", "2-3", "--force", "-o"}
	old, new := append(args, "old", "--tempo", "90 %"), append(args, "new")
	require.NoError(t, command(dir, old...).Run())
	began := time.Now()
	require.NoError(t, command(dir, new...).Run())
	whole := time.Since(began)
	was, will := heldBy(t, filepath.Join(dir, "old")), heldBy(t, filepath.Join(dir, "new"))
	hit, stayed, mixed := 0, 0, 0
	for i := range kills {
		require.NoError(t, os.RemoveAll(filepath.Join(dir, "class")))
		require.NoError(t, os.CopyFS(filepath.Join(dir, "class"), os.DirFS(filepath.Join(dir, "old"))))
		if killed(t, command(dir, append(args, "class")...), whole*time.Duration(i+1)/time.Duration(kills)) {
			hit++
		}
		got := heldBy(t, filepath.Join(dir, "class"))
		for name, text := range got {
			if strings.HasPrefix(name, ".slowquick-") {
				delete(got, name) // what was made for nothing
				continue
			}
			require.True(t, text == was[name] || text == will[name], "%s is whole", name)
		}
		require.Equal(t, sorted(was), sorted(got))
		switch {
		case maps.Equal(got, was):
			stayed++
		case got["index.html"] == was["index.html"]:
			mixed++
		default:
			require.Equal(t, will, got)
		}
	}
	assert.Positive(t, hit)
	assert.Positive(t, stayed)
	assert.Less(t, mixed, max(1, kills/4))
}
