package recording_test

import (
	"bytes"
	"encoding/binary"
	"io"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/recording"
)

// chunk returns a chunk of a RIFF file.
func chunk(name string, body []byte) []byte {
	out := binary.LittleEndian.AppendUint32([]byte(name), uint32(len(body)))
	return append(append(out, body...), make([]byte, len(body)%2)...)
}

// wave returns a WAV file with a chunk of notes before its samples.
func wave(format, channels, rate, bits int, samples []byte) []byte {
	le := binary.LittleEndian
	block := channels * ((bits + 7) / 8)
	f := le.AppendUint16(nil, uint16(format))
	f = le.AppendUint16(f, uint16(channels))
	f = le.AppendUint32(f, uint32(rate))
	f = le.AppendUint32(f, uint32(rate*block))
	f = le.AppendUint16(f, uint16(block))
	f = le.AppendUint16(f, uint16(bits))
	if format == 0xfffe { // extensible, with floats
		f = append(f, 22, 0, byte(bits), 0, 0, 0, 0, 0, 3, 0)
		f = append(f, "\x00\x00\x00\x00\x10\x00\x80\x00\x00\xaa\x00\x38\x9b\x71"...)
	}
	body := append([]byte("WAVE"), chunk("fmt ", f)...)
	body = append(body, chunk("LIST", []byte("notes of odd length"))...)
	return chunk("RIFF", append(body, chunk("data", samples)...))
}

// all returns everything a recording streams, read in small pieces.
func all(r *recording.Recording) (frames [][2]float64) {
	buf := make([][2]float64, 3)
	for {
		n, ok := r.Stream(buf)
		frames = append(frames, buf[:n]...)
		if !ok {
			return frames
		}
	}
}

func open(t testing.TB, kind string, data []byte) *recording.Recording {
	t.Helper()
	r, err := recording.Open(kind, bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	return r
}

// TestSamplesOfAWAV reads samples of each width.
func TestSamplesOfAWAV(t *testing.T) {
	f32 := func(x ...float32) (b []byte) {
		for _, v := range x {
			b = binary.LittleEndian.AppendUint32(b, math.Float32bits(v))
		}
		return b
	}
	f64 := func(x ...float64) (b []byte) {
		for _, v := range x {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
		return b
	}
	for _, c := range []struct {
		name                   string
		format, channels, bits int
		samples                []byte
		want                   [][2]float64
	}{
		{"8 bits, mono", 1, 1, 8, []byte{0, 128, 192}, [][2]float64{{-1, -1}, {0, 0}, {0.5, 0.5}}},
		{"16 bits", 1, 2, 16, []byte{0, 0x80, 0, 0x40}, [][2]float64{{-1, 0.5}}},
		{"24 bits", 1, 2, 24, []byte{0, 0, 0x80, 0, 0, 0x20}, [][2]float64{{-1, 0.25}}},
		{"32 bits", 1, 2, 32, []byte{0, 0, 0, 0x80, 0, 0, 0, 0x20}, [][2]float64{{-1, 0.25}}},
		{"floats", 3, 2, 32, f32(-0.125, 1.5), [][2]float64{{-0.125, 1.5}}},
		{"floats that are none", 3, 2, 32, f32(float32(math.NaN()), float32(math.Inf(-1))), [][2]float64{{0, -64}}},
		{"long floats, mono", 3, 1, 64, f64(-0.125, 1.5), [][2]float64{{-0.125, -0.125}, {1.5, 1.5}}},
		{"extensible", 0xfffe, 2, 32, f32(-0.125, 0.5), [][2]float64{{-0.125, 0.5}}},
		{"three channels", 1, 3, 16, []byte{0, 0x80, 0, 0x40, 1, 1}, [][2]float64{{-1, 0.5}}},
	} {
		r := open(t, ".wav", wave(c.format, c.channels, 22050, c.bits, c.samples))
		assert.Equal(t, 22050, r.Rate(), c.name)
		assert.EqualValues(t, len(c.want), r.Frames(), c.name)
		assert.Equal(t, c.want, all(r), c.name)
		assert.NoError(t, r.Err(), c.name)
	}
}

// TestUnevenWAVs checks that a cut-off file is an error, and that one written
// to a pipe is read to its end.
func TestUnevenWAVs(t *testing.T) {
	whole := wave(1, 1, 8000, 16, []byte{0, 1, 0, 2, 0, 3, 0, 4})
	r := open(t, ".wav", whole[:len(whole)-4])
	assert.Len(t, all(r), 2)
	assert.ErrorIs(t, r.Err(), io.ErrUnexpectedEOF)

	for _, unknown := range []string{"\xff\xff\xff\xff", "\x00\xf0\xff\x7f"} {
		piped := bytes.Clone(whole)
		copy(piped[len(piped)-12:], unknown)
		r = open(t, ".wav", piped)
		assert.Len(t, all(r), 4)
		assert.NoError(t, r.Err())
	}
}

// TestUnreadableKinds checks that the error says what to do.
func TestUnreadableKinds(t *testing.T) {
	opus := append([]byte("OggS\x00\x02"), make([]byte, 20)...)
	opus = append(opus, "\x01\x13OpusHead"...)
	for name, c := range map[string]struct {
		kind string
		data []byte
	}{
		"no sound":       {".txt", nil},
		"another kind":   {".m4a", []byte("....ftypM4A ")},
		"Opus":           {".ogg", opus},
		"A-law":          {".wav", wave(6, 1, 8000, 8, []byte{1, 2})},
		"12-byte floats": {".wav", wave(3, 1, 8000, 96, make([]byte, 24))},
	} {
		_, err := recording.Open(c.kind, bytes.NewReader(c.data), int64(len(c.data)))
		assert.ErrorIs(t, err, recording.ErrKind, name)
	}
	assert.True(t, recording.IsSound(recording.Kind("Song.OPUS")))
	assert.False(t, recording.Known(".opus"))
	assert.False(t, recording.IsSound(".md"))
}

// TestMP3Starts checks that an MP3 file starts where the WAV file that it was
// made from does: without the codec's delay and padding.
func TestMP3Starts(t *testing.T) {
	loudest := func(path, kind string) (at, length float64) {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		r := open(t, kind, data)
		frames, sum, moment := all(r), 0.0, 0.0
		require.NoError(t, r.Err())
		for i, f := range frames {
			sum += f[0] * f[0]
			moment += f[0] * f[0] * float64(i)
		}
		return moment / sum / float64(r.Rate()), float64(len(frames)) / float64(r.Rate())
	}
	at, length := loudest("../voice/testdata/one.wav", ".wav")
	mp3At, mp3Length := loudest("../voice/testdata/one.mp3", ".mp3")
	assert.InDelta(t, at, mp3At, 0.001)
	assert.InDelta(t, length, mp3Length, 0.0001)
}

// TestMP3CutOff checks that this is an error if the file says how long it was.
func TestMP3CutOff(t *testing.T) {
	whole, err := os.ReadFile("../voice/testdata/one.mp3")
	require.NoError(t, err)
	r := open(t, ".mp3", whole[:len(whole)*2/3])
	assert.NotEmpty(t, all(r))
	assert.ErrorIs(t, r.Err(), io.ErrUnexpectedEOF)
}
