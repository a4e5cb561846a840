package player_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
)

// TestLateness: whatever the tapper's habit, sixteen taps each with clicks and flashes, two
// of them stray, measure how late the sound is to within 10 ms on average and 40 ms at worst.
func TestLateness(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	sum := 0.0
	for _, late := range []float64{0, 0.04, 0.18, -0.05} {
		for range 200 {
			habit := random.Float64()*0.1 - 0.07
			taps := func(by float64) (list []float64) {
				for range 14 {
					list = append(list, by+habit+random.NormFloat64()*0.02)
				}
				return append(list, by+habit+0.25, by+habit-0.2)
			}
			got, spread, ok := player.Lateness(taps(late), taps(0))
			require.True(t, ok)
			assert.InDelta(t, late, got, 0.04)
			sum += math.Abs(got - late)
			assert.Less(t, spread, 0.04)
		}
	}
	assert.Less(t, sum/800, 0.01)
}

func TestLatenessNeedsSteadyTaps(t *testing.T) {
	steady := []float64{0, 0, 0, 0, 0, 0, 0, 0}
	_, _, ok := player.Lateness(steady[:7], steady)
	assert.False(t, ok, "too few")
	_, _, ok = player.Lateness(steady, []float64{-0.2, 0.2, -0.1, 0.1, -0.3, 0.3, 0.15, -0.15})
	assert.False(t, ok, "too uneven")
	late, spread, ok := player.Lateness([]float64{0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1}, steady)
	assert.Equal(t, []any{0.1, 0.0, true}, []any{late, spread, ok})
}
