package music_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
)

// TestPicture checks that notes on 1, 2, 3 and between them show at their
// places in the bar, and only where in the song they are played.
func TestPicture(t *testing.T) {
	beats := evenly(20, 60, 90)
	b := newBand(60)
	b.waltz(beats)
	for i := 0; i+1 < len(beats); i += 3 {
		b.hat((beats[i] + beats[i+1]) / 2)
	}
	h := listen(t, b.song(t))
	g := h.Find(music.Range{Min: 84, Max: 96}, 3)
	bar := h.OverBar(g, 4)
	require.Len(t, bar, 12)
	for i, x := range bar {
		if i%4 == 0 || i == 2 {
			assert.Greater(t, x, 1.0, "place %d", i)
		} else {
			assert.Less(t, x, 0.5, "place %d", i)
		}
	}
	song := h.OverSong(g, 6) // the first third is silent
	require.Len(t, song, 6)
	assert.Zero(t, song[0])
	for _, x := range song[2:] {
		assert.Greater(t, x, 1.0)
	}
}
