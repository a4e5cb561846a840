package player

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/audio/music/timestretch"
)

// TestASongCanBeStretchedFromAnywhere: wherever a playback begins, wherever in the beat the
// steps fall, and at any tempo on offer, its anchors are a valid tempo. Otherwise the song
// would be silent.
func TestASongCanBeStretchedFromAnywhere(t *testing.T) {
	const rate = 48000
	source, err := timestretch.New(timestretch.Sound{Rate: rate, Frames: make([][2]int16, 20*rate)})
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		r := playback{
			song:   source,
			speed:  rapid.Float64Range(SlowestMusic, FastestMusic).Draw(t, "percent") / 100,
			places: rapid.SampledFrom([]places{{0}, {0, 0.5}, {0, 0.75}, {0, 2. / 3}, {0, 0.5, 0.75}, {0, 0.25, 0.5, 0.75}}).Draw(t, "places"),
			in:     rapid.Float64Range(-rate, 10*rate).Draw(t, "in"),
		}
		beat := 60 / rapid.Float64Range(40, 220).Draw(t, "beats a minute")
		for at := rapid.Float64Range(0, 2).Draw(t, "first beat"); at < 19; {
			length := beat * rapid.Float64Range(0.95, 1.05).Draw(t, "length")
			r.tempo = append(r.tempo, tempoSection{begins: at, perBeat: length})
			at += length
		}
		first := timestretch.Anchor{In: max(0, int64(r.in))}
		if r.in < 0 {
			first.Out = int64(-r.in/r.speed) + 1
		}
		if err := r.anchors(first, 0).Check(); err != nil {
			t.Fatal(err)
		}
	})
}
