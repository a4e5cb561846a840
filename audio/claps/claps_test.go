package claps_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/dsp/fourier"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/claps"
	"dance.example/slowquick/testdata/thorough"
)

func sortedNames(b audio.Band) []string { return slices.Sorted(maps.Keys(b)) }

// convolved adds signal, as it arrives by a way, to out. It uses one long transform.
func convolved(out []float32, signal, way []float64, late int, gain float64) {
	if len(way) == 1 {
		for i, s := range signal {
			if at := i + late; at < len(out) {
				out[at] += float32(gain * way[0] * s)
			}
		}
		return
	}
	n := 1
	for n < len(signal)+len(way) {
		n *= 2
	}
	fft := fourier.NewFFT(n)
	a := fft.Coefficients(nil, append(slices.Clone(signal), make([]float64, n-len(signal))...))
	b := fft.Coefficients(nil, append(slices.Clone(way), make([]float64, n-len(way))...))
	for i := range a {
		a[i] *= b[i]
	}
	for i, s := range fft.Sequence(nil, a) {
		if at := i + late; at >= 0 && at < len(out) {
			out[at] += float32(gain * s / float64(n))
		}
	}
}

const seconds = 8

// rooms returns the lengths of the echoes to clap in; more with THOROUGH=1.
func rooms() []float64 {
	if thorough.Asked() {
		return []float64{0, 0.4, 0.69, 1.2}
	}
	return []float64{0.69}
}

// levels returns how loud to play our own sound; more levels with THOROUGH=1.
func levels() []float64 {
	if thorough.Asked() {
		return []float64{0.05, 0.1, 0.3, 0.5}
	}
	return []float64{0.4}
}

// requireFound checks that each clap of a take is found within 5 ms, and nothing else is. It returns
// the largest error, in ms.
func requireFound(t *testing.T, want, got []float64) {
	t.Helper()
	require.Len(t, got, len(want), "as many as there are")
	worst := 0.0
	for i := range want {
		off := (got[i] - want[i]) / rate * 1000
		worst = max(worst, math.Abs(off))
		assert.InDelta(t, 0, off, 5, "clap %d", i)
	}
	t.Logf("%d claps, at most %.2f ms off", len(want), worst)
}

func aClap(r *rand.Rand) []float64 { return clap(r, 900+1500*r.Float64()) }

func aStamp(r *rand.Rand) []float64 { return stamp(r) }

func TestClapsAloneAreFound(t *testing.T) {
	for name, sound := range map[string]func(*rand.Rand) []float64{"claps": aClap, "steps": aStamp} {
		t.Run(name, func(t *testing.T) {
			for _, gain := range []float64{0.05, 1} {
				k := newTake(1, seconds)
				k.clap(1, []float64{1}, gain, sound)
				requireFound(t, k.claps, claps.Find(k.heard, nil, rate).At)
			}
		})
	}
}

func TestClapsInARoomAreFound(t *testing.T) {
	for _, echo := range rooms() {
		k := newTake(2, seconds)
		k.clap(2, room(1, echo, 2), 0.5, aClap)
		requireFound(t, k.claps, claps.Find(k.heard, nil, rate).At)
	}
}

func TestClapsOverOurOwnSoundAreFound(t *testing.T) {
	for name, played := range map[string][]float32{"clicks": clicks(t, seconds), "music": music(t, seconds)} {
		for _, echo := range rooms() {
			for seed, loud := range levels() {
				k := newTake(3, seconds)
				k.play(played, room(7, echo, 1), rate*83/1000, loud)
				k.clap(uint64(seed), room(8, echo, 1), 0.5, aClap)
				f := claps.Find(k.heard, played, rate)
				t.Logf("%s at %v, echo %v s", name, loud, echo)
				assert.True(t, f.Own)
				assert.InDelta(t, 83, f.Delay/rate*1000, 0.5, "how late it is heard")
				requireFound(t, k.claps, f.At)
			}
		}
	}
}

func TestNothingIsInvented(t *testing.T) {
	assert.Empty(t, claps.Find(nil, nil, rate).At)
	assert.Empty(t, claps.Find(make([]float32, rate), nil, rate).At, "in perfect silence")
	assert.Empty(t, claps.Find(newTake(4, seconds).heard, nil, rate).At, "in a room's silence")
	assert.Empty(t, claps.Find(newTake(5, seconds).heard, clicks(t, seconds), rate).At, "with headphones")
	for _, played := range [][]float32{clicks(t, seconds), music(t, seconds)} {
		for _, s := range rooms() {
			k := newTake(6, seconds)
			k.play(played, room(9, s, 1), rate*40/1000, 0.5)
			assert.Empty(t, claps.Find(k.heard, played, rate).At, "in what is played, with an echo of %v s", s)
		}
	}
}

func BenchmarkFind(b *testing.B) {
	played := music(b, 60)
	k := newTake(1, 60)
	k.play(played, room(1, 0.4, 1), 2000, 0.3)
	for b.Loop() {
		claps.Find(k.heard, played, rate)
	}
}
