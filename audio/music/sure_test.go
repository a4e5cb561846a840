package music_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/testdata/thorough"
)

// TestDrumsAloneTellNoBars: where bars begin is not sure without harmony, whatever the drums do.
func TestDrumsAloneTellNoBars(t *testing.T) {
	for i, g := range learntGrooves {
		if i%3 != 0 && !thorough.Asked() {
			continue
		}
		p := breathe(g, breaths[0], 40, uint64(i))
		all := len(p.notes)
		var drums []sounded
		for _, n := range p.notes {
			if n.part == drumPart {
				drums = append(drums, n)
			}
		}
		p.notes = drums
		assert.Less(t, len(drums), all)
		found := listen(t, p.band().song(t)).Find(p.tempi, p.metre)
		assert.True(t, found.Clear(), g.name)
		assert.False(t, found.SureOfBar(), g.name)
	}
}

// TestAFewBarsAreTooLittle to be sure where bars begin.
func TestAFewBarsAreTooLittle(t *testing.T) {
	beats := evenly(0.5, 14, 120) // 27 beats, not quite seven bars
	b := newBand(14)
	b.pop(beats, 0.5)
	found := listen(t, b.song(t)).Find(learntGrooves[0].tempi, 4)
	assert.True(t, found.SureOfBeat())
	assert.False(t, found.SureOfBar())
}

// sentence says nine syllables of chance again and again, as speech goes: with no beat.
func sentence(seed uint64, seconds float64) *band {
	c := rand.New(rand.NewPCG(seed, 5))
	b := newBand(seconds)
	var at, length []float64
	lasts := 0.0
	for range 9 {
		at, length = append(at, lasts), append(length, 0.08+0.2*c.Float64())
		lasts += length[len(length)-1] + 0.02 + 0.15*c.Float64()
	}
	lasts += 0.4
	voice := 100 + 100*c.Float64() // Hz
	for from := 0.5; from+lasts < seconds; from += lasts {
		for k := range at {
			b.hat(from + at[k])
			b.play(from+at[k]+0.03, length[k], func(t float64) float64 {
				x := 0.0
				for n := 1.0; n < 12; n++ {
					x += math.Sin(2*math.Pi*n*voice*(0.9+0.04*float64(k%5))*t) / n
				}
				return 0.1 * x * min(t/0.02, (length[k]-t)/0.03, 1)
			})
		}
	}
	return b
}

// TestSpeechIsNoSong: whoever says a sentence again and again is not taken for a song.
func TestSpeechIsNoSong(t *testing.T) {
	for seed := range uint64(6) {
		if seed > 0 && !thorough.Asked() {
			continue
		}
		h := listen(t, sentence(seed+2, 50).song(t))
		for _, g := range learntGrooves {
			found := h.Find(g.tempi, g.metre)
			assert.False(t, found.SureOfBeat(), fmt.Sprint(seed, " ", g.name))
		}
	}
}
