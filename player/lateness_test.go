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
// of them stray, measure how late the sound is to within 10 ms on average and 40 ms at worst; and
// nineteen times in twenty to within what the measurement says of itself.
func TestLateness(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	sum, within := 0.0, 0
	for _, late := range []float64{0, 0.04, 0.18, -0.05} {
		for range 200 {
			habit := random.Float64()*0.1 - 0.07
			taps := func(by float64) (list []float64) {
				for range 14 {
					list = append(list, by+habit+random.NormFloat64()*0.02)
				}
				return append(list, by+habit+0.25, by+habit-0.2)
			}
			got, ok := player.MeasureLateness(taps(late), taps(0))
			require.True(t, ok)
			assert.InDelta(t, late, got.Late, 0.04)
			off := math.Abs(got.Late - late)
			if sum += off; off <= got.Unsure {
				within++
			}
			assert.Less(t, got.Spread, 0.04)
		}
	}
	assert.Less(t, sum/800, 0.01)
	assert.InDelta(t, 0.95, float64(within)/800, 0.04)
}

func TestLatenessNeedsSteadyTaps(t *testing.T) {
	steady := []float64{0, 0, 0, 0, 0, 0, 0, 0}
	_, ok := player.MeasureLateness(steady[:7], steady)
	assert.False(t, ok, "too few")
	_, ok = player.MeasureLateness(steady, []float64{-0.2, 0.2, -0.1, 0.1, -0.3, 0.3, 0.15, -0.15})
	assert.False(t, ok, "too uneven")
	late, ok := player.MeasureLateness([]float64{0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1}, steady)
	assert.True(t, ok)
	assert.Equal(t, player.Lateness{Late: 0.1}, late)
}
