package audio_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/audio"
)

func TestClock(t *testing.T) {
	for seconds, want := range map[float64]string{0: "0:00", 59.4: "0:59", 59.5: "1:00", 187: "3:07", 3725: "1:02:05"} {
		assert.Equal(t, want, audio.Clock(seconds), "%v seconds", seconds)
	}
}
