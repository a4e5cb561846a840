package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTheTimeUntilAPauseIsKept; what can't be a time in a file is the usual one.
func TestTheTimeUntilAPauseIsKept(t *testing.T) {
	withSettings(t)
	assert.Equal(t, usualSpell, wasPausing())
	for _, minutes := range []float64{0, 1, 37.5, longestSpell} {
		require.NoError(t, keep("choices", map[string]float64{choiceOfPause: minutes}))
		assert.Equal(t, minutes, wasPausing())
	}
	for _, text := range []string{`{"pause after": -3}`, `{"pause after": 0.2}`, `{"pause after": 1e9}`, `no`} {
		put(t, "choices", text)
		assert.Equal(t, usualSpell, wasPausing(), text)
	}
}
