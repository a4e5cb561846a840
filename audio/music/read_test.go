package music_test

import (
	"context"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/recording"
)

// written is a file with some bytes.
func written(t testing.TB, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, data, 0o600))
	return path
}

// tone is music of one tone.
func tone(seconds float64) *band {
	b := newBand(seconds)
	b.play(0, seconds, func(t float64) float64 { return 0.5 * math.Sin(2*math.Pi*441*t) })
	return b
}

// TestRead returns what a file holds, at the rate asked for.
func TestRead(t *testing.T) {
	b := tone(3)
	path := written(t, "Song.WAV", b.wav(t))
	var mu sync.Mutex
	var parts []float64
	s, err := music.ReadFile(context.Background(), path, music.Options{Progress: func(p float64) {
		mu.Lock()
		defer mu.Unlock()
		parts = append(parts, p)
	}})
	require.NoError(t, err)
	assert.Equal(t, rate, s.Rate)
	assert.Len(t, s.Frames, 3*rate)
	assert.NoError(t, s.Damage)
	for i, f := range s.Frames {
		require.InDelta(t, b.samples[i]*32767, f[0], 1.01)
		require.Equal(t, f[0], f[1])
	}
	require.NotEmpty(t, parts)
	assert.IsNonDecreasing(t, parts)
	assert.Equal(t, 1.0, parts[len(parts)-1])

	at48, err := music.ReadFile(context.Background(), path, music.Options{Rate: 48000})
	require.NoError(t, err)
	assert.Equal(t, 48000, at48.Rate)
	assert.InDelta(t, 3, at48.Seconds(), 0.001)
	assert.Equal(t, s.Hash, at48.Hash, "the hash is of the song, not of the rate")
	for i := 1000; i < 100000; i++ {
		require.InDelta(t, 0.5*32767*math.Sin(2*math.Pi*441*float64(i)/48000), at48.Frames[i][0], 40)
	}
}

// TestHash identifies a song by its sound, whatever file it is in.
func TestHash(t *testing.T) {
	read := func(path string) string {
		s, err := music.ReadFile(context.Background(), path, music.Options{})
		require.NoError(t, err)
		return s.Hash
	}
	wav := read("../voice/testdata/one.wav")
	assert.Len(t, wav, 64)
	assert.Equal(t, wav, read("../voice/testdata/one.flac"))
	assert.NotEqual(t, wav, read("../voice/words/english/two.flac"))
}

// TestPartOfASong is used if it is long enough, and is said to be only a part.
func TestPartOfASong(t *testing.T) {
	whole := tone(24).wav(t)
	s, err := music.ReadFile(context.Background(), written(t, "song.wav", whole[:len(whole)/2]), music.Options{})
	require.NoError(t, err)
	assert.InDelta(t, 12, s.Seconds(), 0.01)
	assert.EqualError(t, s.Damage, "only its first 0:12 can be read: the file breaks off")
	path := written(t, "song.wav", whole[:len(whole)/4])
	_, err = music.ReadFile(context.Background(), path, music.Options{})
	assert.EqualError(t, err, "read "+path+": only its first 0:06 can be read: the file breaks off")
}

// TestSongsThatAreNone: what isn't a song is refused with an error that says why.
func TestSongsThatAreNone(t *testing.T) {
	ctx := context.Background()
	opus := written(t, "song.opus", nil)
	_, err := music.ReadFile(ctx, opus, music.Options{})
	assert.EqualError(t, err, "read "+opus+": only WAV, FLAC, Ogg Vorbis and MP3 can be read; convert it to FLAC")
	_, err = music.ReadFile(ctx, filepath.Join(t.TempDir(), "none.ogg"), music.Options{})
	assert.ErrorIs(t, err, os.ErrNotExist)
	_, err = music.ReadFile(ctx, "none", music.Options{})
	assert.EqualError(t, err, "read none: no such file or directory")
	folder := filepath.Join(t.TempDir(), "folder.wav")
	require.NoError(t, os.Mkdir(folder, 0o700))
	_, err = music.ReadFile(ctx, folder, music.Options{})
	assert.EqualError(t, err, "read "+folder+": not a regular file")
	path := written(t, "empty.mp3", nil)
	_, err = music.ReadFile(ctx, path, music.Options{})
	assert.Error(t, err)
	path = written(t, "text.flac", []byte("Lantern Night"))
	_, err = music.ReadFile(ctx, path, music.Options{})
	assert.EqualError(t, err, "read "+path+": not a complete FLAC file")
}

