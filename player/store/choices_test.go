package store

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTheTimeUntilAPauseIsKept, and a value that makes no sense is replaced by the usual one.
func TestTheTimeUntilAPauseIsKept(t *testing.T) {
	settingsIn(t)
	was := func() float64 {
		c, _ := ReadChoices()
		return c.PauseAfter
	}
	assert.Equal(t, UsualPause, was())
	for _, minutes := range []float64{0, 1, 37.5, LongestPause} {
		require.NoError(t, KeepPauseAfter(minutes))
		assert.Equal(t, minutes, was())
	}
	for _, text := range []string{`{"pause after": -3}`, `{"pause after": 0.2}`, `{"pause after": 1e9}`, `no`} {
		put(t, "choices", text)
		assert.Equal(t, UsualPause, was(), text)
	}
}
