package music_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
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

// TestAnySoundsHaveAGridThatCanBeKept: whatever is heard, beats are in order, and what is known of them is read
// as it was written.
func TestAnySoundsHaveAGridThatCanBeKept(t *testing.T) {
	most := uint64(6)
	if thorough.Asked() {
		most = 40
	}
	for seed := range most {
		c := rand.New(rand.NewPCG(seed, 1))
		seconds := 1 + 25*c.Float64()
		b := newBand(seconds)
		for range c.IntN(60) {
			play := []func(float64){b.kick, b.snare, func(at float64) { b.chord(c.IntN(9), at, 1) }}[c.IntN(3)]
			play(seconds * c.Float64())
		}
		h := listen(t, b.song(t))
		for _, tempi := range []music.Range{{Min: 20, Max: 25}, {Min: 58, Max: 68}, {Min: 112, Max: 128}, {Min: 170, Max: 240}} {
			for metre := 1; metre < 5; metre++ {
				g := h.Find(tempi, metre)
				if len(g.Beats) > 1 {
					read, err := music.ParseGrid(g.Text(), g.Rate, g.Frames)
					require.NoError(t, err, "%d %v %d", seed, tempi, metre)
					assert.Equal(t, g.Beats, read.Beats)
					assert.Equal(t, g.Doubtful, read.Doubtful)
				}
			}
		}
	}
}
