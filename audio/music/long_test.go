package music_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"io"
	"os"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/recording"
)

// loop is a file that begins with a head and then holds the same again and again.
type loop struct {
	head, body []byte
	size       int64
	furthest   atomic.Int64
	closed     chan struct{}
}

func (l *loop) ReadAt(p []byte, at int64) (n int, err error) {
	for n < len(p) && at < l.size {
		from := l.head
		if i := at - int64(len(l.head)); i >= 0 {
			from = l.body[i%int64(len(l.body)):]
		} else {
			from = from[at:]
		}
		got := copy(p[n:], from[:min(int64(len(from)), l.size-at)])
		n, at = n+got, at+int64(got)
	}
	l.furthest.Store(max(l.furthest.Load(), at))
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}

func (l *loop) Close() error {
	close(l.closed)
	return nil
}

// hours is a WAV file of so many hours of sound, in 8 bits.
func hours(n, rate int) *loop {
	data := uint32(n * 3600 * rate)
	le := binary.LittleEndian
	head := le.AppendUint32([]byte("RIFF"), 36+data)
	head = append(head, "WAVEfmt \x10\x00\x00\x00\x01\x00\x01\x00"...)
	head = le.AppendUint32(le.AppendUint32(head, uint32(rate)), uint32(rate))
	head = append(head, "\x01\x00\x08\x00data"...)
	head = le.AppendUint32(head, data)
	return &loop{head: head, body: []byte{100, 128, 150}, size: int64(len(head)) + int64(data), closed: make(chan struct{})}
}

// TestALongSong is read for a quarter of an hour, at any rate, and says how far it was read.
func TestALongSong(t *testing.T) {
	hashes := map[string]bool{}
	for _, o := range []music.Options{{}, {Mute: true}, {Rate: 6000}} {
		f := hours(24, 4000)
		var parts []float64
		o.Progress = func(part float64) { parts = append(parts, part) }
		s, err := music.ReadFrom(t.Context(), f, f.size, ".wav", o)
		require.NoError(t, err)
		assert.InDelta(t, 15*60, s.Seconds(), 0.01)
		assert.EqualError(t, s.Damage, "only its first 15:00 are used")
		assert.Len(t, s.Frames, map[bool]int{false: int(s.Length)}[o.Mute])
		assert.Less(t, f.furthest.Load(), f.size/50)
		assert.IsNonDecreasing(t, parts)
		assert.InDelta(t, 0.5, parts[len(parts)/2], 0.01)
		assert.InDelta(t, 1, parts[len(parts)-1], 0.001)
		hashes[s.Hash] = true
	}
	assert.Len(t, hashes, 1, "it is one sound at every rate")

	f := hours(1, 192000)
	ctx, cancel := context.WithCancel(t.Context())
	_, err := music.ReadFrom(ctx, f, f.size, ".wav", music.Options{Mute: true, Progress: func(part float64) {
		if part > 0.001 {
			cancel()
		}
	}})
	assert.ErrorIs(t, err, context.Canceled)
	<-f.closed
	assert.Less(t, f.furthest.Load(), int64(192000*60), "a minute")
}

// TestALongMP3 is read from its start, without first being searched to its end.
func TestALongMP3(t *testing.T) {
	frame := append([]byte{0xff, 0xfb, 0x10, 0xc4}, make([]byte, 100)...) // 32 kbit/s at 44.1 kHz, silent
	f := &loop{body: frame, size: 2 << 30, closed: make(chan struct{})}
	ctx, cancel := context.WithCancel(t.Context())
	_, err := music.ReadFrom(ctx, f, f.size, ".mp3", music.Options{Mute: true, Progress: func(float64) { cancel() }})
	assert.ErrorIs(t, err, context.Canceled)
	<-f.closed
	assert.Less(t, f.furthest.Load(), f.size/20)
}

// flacOf is a FLAC file whose head tells other numbers of bits and of frames.
func flacOf(t *testing.T, bits int, frames uint64) *loop {
	whole, err := os.ReadFile("../voice/testdata/one.flac")
	require.NoError(t, err)
	const info = 8 // where it begins
	at := whole[info+10 : info+18]
	numbers := binary.BigEndian.Uint64(at)
	numbers = numbers&^(31<<36|1<<36-1) | uint64(bits-1)<<36 | frames
	binary.BigEndian.PutUint64(at, numbers)
	return &loop{head: whole, size: int64(len(whole)), closed: make(chan struct{})}
}

// TestAFLACThatTellsNoLength says how much of its file was read.
func TestAFLACThatTellsNoLength(t *testing.T) {
	f := flacOf(t, 16, 0)
	var parts []float64
	_, err := music.ReadFrom(t.Context(), f, f.size, ".flac", music.Options{Progress: func(part float64) { parts = append(parts, part) }})
	require.NoError(t, err)
	require.NotEmpty(t, parts)
	assert.IsNonDecreasing(t, parts)
	assert.Positive(t, parts[0])
	assert.Equal(t, 1.0, parts[len(parts)-1])
}

// TestAFLACOfManyBits is refused with an error that says which depths can be read.
func TestAFLACOfManyBits(t *testing.T) {
	for bits := 25; bits <= 32; bits++ {
		f := flacOf(t, bits, 1000)
		var data bytes.Buffer
		_, err := io.Copy(&data, io.NewSectionReader(f, 0, f.size))
		require.NoError(t, err)
		_, err = recording.Open(".flac", bytes.NewReader(data.Bytes()), f.size)
		assert.ErrorIs(t, err, recording.ErrBits)
	}
	f := flacOf(t, 32, 1000)
	_, err := music.ReadFrom(t.Context(), f, f.size, ".flac", music.Options{})
	assert.EqualError(t, err, "it has 32 bits a sample: FLAC is read up to 24 bits a sample; convert it to 16 or 24")
}
