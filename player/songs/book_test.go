package songs

import (
	"encoding/binary"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dance.example/slowquick/library"
	"github.com/adrg/xdg"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// clicksWAV is twenty seconds of clicks, 120 a minute, in 8 bits.
var clicksWAV = wav(strings.Repeat("\xff\x01\xe0\x20\xc0\x40\xa0\x60"+strings.Repeat("\x80", 3992), 40))

// wav is a WAV file of one channel with 8000 samples a second, a byte each.
func wav(samples string) string {
	length := func(n int) string { return string(binary.LittleEndian.AppendUint32(nil, uint32(n))) }
	return "RIFF" + length(36+len(samples)) + "WAVEfmt \x10\x00\x00\x00\x01\x00\x01\x00\x40\x1f\x00\x00\x40\x1f\x00\x00\x01\x00\x08\x00" +
		"data" + length(len(samples)) + samples
}

func putFile(t *testing.T, dir, name, text string) string {
	path := filepath.Join(dir, name)
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

func TestBeatsThatAreCorrectedAreKept(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	t.Setenv("XDG_CACHE_HOME", filepath.Join(dir, "cache"))
	xdg.Reload()
	t.Cleanup(xdg.Reload)
	path := putFile(t, dir, "clicks.wav", clicksWAV)
	book := Book{Rate: 8000}
	d, ok := library.Open().Dance("cha-cha")
	require.True(t, ok)
	s, err := book.Read(t.Context(), path, d, nil)
	require.NoError(t, err)
	assert.True(t, s.Grid.Clear())
	assert.False(t, s.Grid.BeatGiven)
	later := *s
	later.Grid = s.Grid.HalfLater()
	assert.True(t, later.Grid.BeatGiven)
	require.NoError(t, book.Keep(&later))
	again, err := book.Read(t.Context(), path, d, nil)
	require.NoError(t, err)
	assert.InDelta(t, later.Grid.Tempo, again.Grid.Tempo, 0.01)
	again.Grid.Tempo = later.Grid.Tempo
	assert.Equal(t, later.Grid, again.Grid)
	require.NoError(t, book.Forget(&later))
	require.NoError(t, book.Forget(&later), "there is nothing to forget any more")
	found, err := book.Read(t.Context(), path, d, nil)
	require.NoError(t, err)
	assert.False(t, found.Grid.BeatGiven)
	// A song of another metre is not the waltz that the beats were given for.
	require.NoError(t, book.Keep(&later))
	waltz, ok := library.Open().Dance("waltz")
	require.True(t, ok)
	three, err := book.Read(t.Context(), path, waltz, nil)
	require.NoError(t, err)
	assert.Equal(t, 3, three.Grid.Metre)
}
