package music_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
)

// BenchmarkAnalysis reads a song of six minutes from a WAV file of 44.1 kHz and finds its
// beats. It reports how many times faster than the song plays that is.
func BenchmarkAnalysis(b *testing.B) {
	const seconds = 360
	pop := newBand(seconds)
	pop.pop(evenly(1, seconds, 120), 0.5)
	path := written(b, "song.wav", pop.wav44(b))
	pop = nil
	b.ResetTimer()
	var took time.Duration
	for range b.N {
		began := time.Now()
		s, err := music.ReadFile(context.Background(), path, music.Options{})
		require.NoError(b, err)
		g := listen(b, s).Find(music.Range{Min: 112, Max: 128}, 4)
		require.True(b, g.Clear())
		took += time.Since(began)
	}
	b.ReportMetric(seconds*float64(b.N)/took.Seconds(), "x-real-time")
}
