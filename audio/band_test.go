package audio_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
)

// loudest returns the index and the absolute value of the sample furthest from
// 0.
func loudest(s audio.Sound) (at int, peak float64) {
	for i, x := range s {
		if a := math.Abs(float64(x)); a > peak {
			at, peak = i, a
		}
	}
	return at, peak
}

func seconds(samples, rate int) float64 { return float64(samples) / float64(rate) }

// centroid returns the mean frequency of a sound in Hz, weighted by power, in
// bands of 50 Hz.
func centroid(s audio.Sound, rate int) float64 {
	var sum, total float64
	for f := 25.0; f < 20000; f += 50 {
		// a rotating phasor is faster than a sine for each sample
		sin, cos := math.Sincos(2 * math.Pi * f / float64(rate))
		re, im, c, d := 0.0, 0.0, 1.0, 0.0
		for _, x := range s {
			re += float64(x) * c
			im += float64(x) * d
			c, d = c*cos-d*sin, c*sin+d*cos
		}
		p := re*re + im*im
		sum += f * p
		total += p
	}
	return sum / total
}

func TestBandSoundsAreOnTheBeat(t *testing.T) {
	for _, rate := range []int{22050, 44100, 48000, 96000} {
		for name, s := range audio.NewBand(rate) {
			t.Run(fmt.Sprint(name, rate), func(t *testing.T) {
				within := 0.005
				if name == "guiro long" {
					within = 0.015
				}
				at, peak := loudest(s)
				assert.LessOrEqual(t, seconds(at, rate), within, "loudest at once")
				assert.LessOrEqual(t, peak, 0.35+1e-6)
				assert.GreaterOrEqual(t, peak, 0.1)
				begins := slices.IndexFunc(s, func(x float32) bool { return math.Abs(float64(x)) > peak/10 })
				assert.LessOrEqual(t, seconds(begins, rate), 0.002, "heard at once")
			})
		}
	}
}

func TestBandSoundsEndInSilence(t *testing.T) {
	for name, s := range audio.NewBand(rate) {
		assert.LessOrEqual(t, seconds(len(s), rate), 0.6, name)
		assert.Zero(t, s[len(s)-1], name)
		assert.Less(t, energy(s[len(s)*3/4:])/energy(s), 0.02, "%s dies away", name)
		mean := 0.0
		for _, x := range s {
			mean += float64(x) / float64(len(s))
		}
		assert.Less(t, math.Abs(mean), 0.005, "%s moves the loudspeaker to both sides", name)
	}
}

// TestBandIsTheSameEachTime also checks that another rate gives sounds of the
// same length, loudness and brightness.
func TestBandIsTheSameEachTime(t *testing.T) {
	first, other := audio.NewBand(44100), audio.NewBand(48000)
	require.Equal(t, first, audio.NewBand(44100))
	require.ElementsMatch(t, slices.Collect(maps.Keys(first)), slices.Collect(maps.Keys(other)))
	for name, a := range first {
		b := other[name]
		assert.InDelta(t, seconds(len(a), 44100), seconds(len(b), 48000), 0.0001, name)
		_, peakA := loudest(a)
		_, peakB := loudest(b)
		assert.InDelta(t, peakA, peakB, 1e-6, name)
		assert.InDelta(t, 1, centroid(a, 44100)/centroid(b, 48000), 0.15, name)
		assert.InDelta(t, 1, energy(a)/44100/(energy(b)/48000), 0.35, name)
	}
}

// TestBandFromDarkToBright checks the order: low drums, hand drums, snares,
// then metal.
func TestBandFromDarkToBright(t *testing.T) {
	b := audio.NewBand(rate)
	for _, order := range [][]string{
		{"bass drum", "conga open", "snare", "hat closed"},
		{"surdo open", "bongo low", "bongo high", "cowbell", "claves", "maracas", "hat closed"},
		{"bass", "conga muted", "conga open", "conga slap", "side stick", "guiro short"},
		{"surdo open", "conga open", "castanets", "brush snare", "hat open"},
	} {
		for i, name := range order[1:] {
			before := order[i]
			require.NotEmpty(t, b[before], before)
			require.NotEmpty(t, b[name], name)
			assert.Greater(t, centroid(b[name], rate), 1.1*centroid(b[before], rate), "%s is brighter than %s", name, before)
		}
	}
}

// TestBandLongAndShort checks that the strokes of one instrument differ in
// length.
func TestBandLongAndShort(t *testing.T) {
	b := audio.NewBand(rate)
	for _, pair := range [][2]string{
		{"guiro short", "guiro long"}, {"conga muted", "conga open"}, {"surdo muted", "surdo open"}, {"hat closed", "hat open"},
	} {
		assert.Greater(t, ringing(b[pair[1]]), 2*ringing(b[pair[0]]), "%s and %s", pair[0], pair[1])
	}
}

// ringing returns the number of samples by which all but a hundredth of a
// sound's energy is spent.
func ringing(s audio.Sound) int {
	sum, total := 0.0, energy(s)
	for i, x := range s {
		if sum += float64(x) * float64(x); sum > 0.99*total {
			return i
		}
	}
	return len(s)
}

func BenchmarkNewBand(b *testing.B) {
	for b.Loop() {
		audio.NewBand(48000)
	}
}
