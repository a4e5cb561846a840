package timing_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/claps"
	"dance.example/slowquick/player/timing"
)

// TestDriftOfClapsIsFound has four bars clapped over the count and four in silence, 1 % too slow there,
// as a microphone hears them beside the loudspeaker.
func TestDriftOfClapsIsFound(t *testing.T) {
	p := lantern(t, 100, 8, timing.Bars{Heard: 4, Silent: 4}) // 240 beats a minute
	random := rand.New(rand.NewPCG(5, 6))
	engine := audio.NewEngine(rate)
	engine.Play(p)
	frames := make([][2]float64, int(p.End)+rate/2)
	engine.Stream(frames)
	played, heard := make([]float32, len(frames)), make([]float32, len(frames))
	const late = rate * 30 / 1000
	for i, f := range frames {
		played[i] = float32(f[0]+f[1]) / 2
		heard[i] = float32(0.0005 * random.NormFloat64())
		if i >= late {
			heard[i] += 0.5 * played[i-late]
		}
	}
	for _, at := range tapped(p, nil, 0.008, 0.01) {
		from := int(at*rate) + late
		for i := range rate / 50 {
			heard[from+i] += float32(0.5 * math.Exp(-float64(i)/200) * (2*random.Float64() - 1))
		}
	}
	found := claps.Find(heard, played, rate)
	require.True(t, found.Own)
	var taps []float64
	for _, at := range found.At {
		taps = append(taps, (at-found.Delay)/rate)
	}
	r := timing.Judge(p.Steps, taps, timing.Unsure{})
	assert.Zero(t, r.Missed+r.Extra)
	require.True(t, r.Drift.Known)
	assert.InDelta(t, 0.01, r.Drift.Value, 2*r.Drift.Error)
	assert.Less(t, 2*r.Drift.Error, 0.008, "it is told from none")
	t.Logf("drift %.2f %% ± %.2f", r.Drift.Value*100, 2*r.Drift.Error*100)
}
