package audio_test

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dance.example/slowquick/audio"
	"github.com/gopxl/beep/v2"
	"github.com/gopxl/beep/v2/wav"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// tape streams what is left on it, then ends, with err if it is set.
type tape struct {
	left [][2]float64
	err  error
}

func (t *tape) Stream(samples [][2]float64) (int, bool) {
	n := copy(samples, t.left[:min(len(t.left), 100)])
	t.left = t.left[n:]
	return n, n > 0
}

func (t *tape) Err() error { return t.err }

// TestWAVHeader checks each field against the layout of RIFF WAVE in Microsoft
// and IBM, Multimedia Programming Interface and Data Specifications 1.0 (1991).
func TestWAVHeader(t *testing.T) {
	for _, c := range []struct{ rate, bits, frames int }{
		{44100, 16, 3}, {48000, 24, 5}, {48000, 16, 0},
	} {
		var b bytes.Buffer
		require.NoError(t, audio.WriteWAV(&b, &tape{left: make([][2]float64, c.frames)}, c.rate, c.bits, int64(c.frames)))
		raw := b.Bytes()
		u32 := func(at int) int { return int(binary.LittleEndian.Uint32(raw[at:])) }
		u16 := func(at int) int { return int(binary.LittleEndian.Uint16(raw[at:])) }
		block := 2 * c.bits / 8
		assert.Equal(t, "RIFF", string(raw[0:4]))
		assert.Equal(t, len(raw)-8, u32(4))
		assert.Equal(t, "WAVE", string(raw[8:12]))
		assert.Equal(t, "fmt ", string(raw[12:16]))
		assert.Equal(t, 16, u32(16))
		assert.Equal(t, 1, u16(20), "PCM")
		assert.Equal(t, 2, u16(22), "channels")
		assert.Equal(t, c.rate, u32(24))
		assert.Equal(t, c.rate*block, u32(28))
		assert.Equal(t, block, u16(32))
		assert.Equal(t, c.bits, u16(34))
		assert.Equal(t, "data", string(raw[36:40]))
		assert.Equal(t, c.frames*block, u32(40))
		assert.Len(t, raw, 44+c.frames*block)
	}
}

// TestWAVHeaderBytes compares the format chunk of a 16-bit 44.1 kHz stereo file
// with one worked out by hand from the same layout.
func TestWAVHeaderBytes(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, audio.WriteWAV(&b, &tape{}, 44100, 16, 0))
	want, err := hex.DecodeString(strings.ReplaceAll("10 00 00 00 01 00 02 00 44 AC 00 00 10 B1 02 00 04 00 10 00", " ", ""))
	require.NoError(t, err)
	assert.Equal(t, want, b.Bytes()[16:36])
}

func TestWAVSamples(t *testing.T) {
	in := [][2]float64{
		{0, 1}, {-1, 2}, {-2, 0.5}, {math.NaN(), math.Inf(1)}, {math.Inf(-1), 0.49 / (1 << 15)},
		{0.51 / (1 << 15), -0.51 / (1 << 15)}, {32767.0 / 32768, 32766.6 / 32768},
	}
	var b bytes.Buffer
	require.NoError(t, audio.WriteWAV(&b, &tape{left: in}, 48000, 16, int64(len(in))))
	got := make([]int16, 2*len(in))
	require.NoError(t, binary.Read(bytes.NewReader(b.Bytes()[44:]), binary.LittleEndian, got))
	assert.Equal(t, []int16{
		0, 32767, -32768, 32767, -32768, 16384, 0, 32767, -32768, 0, 1, -1, 32767, 32767,
	}, got)
}

// TestWAVIsReadBack reads files with beep's decoder. Each sample must come back
// within half a step, or a whole step at +1, which has no step of its own.
func TestWAVIsReadBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		x := rapid.Float64Range(-1, 1)
		in := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) [2]float64 {
			return [2]float64{x.Draw(t, "left"), x.Draw(t, "right")}
		}), 1, 300).Draw(rt, "frames")
		bits := rapid.SampledFrom([]int{16, 24}).Draw(rt, "bits")
		var b bytes.Buffer
		require.NoError(rt, audio.WriteWAV(&b, &tape{left: in}, 44100, bits, int64(len(in))))

		s, format, err := wav.Decode(bytes.NewReader(b.Bytes()))
		require.NoError(rt, err)
		assert.Equal(rt, beep.Format{SampleRate: 44100, NumChannels: 2, Precision: bits / 8}, format)
		require.Equal(rt, len(in), s.Len())
		out := make([][2]float64, len(in))
		n, _ := s.Stream(out)
		require.Equal(rt, len(in), n)
		half := 0.5/math.Exp2(float64(bits-1)) + 1e-12
		for i := range in {
			for ch := range 2 {
				limit := half
				if in[i][ch] > 1-half {
					limit = 2 * half
				}
				require.InDelta(rt, in[i][ch], out[i][ch], limit)
			}
		}
	})
}

