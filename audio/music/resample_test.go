package music_test

import (
	"math"
	"testing"

	"github.com/gopxl/beep/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/audio/music"
)

// sine returns a tone, on the right half as loud as on the left.
func sine(hz float64, rate, frames int) [][2]float64 {
	out := make([][2]float64, frames)
	for i := range out {
		x := 0.5 * math.Sin(2*math.Pi*hz*float64(i)/float64(rate))
		out[i] = [2]float64{x, x / 2}
	}
	return out
}

// given streams frames, at most most of them at a time.
func given(frames [][2]float64, most int) beep.Streamer {
	return beep.StreamerFunc(func(out [][2]float64) (int, bool) {
		n := copy(out[:min(len(out), most)], frames)
		frames = frames[n:]
		return n, n > 0
	})
}

// all returns everything that s streams when asked for size frames at a time.
func all(s beep.Streamer, size int) (out [][2]float64) {
	buf := make([][2]float64, size)
	for {
		n, ok := s.Stream(buf)
		out = append(out, buf[:n]...)
		if !ok {
			return out
		}
	}
}

// db returns how far below the tone the difference lies, in dB, leaving out both ends.
func db(got, want [][2]float64) float64 {
	signal, noise := 0.0, 1e-30
	for i := 2000; i < min(len(got), len(want))-2000; i++ {
		for c := range 2 {
			signal += want[i][c] * want[i][c]
			noise += (got[i][c] - want[i][c]) * (got[i][c] - want[i][c])
		}
	}
	return 10 * math.Log10(signal/noise)
}

// TestTonesAtAnotherRate checks that tones stay the same from their first frame on.
func TestTonesAtAnotherRate(t *testing.T) {
	for _, rates := range [][2]int{{44100, 48000}, {48000, 44100}, {96000, 48000}, {22050, 48000}, {32000, 44100}, {8000, 48000}, {47999, 48000}} {
		from, to := rates[0], rates[1]
		worst := math.Inf(1)
		for _, part := range []float64{0.001, 0.02, 0.2, 0.35, 0.4} { // of the lower rate
			hz := part * float64(min(from, to))
			got := all(music.NewResampler(given(sine(hz, from, from/2), 1000), from, to), 512)
			require.Len(t, got, to/2)
			worst = min(worst, db(got, sine(hz, to, to/2)))
		}
		least := 80.0
		if from == 47999 { // needs more places between two frames than there are weights for
			least = 68
		}
		assert.Greater(t, worst, least, "%d to %d", from, to)
	}
}

// TestNoAliases checks that a tone too high for the new rate does not come back
// as another tone.
func TestNoAliases(t *testing.T) {
	got := all(music.NewResampler(given(sine(30000, 96000, 48000), 4096), 96000, 48000), 512)
	for _, x := range got[1000 : len(got)-1000] {
		require.InDelta(t, 0, x[0], 0.5e-4) // 80 dB
	}
}

// TestResamplingInAnyChunks checks that the size of reads changes neither the
// frames nor how many there are.
func TestResamplingInAnyChunks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.SampledFrom([]int{8000, 11025, 44100, 48000, 96000, 37123}).Draw(t, "from")
		to := rapid.SampledFrom([]int{44100, 48000}).Draw(t, "to")
		n := rapid.IntRange(0, 9000).Draw(t, "frames")
		tone := sine(440, from, n)
		want := all(music.NewResampler(given(tone, 1<<20), from, to), 1<<16)
		require.Len(t, want, (n*to+from-1)/from)
		got := all(music.NewResampler(given(tone, rapid.IntRange(1, 5000).Draw(t, "given")), from, to), rapid.IntRange(1, 5000).Draw(t, "asked"))
		require.Equal(t, want, got)
	})
}

// BenchmarkResampling resamples a second of a song from 44.1 to 48 kHz.
func BenchmarkResampling(b *testing.B) {
	tone, buf := sine(440, 44100, 44100), make([][2]float64, 2048)
	for range b.N {
		s := music.NewResampler(given(tone, 2048), 44100, 48000)
		for ok := true; ok; {
			_, ok = s.Stream(buf)
		}
	}
}
