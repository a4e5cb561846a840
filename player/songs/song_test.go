package songs

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/audio/music"
)

// TestASongSaysWhereItsBeatsAreAGuess, and when that comes.
func TestASongSaysWhereItsBeatsAreAGuess(t *testing.T) {
	s := Song{Grid: music.Grid{Rate: 10, Frames: 900, Metre: 4, Confidence: music.Confidence{Strength: 4, Phase: 4, Bar: 1}}}
	assert.Empty(t, s.Doubt())
	assert.False(t, s.DoubtAt(400))
	s.Grid.Doubtful = []music.Stretch{{From: 410, To: 432}, {From: 700, To: 720}}
	assert.Equal(t, "the beats are a guess at 0:41–0:43, 1:10–1:12", s.Doubt())
	for frame, doubt := range map[int64]bool{300: false, 370: true, 432: true, 440: false} {
		assert.Equal(t, doubt, s.DoubtAt(frame), frame)
	}
	s.Grid.Bar = 0
	assert.Equal(t, "not sure where the song's bars begin", s.Doubt())
	assert.True(t, s.DoubtAt(300))
	s.Grid = s.Grid.HalfLater().BarLater(0)
	assert.Empty(t, s.Doubt(), "the dancer says so")
}