// stuck is a file that gives nothing and does not fail, until it may.
type stuck struct{ may, closed chan struct{} }

func (s stuck) ReadAt([]byte, int64) (int, error) {
	<-s.may
	return 0, io.EOF
}

func (s stuck) Close() error {
	close(s.closed)
	return nil
}

// TestHangingDecoder: a decoder that hangs is given up, and its file is closed when it ends after all.
func TestHangingDecoder(t *testing.T) {
	f := stuck{make(chan struct{}), make(chan struct{})}
	ticks := make(chan time.Time, music.Patience)
	for range music.Patience {
		ticks <- time.Time{}
	}
	_, err := music.ReadTicking(context.Background(), f, 1000, ".wav", ticks)
	assert.EqualError(t, err, "damaged: its decoder is stuck")
	close(f.may)
	<-f.closed
}

// TestReadingIsGivenUp when its context ends.
func TestReadingIsGivenUp(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	f := stuck{make(chan struct{}), make(chan struct{})}
	_, err := music.ReadTicking(ctx, f, 1000, ".wav", nil)
	assert.ErrorIs(t, err, context.Canceled)
	close(f.may)
	<-f.closed
}

// damaged gives a file with a damage, each seed another: cut off, bits flipped,
// another header, a part lost, or bytes that are written over.
func damaged(whole []byte, seed uint64) []byte {
	chance := rand.New(rand.NewPCG(seed, 8))
	data := append([]byte(nil), whole...)
	place := func() int { // half of them in the headers
		if chance.IntN(2) == 0 {
			return chance.IntN(min(len(data), 256))
		}
		return chance.IntN(len(data))
	}
	switch seed % 5 {
	case 0:
		data = data[:place()]
	case 1:
		for range 1 + chance.IntN(20) {
			data[place()] ^= 1 << chance.IntN(8)
		}
	case 2:
		for i := range min(len(data), 4+chance.IntN(100)) {
			data[i] = byte(chance.Uint32())
		}
		copy(data, whole[:min(len(whole), chance.IntN(13))]) // its name is often whole
	case 3:
		from := place()
		to := from + chance.IntN(len(data)-from)
		data = append(data[:from], data[to:]...)
	case 4:
		from := place()
		for i := from; i < min(from+1+chance.IntN(64), len(data)); i++ {
			data[i] = byte(0xff * chance.IntN(2))
		}
	}
	return data
}

// TestDamagedSongs are read or refused, in little memory and bounded time, and never crash the program.
// DAMAGES is how many of each kind are tried; 100 if it is not set.
func TestDamagedSongs(t *testing.T) {
	damages := 100
	if text := os.Getenv("DAMAGES"); text != "" {
		var err error
		damages, err = strconv.Atoi(text)
		require.NoError(t, err)
	}
	for _, path := range []string{"../voice/testdata/one.wav", "../voice/testdata/one.flac", "../voice/testdata/one.ogg", "../voice/testdata/one.mp3"} {
		whole, err := os.ReadFile(path)
		require.NoError(t, err)
		hurt(t, recording.Kind(path), whole, damages, 100)
	}
}

// hurt reads a file with some damages, for none of which more than so many MiB may be
// reserved.
func hurt(t *testing.T, kind string, whole []byte, damages int, most uint64) {
	t.Helper()
	read, worst := 0, uint64(0)
	for seed := range uint64(damages) {
		name := fmt.Sprintf("%s with damage %d", kind, seed)
		path := written(t, "song"+kind, damaged(whole, seed))
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		s, err := music.ReadFile(context.Background(), path, music.Options{})
		runtime.ReadMemStats(&after)
		if err != nil {
			assert.Nil(t, s, name)
			assert.Greater(t, len(err.Error()), len("read : ")+len(path), name)
			assert.NotContains(t, err.Error(), "is stuck", name)
		} else {
			read++
			assert.NotEmpty(t, s.Frames, name)
			assert.Len(t, s.Hash, 64, name)
		}
		worst = max(worst, (after.TotalAlloc-before.TotalAlloc)>>20)
	}
	assert.LessOrEqual(t, worst, most, kind)
	t.Logf("%s: of %d damaged files %d are read, the worst reserves %d MiB", kind, damages, read, worst)
}
