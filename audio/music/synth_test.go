package music_test

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/gopxl/beep/v2"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/music"
)

const rate = 22050

// band synthesises music.
type band struct {
	samples []float64
	chance  *rand.Rand
}

func newBand(seconds float64) *band {
	return &band{make([]float64, int(seconds*rate)), rand.New(rand.NewPCG(1, 2))}
}

// play adds a sound that starts at a time; t counts seconds from there.
func (b *band) play(at, length float64, sound func(t float64) float64) {
	first := int(math.Round(at * rate))
	for i := 0; i < int(length*rate); i++ {
		if n := first + i; n >= 0 && n < len(b.samples) {
			b.samples[n] += sound(float64(i) / rate)
		}
	}
}

func (b *band) click(at float64) {
	b.play(at, 0.02, func(t float64) float64 { return 0.4 * math.Exp(-t/0.003) * math.Sin(2*math.Pi*1800*t) })
}

func (b *band) kick(at float64) {
	b.play(at, 0.2, func(t float64) float64 { return 0.4 * math.Exp(-t/0.05) * math.Sin(2*math.Pi*60*t) })
}

func (b *band) snare(at float64) {
	b.play(at, 0.1, func(t float64) float64 { return 0.15 * math.Exp(-t/0.03) * (b.chance.Float64()*2 - 1) })
}

func (b *band) hat(at float64) {
	b.play(at, 0.04, func(t float64) float64 { return 0.08 * math.Exp(-t/0.01) * (b.chance.Float64()*2 - 1) })
}

// chords have four notes each, in Hz.
var chords = [][]float64{
	{130.8, 261.6, 329.6, 392}, {174.6, 349.2, 440, 523.3}, {196, 392, 493.9, 293.7}, {220, 261.6, 329.6, 440},
}

func (b *band) chord(n int, at, length float64) {
	for _, f := range chords[n%len(chords)] {
		note := note{f, length}
		sound, ok := notes[note]
		if !ok {
			sound = note.samples()
			notes[note] = sound
		}
		b.play(at, length, func(t float64) float64 { return sound[int(math.Round(t*rate))] })
	}
}

// note is one of a chord.
type note struct{ hertz, length float64 }

// notes are those that were played before: most songs have the same.
var notes = map[note][]float64{}

func (n note) samples() []float64 {
	out := make([]float64, int(n.length*rate))
	for i := range out {
		t := float64(i) / rate
		out[i] = 0.06 * min(t/0.01, 1) * math.Exp(-t/1.5) * math.Sin(2*math.Pi*n.hertz*t)
	}
	return out
}

// song returns what was played, read from a file.
func (b *band) song(t testing.TB) *music.Audio {
	t.Helper()
	path := filepath.Join(t.TempDir(), "song.wav")
	require.NoError(t, os.WriteFile(path, b.wav(t), 0o600))
	s, err := music.ReadFile(context.Background(), path, music.Options{})
	require.NoError(t, err)
	require.NoError(t, s.Damage)
	return s
}

// listen hears a song.
func listen(t testing.TB, s *music.Audio) *music.Heard {
	t.Helper()
	h, err := music.Listen(t.Context(), s)
	require.NoError(t, err)
	return h
}

// wav is what was played as a WAV file, wav44 at 44.1 kHz.
func (b *band) wav(t testing.TB) []byte   { return b.file(t, 1) }
func (b *band) wav44(t testing.TB) []byte { return b.file(t, 2) }

// file returns a WAV file in which each sample is repeated times times.
func (b *band) file(t testing.TB, times int) []byte {
	t.Helper()
	var out bytes.Buffer
	at := 0
	s := beep.StreamerFunc(func(buf [][2]float64) (int, bool) {
		n := 0
		for ; n < len(buf) && at < len(b.samples)*times; n++ {
			x := b.samples[at/times]
			buf[n] = [2]float64{x, x}
			at++
		}
		return n, n > 0
	})
	require.NoError(t, audio.WriteWAV(&out, s, rate*times, 16, int64(len(b.samples)*times)))
	return out.Bytes()
}

// evenly returns the beats of a tempo from one time to another.
func evenly(from, to, bpm float64) (beats []float64) {
	for n := 0; from+float64(n)*60/bpm < to; n++ {
		beats = append(beats, from+float64(n)*60/bpm)
	}
	return beats
}

// numbered returns the beats' numbers in the bar, beginning with 1.
func numbered(beats []float64, metre int) (numbers []int) {
	for i := range beats {
		numbers = append(numbers, i%metre+1)
	}
	return numbers
}

// waltz plays bass on 1 and hats on 2 and 3, with a chord a bar.
func (b *band) waltz(beats []float64) {
	for i, at := range beats {
		if i%3 == 0 {
			b.kick(at)
			b.chord(i/3, at, 2)
		} else {
			b.hat(at)
		}
	}
}

// pop plays bass on 1 and 3, snare on 2 and 4, hats on and between all beats,
// and a chord a bar.
func (b *band) pop(beats []float64, between float64) {
	for i, at := range beats {
		if i%2 == 0 {
			b.kick(at)
		} else {
			b.snare(at)
		}
		if i%4 == 0 {
			b.chord(i/4, at, 3)
		}
		b.hat(at)
		if i+1 < len(beats) {
			b.hat(at + between*(beats[i+1]-at))
		}
	}
}
