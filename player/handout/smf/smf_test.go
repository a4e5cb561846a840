package smf_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/handout/smf"
)

// TestLengthsOfTime writes the examples that the standard prints for variable-length
// numbers (MIDI Manufacturers Association, Standard MIDI Files 1.0, RP-001).
func TestLengthsOfTime(t *testing.T) {
	for _, c := range []struct {
		ticks int64
		bytes []byte
	}{
		{0, []byte{0}}, {0x40, []byte{0x40}}, {0x7f, []byte{0x7f}}, {0x80, []byte{0x81, 0}}, {0x2000, []byte{0xc0, 0}}, {0x3fff, []byte{0xff, 0x7f}},
		{0x4000, []byte{0x81, 0x80, 0}}, {0x1fffff, []byte{0xff, 0xff, 0x7f}}, {0x200000, []byte{0x81, 0x80, 0x80, 0}}, {0xfffffff, []byte{0xff, 0xff, 0xff, 0x7f}},
	} {
		var out bytes.Buffer
		require.NoError(t, smf.Write(&out, 960, c.ticks, &smf.Track{}))
		want := append([]byte("MThd\x00\x00\x00\x06\x00\x01\x00\x01\x03\xc0MTrk\x00\x00\x00"), byte(len(c.bytes)+3))
		want = append(append(want, c.bytes...), 0xff, 0x2f, 0)
		assert.Equal(t, want, out.Bytes(), "%#x", c.ticks)
	}
	assert.Error(t, smf.Write(&bytes.Buffer{}, 960, 0x10000000, &smf.Track{}), "more than 28 bits")
}

// TestWhatHappensAtOnce checks that a note ends before it is struck again, and
// that texts come before the notes. Source of the bytes: RP-001, meta events,
// and MIDI 1.0, channel messages.
func TestWhatHappensAtOnce(t *testing.T) {
	var track smf.Track
	track.Note(0, 10, smf.Percussion, 76, 100)
	track.Note(10, 20, smf.Percussion, 76, 90)
	track.Text(10, smf.Lyric, "é")
	track.Tempo(0, 500000)
	track.Metre(0, 6, 8)
	var out bytes.Buffer
	require.NoError(t, smf.Write(&out, 480, 20, &track))
	assert.Equal(t, []byte{
		0, 0xff, 0x51, 3, 0x07, 0xa1, 0x20,
		0, 0xff, 0x58, 4, 6, 3, 24, 8,
		0, 0x99, 76, 100,
		10, 0x89, 76, 64,
		0, 0xff, 0x05, 2, 0xc3, 0xa9,
		0, 0x99, 76, 90,
		10, 0x89, 76, 64,
		0, 0xff, 0x2f, 0,
	}, out.Bytes()[22:])
}
