package device

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var noon = time.Date(2025, 6, 21, 12, 0, 0, 0, time.UTC)

func ms(n float64) time.Duration { return time.Duration(n * float64(time.Millisecond)) }

func TestClockRunsByItself(t *testing.T) {
	c := newClock(48000, noon)
	assert.Equal(t, 0.0, c.at(noon))
	assert.Equal(t, 48000.0, c.at(noon.Add(time.Second)))
	assert.Equal(t, -480.0, c.at(noon.Add(ms(-10))))
	assert.Equal(t, 12*3600*48000.0, c.ask(noon.Add(12*time.Hour)))
}

func TestClockMakesUpForADifferenceInHalfASecond(t *testing.T) {
	for _, off := range []float64{480, -480, 2880} { // frames
		c := newClock(48000, noon)
		c.observe(noon, off)
		assert.Equal(t, 0.0, c.at(noon), "it does not jump")
		assert.InDelta(t, 12000+off/2, c.at(noon.Add(ms(250))), 1)
		assert.InDelta(t, 24000+off, c.at(noon.Add(ms(500))), 1)
		assert.InDelta(t, 48000+off, c.at(noon.Add(ms(1000))), 1, "and not more than that")
	}
}

// TestClockFollowsADevice whose rate differs from ours as much as quartz may, and whose reported
// positions have an error.
func TestClockFollowsADevice(t *testing.T) {
	for _, c := range []struct {
		name       string
		fast       float64 // as a fraction
		noise      float64 // ms, either way
		mean, most float64 // ms
	}{
		{"exact", 0, 0, 0.0001, 0.0001},
		{"fast", 200e-6, 0, 0.05, 0.05},
		{"slow", -200e-6, 0, 0.05, 0.05},
		{"coarse positions", 100e-6, 2.7, 0.1, 1.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			const rate = 48000
			random := rand.New(rand.NewPCG(7, 8))
			clock := newClock(rate, noon)
			device := func(at time.Time) float64 { return at.Sub(noon).Seconds() * rate * (1 + c.fast) }
			sum, most, n := 0.0, 0.0, 0.0
			for at := noon; at.Before(noon.Add(2 * time.Minute)); at = at.Add(ms(50)) {
				clock.observe(at, device(at)+(2*random.Float64()-1)*c.noise/1000*rate)
				if at.Before(noon.Add(time.Minute)) {
					continue // time to learn
				}
				for d := range 50 {
					when := at.Add(ms(float64(d)))
					off := (clock.at(when) - device(when)) / rate * 1000
					sum, most, n = sum+off, max(most, math.Abs(off)), n+1
				}
			}
			assert.InDelta(t, 0, sum/n, c.mean)
			assert.Less(t, most, c.most)
		})
	}
}

func TestFreeClockForgetsTheDevice(t *testing.T) {
	c := newClock(48000, noon)
	for i := range 1000 {
		at := noon.Add(ms(50 * float64(i)))
		c.observe(at, at.Sub(noon).Seconds()*48000*1.001)
	}
	then := noon.Add(time.Minute)
	before := c.at(then)
	c.free(then)
	assert.Equal(t, before, c.at(then))
	assert.InDelta(t, before+48000, c.at(then.Add(time.Second)), 1e-6)
}

// TestHeardFrameNeverGoesBack for ascending times, whether now or ahead of now, even if some observations
// are far off.
func TestHeardFrameNeverGoesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := newClock(48000, noon)
		now, asked, last := noon, noon, 0.0
		for range 200 {
			now = now.Add(ms(rapid.Float64Range(0, 60).Draw(t, "later")))
			switch rapid.IntRange(0, 3).Draw(t, "what") {
			case 0:
				c.observe(now, c.at(now)+rapid.Float64Range(-apart*48000, apart*48000).Draw(t, "off"))
			case 1:
				c.free(now)
			default:
				when := now.Add(ms(rapid.Float64Range(0, 20).Draw(t, "ahead")))
				if when.Before(asked) {
					when = asked
				}
				frame := c.ask(when)
				require.GreaterOrEqual(t, frame, last)
				asked, last = when, frame
			}
		}
	})
}

func TestThePastCanBeAskedFor(t *testing.T) {
	c := newClock(48000, noon)
	c.ask(noon.Add(time.Second))
	assert.Equal(t, 24000.0, c.ask(noon.Add(ms(500))))
	assert.Equal(t, 48000.0, c.ask(noon.Add(time.Second)))
}

func TestAskingAllocatesNothing(t *testing.T) {
	l := open(&counter{}, 48000, Options{}, nil)
	defer l.Close()
	assert.Zero(t, testing.AllocsPerRun(100, func() { l.Heard(time.Now()) }))
	assert.Zero(t, testing.AllocsPerRun(100, func() { l.Status() }))
}

// TestAClockThatWasStopped continues from the next observation or, without one, from where it stood.
func TestAClockThatWasStopped(t *testing.T) {
	c := newClock(48000, noon)
	c.stop(noon.Add(time.Second))
	assert.True(t, c.stopped())
	assert.Equal(t, 48000.0, c.at(noon.Add(time.Hour)))
	assert.Equal(t, 24000.0, c.at(noon.Add(ms(500))), "the past stays")
	c.observe(noon.Add(time.Hour), 48480)
	assert.False(t, c.stopped())
	assert.Equal(t, 48480.0, c.at(noon.Add(time.Hour)), "at once")
	assert.Equal(t, 96480.0, c.at(noon.Add(time.Hour+time.Second)))

	c.stop(noon.Add(2 * time.Hour))
	still := c.at(noon.Add(2 * time.Hour))
	c.free(noon.Add(3 * time.Hour))
	assert.Equal(t, still+48000, c.at(noon.Add(3*time.Hour+time.Second)))
}
