package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/songs"
)

// TestNamesOfFilesAreHarmless in errors and warnings.
func TestNamesOfFilesAreHarmless(t *testing.T) {
	dir := danceHall(t)
	name := filepath.Join(dir, "hall/\x1b[31mred\x9b.ogg")
	putFile(t, dir, "hall/\x1b[31mred\x9b.ogg", "no song")
	for _, args := range [][]string{{"listen", name}, {"listen", filepath.Join(dir, "hall")}, {"check", name + ".md"}, {"figure", "\x1b]0;title\x07"}} {
		exit, out, errs := slowquick(args...)
		assert.NotEqual(t, 0, exit, args)
		assert.NotRegexp(t, "[\x00-\x09\x0b-\x1f\u007f-\u009f]", out+errs, args)
		assert.NotEmpty(t, errs)
	}
}

// silentWAV is a second of silence, in 8 bits.
var silentWAV = "RIFF\x64\x1f\x00\x00WAVEfmt \x10\x00\x00\x00\x01\x00\x01\x00\x40\x1f\x00\x00\x40\x1f\x00\x00\x01\x00\x08\x00data\x40\x1f\x00\x00" +
	strings.Repeat("\x80", 8000)

// TestASecondListeningSaysTheSame without decoding the songs that it remembers; a song that it doesn't is
// decoded.
func TestASecondListeningSaysTheSame(t *testing.T) {
	dir := danceHall(t)
	folder := filepath.Join(dir, "hall")
	_, _, errs := slowquick("listen", "--forget", filepath.Join(folder, "tune.wav"))
	require.Empty(t, errs)
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "cache")))
	for _, args := range [][]string{{"listen", folder}, {"listen", "--json", folder}, {"listen", filepath.Join(folder, "tune.wav")}} {
		exit, first, errs := slowquick(args...)
		require.Equal(t, 0, exit, errs)
		exit, second, errs := slowquick(args...)
		require.Equal(t, 0, exit, errs)
		assert.Equal(t, first, second)
		assert.Contains(t, first, "Cha-cha")
	}
	kept, err := filepath.Glob(filepath.Join(dir, "cache/slowquick/heard/*"))
	require.NoError(t, err)
	assert.Len(t, kept, 1)
	// What the dancer says comes before what is remembered.
	exit, out, errs := slowquick("listen", "--json", "--beats", filepath.Join(dir, "beats.txt"), filepath.Join(folder, "tune.wav"))
	require.Equal(t, 0, exit, errs)
	assert.Contains(t, out, `"beatsGiven": true`)
	exit, out, errs = slowquick("listen", "--json", folder)
	require.Equal(t, 0, exit, errs)
	assert.Contains(t, out, `"beatsGiven": true`)
}

// TestAFolderIsToldInItsOrder: songs are listed in the folder's order, whichever is ready first.
func TestAFolderIsToldInItsOrder(t *testing.T) {
	dir := danceHall(t)
	tune, err := os.ReadFile(filepath.Join(dir, "hall/tune.wav"))
	require.NoError(t, err)
	var want []string
	for i, text := range []string{string(tune), silentWAV, "broken", string(tune), "broken too", silentWAV, silentWAV} {
		name := fmt.Sprintf("%d.wav", i)
		putFile(t, dir, filepath.Join("evening", name), text)
		if !strings.HasPrefix(text, "broken") {
			want = append(want, name)
		}
	}
	exit, out, errs := slowquick("listen", "--json", filepath.Join(dir, "evening"))
	assert.Equal(t, 3, exit)
	var entries []songs.Report
	require.NoError(t, json.Unmarshal([]byte(out), &entries))
	var names []string
	for _, e := range entries {
		names = append(names, e.Song)
	}
	assert.Equal(t, want, names)
	lines := strings.Split(errs, "\n")
	require.Len(t, lines, 4)
	assert.Contains(t, lines[0], "2.wav")
	assert.Contains(t, lines[1], "4.wav")
	assert.Contains(t, lines[2], "2 of 7 songs can't be read")
}
