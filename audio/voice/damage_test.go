package voice_test

import (
	"bytes"
	"encoding/binary"
	"os"
	"runtime"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/voice"
)

// testFile returns a file of testdata.
func testFile(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	require.NoError(t, err)
	return data
}

// frugally reads a recording, and checks that no more than 64 MiB is allocated in all.
func frugally(t *testing.T, v *voice.Voice, name string, data []byte) (*voice.Voice, []error) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	v, bad := v.With(fstest.MapFS{name: {Data: data}})
	runtime.ReadMemStats(&after)
	assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(64<<20), name)
	return v, bad
}

// TestDamagedRecordings checks that a damaged file is a word or an error, and
// costs little memory. An Ogg file has checksums that reveal any damage.
func TestDamagedRecordings(t *testing.T) {
	v := shipped()
	for _, name := range []string{"one.flac", "one.ogg", "one.mp3"} {
		whole := testFile(t, name)
		for at := 0; at < len(whole); at += 1 + at/20 { // most of them in the headers
			data := bytes.Clone(whole)
			data[at] ^= 0xff
			w, bad := frugally(t, v, name, data)
			assert.Equal(t, len(bad) == 0, len(w.Own()) == 1, "byte %d", at)
			if name == "one.ogg" {
				assert.Len(t, bad, 1, "byte %d", at)
			}
		}
	}
}

// TestFLACCutBetweenFrames checks that this is an error, although every
// remaining frame is whole.
func TestFLACCutBetweenFrames(t *testing.T) {
	whole := testFile(t, "one.flac")
	last := bytes.LastIndex(whole, []byte("\xff\xf8"))
	require.Greater(t, last, len(whole)/2)
	_, bad := shipped().With(fstest.MapFS{"one.flac": {Data: whole[:last]}})
	assert.Equal(t, []string{"read word one.flac: unexpected EOF"}, told(bad))
}

// TestGreedyVorbis checks that a file which claims more comments or codebooks
// than it can hold is refused, although its checksums are right.
func TestGreedyVorbis(t *testing.T) {
	whole := testFile(t, "one.ogg")
	maker := bytes.Index(whole, []byte("\x03vorbis")) + 7
	count := maker + 4 + int(binary.LittleEndian.Uint32(whole[maker:]))
	book := bytes.Index(whole, []byte("BCV"))
	require.Greater(t, book, count)
	v := shipped()

	unchanged := bytes.Clone(whole)
	sign(unchanged)
	require.Equal(t, whole, unchanged, "the checksums are those that the encoder wrote")
	_, bad := frugally(t, v, "one.ogg", unchanged)
	require.Empty(t, bad)

	for _, greedy := range []struct {
		name, bytes string
		at          int
	}{
		{"long maker", "\xff\xff\xff\xff", maker},
		{"many comments", "\xff\xff\xff\xff", count},
		{"large codebook", "\xff\xff\xff\xff\xff", book + 3},
		{"codebook of many entries without numbers", "\x00\x00\xff\xff\xff", book + 3},
		{"rest of a packet from before", "\x03", 5},
		{"codebook without entries", "\x00\x00\x00", book + 5},
	} {
		data := bytes.Clone(whole)
		copy(data[greedy.at:], greedy.bytes)
		sign(data)
		_, bad := frugally(t, v, "one.ogg", data)
		assert.Equal(t, []string{"read word one.ogg: not an Ogg Vorbis file"}, told(bad), greedy.name)
	}
}

// sign writes the checksums of an Ogg file's pages: polynomial 0x04c11db7, highest bit
// first, starting at 0, over the page with zeros in the checksum's place (RFC 3533).
func sign(data []byte) {
	for len(data) > 0 {
		end := 27 + int(data[26])
		for _, size := range data[27:end] {
			end += int(size)
		}
		copy(data[22:26], "\x00\x00\x00\x00")
		var sum uint32
		for _, b := range data[:end] {
			sum ^= uint32(b) << 24
			for range 8 {
				sum = sum<<1 ^ sum>>31*0x04c11db7
			}
		}
		binary.LittleEndian.PutUint32(data[22:], sum)
		data = data[end:]
	}
}

// TestTaggedMP3 checks that a tag before the sound is skipped, and that one
// which claims more than there is costs nothing.
func TestTaggedMP3(t *testing.T) {
	sound := testFile(t, "one.mp3")
	tag := append([]byte("ID3\x03\x00\x00\x00\x00\x01\x02"), make([]byte, 130)...)
	v := shipped()
	tagged, bad := frugally(t, v, "one.mp3", append(bytes.Clone(tag), sound...))
	assert.Empty(t, bad)
	plain, bad := frugally(t, v, "one.mp3", sound)
	assert.Empty(t, bad)
	want, _, _ := plain.In("english")("one")
	got, _, _ := tagged.In("english")("one")
	assert.Equal(t, want, got)

	copy(tag[6:], "\x7f\x7f\x7f\x7f")
	_, bad = frugally(t, v, "one.mp3", append(tag, sound...))
	assert.Len(t, bad, 1)
}
