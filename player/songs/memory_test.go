package songs

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/routine"
	_ "dance.example/slowquick/testdata/thorough"
)

// deaf fails where a song would be listened to.
func deaf() (*music.Heard, error) { return nil, errors.New("listened to") }

// TestNothingIsRecalledOnceCancelled, and the song isn't read.
func TestNothingIsRecalledOnceCancelled(t *testing.T) {
	dir := t.TempDir()
	m, file := memory{dir, "1"}, putFile(t, dir, "song.wav", silentWAV)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	r := m.recall(ctx, file, 0)
	assert.Equal(t, Sound{}, r.Sound)
	assert.Empty(t, r.from)
	assert.NotEmpty(t, m.recall(t.Context(), file, 0).from)

	_, err := Book{Rate: 48000}.Read(ctx, file, &routine.Dance{}, nil)
	assert.ErrorIs(t, err, context.Canceled)
}

// silence hears a song of which a search finds no beats, but is one that was made.
func silence(t *testing.T, dir string) func() (*music.Heard, error) {
	path := putFile(t, dir, "silence.wav", silentWAV)
	return func() (*music.Heard, error) {
		s, err := music.ReadFile(t.Context(), path, music.Options{})
		if err != nil {
			return nil, err
		}
		return music.Listen(t.Context(), s)
	}
}

// silentWAV is a second of silence, in 8 bits.
var silentWAV = wav(strings.Repeat("\x80", 8000))

var (
	someSearch  = search{music.Range{Min: 100, Max: 130}, 4}
	otherSearch = search{music.Range{Min: 80, Max: 96}, 3}
	someSound   = Sound{Hash: "5eed", Rate: 8000, Frames: 8000, Damage: "only its first 0:01 are used"}
)

// hall is a memory in a folder of a test, and a song's file there.
func hall(t *testing.T) (m memory, dir, file string) {
	dir = t.TempDir()
	return memory{filepath.Join(dir, "cache/heard"), "this program"}, dir, putFile(t, dir, "song.wav", "the song")
}

// TestWhatWasHeardIsRemembered only while everything that it depends on is the same.
func TestWhatWasHeardIsRemembered(t *testing.T) {
	m, dir, file := hall(t)
	r := m.recall(t.Context(), file, 0)
	assert.Equal(t, Sound{}, r.Sound)
	require.True(t, r.is(someSound))
	g, err := r.find(someSearch, silence(t, dir))
	require.NoError(t, err)
	r.keep()

	again := m.recall(t.Context(), file, 0)
	assert.True(t, again.is(someSound))
	assert.Equal(t, someSound, again.Sound)
	same, err := again.find(someSearch, deaf)
	require.NoError(t, err)
	assert.Equal(t, g, same)
	_, err = again.find(otherSearch, deaf)
	assert.Error(t, err)

	copied := putFile(t, dir, "elsewhere/copy.WAV", "the song")
	other := m
	other.program = "the next program"
	for name, c := range map[string]struct {
		of   *remembered
		want Sound
	}{
		"copy":          {m.recall(t.Context(), copied, 0), someSound},
		"other rate":    {m.recall(t.Context(), file, 48000), Sound{}},
		"other kind":    {m.recall(t.Context(), putFile(t, dir, "song.flac", "the song"), 0), Sound{}},
		"other program": {other.recall(t.Context(), file, 0), Sound{}},
		"other sound":   {m.recall(t.Context(), putFile(t, dir, "song.wav", "the sonG"), 0), Sound{}},
		"no file":       {m.recall(t.Context(), filepath.Join(dir, "none.wav"), 0), Sound{}},
		"a folder":      {m.recall(t.Context(), dir, 0), Sound{}},
		"no memory":     {memory{}.recall(t.Context(), copied, 0), Sound{}},
	} {
		assert.Equal(t, c.want, c.of.Sound, name)
		_, err := c.of.find(someSearch, deaf)
		assert.Equal(t, c.want == Sound{}, err != nil, name)
		c.of.keep()
	}
}

// TestAFileThatChangesMeanwhile isn't remembered under what it was before.
func TestAFileThatChangesMeanwhile(t *testing.T) {
	m, dir, file := hall(t)
	r := m.recall(t.Context(), file, 0)
	require.True(t, r.is(someSound))
	putFile(t, dir, "song.wav", "the song, longer")
	r.keep()
	assert.NoDirExists(t, m.folder)

	r = m.recall(t.Context(), file, 0)
	require.True(t, r.is(someSound))
	_, err := r.find(someSearch, silence(t, dir))
	require.NoError(t, err)
	r.keep()
	known, longer := m.recall(t.Context(), file, 0), someSound
	longer.Frames++
	assert.False(t, known.is(longer))
	_, err = known.find(someSearch, deaf)
	assert.Error(t, err, "nothing is known of that sound")
	known.keep()
	assert.Equal(t, someSound, m.recall(t.Context(), file, 0).Sound)
}