func TestWAVErrors(t *testing.T) {
	broken := errors.New("the tape tore")
	for _, c := range []struct {
		name       string
		s          beep.Streamer
		rate, bits int
		frames     int64
		want       string
	}{
		{"bits", &tape{}, 48000, 8, 0, "write WAV: 8 bits a sample, can only write 16 or 24"},
		{"rate", &tape{}, 0, 16, 0, "write WAV: its header cannot hold a rate of 0 frames a second"},
		{"negative", &tape{}, 48000, 16, -1, "write WAV: -1 frames of 16 bits do not fit into the 4 GiB that a WAV file can hold"},
		{"too long", &tape{}, 48000, 16, 1 << 30, "write WAV: 1073741824 frames of 16 bits do not fit into the 4 GiB that a WAV file can hold"},
		{"short", &tape{left: make([][2]float64, 150)}, 48000, 16, 200, "write WAV: after 150 of 200 frames: unexpected EOF"},
		{"failing", &tape{err: broken}, 48000, 16, 200, "write WAV: after 0 of 200 frames: the tape tore"},
		{"stuck", stuck{}, 48000, 16, 200, "write WAV: after 0 of 200 frames: unexpected EOF"},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.EqualError(t, audio.WriteWAV(io.Discard, c.s, c.rate, c.bits, c.frames), c.want)
		})
	}
	err := audio.WriteWAV(io.Discard, &tape{err: broken}, 48000, 16, 1)
	assert.ErrorIs(t, err, broken)

	full := errors.New("disk full")
	for room := range 2 {
		err := audio.WriteWAV(&narrow{room, full}, &tape{left: make([][2]float64, 9)}, 48000, 16, 9)
		assert.ErrorIs(t, err, full)
	}
}

// TestWAVLongest checks that the longest file of each depth is allowed: its
// size field is at most 2^32-1.
func TestWAVLongest(t *testing.T) {
	for bits, frames := range map[int]int64{16: (1<<32 - 1 - 36) / 4, 24: (1<<32 - 1 - 36) / 6} {
		full := errors.New("stop")
		w := &narrow{1, full}
		assert.ErrorIs(t, audio.WriteWAV(w, audio.NewEngine(rate), rate, bits, frames), full)
		assert.ErrorContains(t, audio.WriteWAV(w, audio.NewEngine(rate), rate, bits, frames+1), "do not fit")
	}
}

// stuck neither returns frames nor ends.
type stuck struct{}

func (stuck) Stream([][2]float64) (int, bool) { return 0, true }
func (stuck) Err() error                      { return nil }

// narrow accepts room writes, then fails.
type narrow struct {
	room int
	err  error
}

func (n *narrow) Write(p []byte) (int, error) {
	if n.room == 0 {
		return 0, n.err
	}
	n.room--
	return len(p), nil
}

// BenchmarkRenderClickTrack writes an hour of clicks, four a second, to a
// 16-bit file.
func BenchmarkRenderClickTrack(b *testing.B) {
	k := audio.NewKit(rate)
	track := pulse{audio.Hit{Sound: k.Bell, Gain: 1}, rate / 4}
	benchmark(b, func(e *audio.Engine) error {
		e.Play(track)
		f, err := os.Create(filepath.Join(b.TempDir(), "click.wav"))
		if err != nil {
			return err
		}
		defer f.Close()
		return audio.WriteWAV(f, e, rate, 16, hour)
	})
}

// BenchmarkRenderFullMix plays four sounds on each of four beats a second.
func BenchmarkRenderFullMix(b *testing.B) {
	k := audio.NewKit(rate)
	benchmark(b, func(e *audio.Engine) error {
		e.Play(mix{
			pulse{audio.Hit{Sound: k.Bell, Gain: 1}, rate / 4},
			pulse{audio.Hit{Sound: k.Thump, Gain: 0.5, Pan: -0.5}, rate / 4},
			pulse{audio.Hit{Sound: k.Brush, Gain: 0.5, Pan: 0.5, Layer: 1}, rate / 4},
			pulse{audio.Hit{Sound: k.Tick, Gain: 0.8, Layer: 2}, rate / 4},
		})
		return audio.WriteWAV(io.Discard, e, rate, 24, hour)
	})
}

const hour = 3600 * rate

type mix []pulse

func (m mix) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	for _, p := range m {
		dst = p.Hits(dst, from, to)
	}
	return dst
}

func benchmark(b *testing.B, write func(*audio.Engine) error) {
	for b.Loop() {
		require.NoError(b, write(audio.NewEngine(rate)))
	}
	b.ReportMetric(3600*float64(b.N)/b.Elapsed().Seconds(), "x-realtime")
}