// TestADamagedMemoryIsReplaced by listening again.
func TestADamagedMemoryIsReplaced(t *testing.T) {
	m, dir, file := hall(t)
	keep := func() string {
		r := m.recall(t.Context(), file, 0)
		require.True(t, r.is(someSound))
		_, err := r.find(someSearch, silence(t, dir))
		require.NoError(t, err)
		r.keep()
		return r.from
	}
	path := keep()
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	for at := range whole {
		cut := whole[:at]
		require.NoError(t, os.WriteFile(path, cut, 0o600))
		require.Equal(t, Sound{}, m.recall(t.Context(), file, 0).Sound, "cut at %d of %d", at, len(whole))
		flipped := append([]byte(nil), whole...)
		flipped[at] ^= 0x10
		require.NoError(t, os.WriteFile(path, flipped, 0o600))
		if s := m.recall(t.Context(), file, 0).Sound; s != (Sound{}) {
			require.Equal(t, someSound, s, "byte %d", at) // of the header, which tells nothing
		}
	}
	require.NoError(t, os.WriteFile(path, []byte("no such thing"), 0o600))
	assert.Equal(t, path, keep())
	_, err = m.recall(t.Context(), file, 0).find(someSearch, deaf)
	assert.NoError(t, err)
}

// TestAMemoryThatCannotBeWritten costs nothing but time.
func TestAMemoryThatCannotBeWritten(t *testing.T) {
	m, dir, file := hall(t)
	putFile(t, dir, "cache", "a file where a folder should be")
	r := m.recall(t.Context(), file, 0)
	require.True(t, r.is(someSound))
	_, err := r.find(someSearch, silence(t, dir))
	require.NoError(t, err)
	r.keep()
	assert.Equal(t, Sound{}, m.recall(t.Context(), file, 0).Sound)
}

// TestAnyGridIsRememberedExactly, to the frame.
func TestAnyGridIsRememberedExactly(t *testing.T) {
	m, _, file := hall(t)
	finite := rapid.Float64Range(-math.MaxFloat64, math.MaxFloat64)
	rapid.Check(t, func(t *rapid.T) {
		g := music.Grid{Rate: rapid.Int().Draw(t, "rate"), Frames: rapid.Int64().Draw(t, "frames"), Metre: rapid.Int().Draw(t, "metre"),
			Tempo: finite.Draw(t, "tempo"), Steady: []music.Stretch{{From: rapid.Int64().Draw(t, "from"), To: rapid.Int64().Draw(t, "to")}},
			Confidence: music.Confidence{Strength: finite.Draw(t, "strength"), Phase: finite.Draw(t, "phase"), Bar: finite.Draw(t, "bar"),
				BeatGiven: rapid.Bool().Draw(t, "beat"), BarGiven: rapid.Bool().Draw(t, "bar")}}
		for range rapid.IntRange(0, 5).Draw(t, "beats") {
			g.Beats = append(g.Beats, music.Beat{Frame: rapid.Int64().Draw(t, "at"), Number: rapid.Int().Draw(t, "number")})
		}
		by := search{music.Range{Min: finite.Draw(t, "min"), Max: finite.Draw(t, "max")}, rapid.Int().Draw(t, "to a bar")}
		r := m.recall(t.Context(), file, 0)
		r.Sound, r.Found, r.news = someSound, []foundBeats{{by, g}}, true
		r.keep()
		again, err := m.recall(t.Context(), file, 0).find(by, deaf)
		require.NoError(t, err)
		require.Equal(t, g, again)
	})
}

// TestTheOldestIsForgotten once there are too many files or too many bytes.
func TestTheOldestIsForgotten(t *testing.T) {
	for _, c := range []struct {
		most  int
		bytes int64
		want  []string
	}{
		{10, 100, []string{"0", "1", "2", "3", "4"}},
		{3, 100, []string{"2", "3", "4"}},
		{10, 45, []string{"1", "2", "3", "4"}},
		{10, 9, nil},
		{0, 100, nil},
	} {
		dir := t.TempDir()
		for i := range 5 {
			path := putFile(t, dir, fmt.Sprint(i), "0123456789")
			at := time.Unix(1700000000+int64(i), 0)
			require.NoError(t, os.Chtimes(path, at, at))
		}
		forgetOldest(dir, c.most, c.bytes)
		left, err := os.ReadDir(dir)
		require.NoError(t, err)
		var names []string
		for _, e := range left {
			names = append(names, e.Name())
		}
		assert.Equal(t, c.want, names, "%d files of %d bytes", c.most, c.bytes)
	}
}
