package music_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
)

// grid returns beats a second apart, the second of which begins a bar of three.
func grid() music.Grid {
	return music.Grid{
		Rate: 100, Frames: 750, Metre: 3, Tempo: 60, Steady: []music.Stretch{{From: 100, To: 700}},
		Beats: []music.Beat{{100, 3}, {200, 1}, {300, 2}, {400, 3}, {500, 1}, {600, 2}, {700, 3}},
	}
}

// TestCorrections checks that a correction moves beats or numbers, and leaves
// the grid it was called on as it is.
func TestCorrections(t *testing.T) {
	for _, c := range []struct {
		name      string
		correct   func(music.Grid) music.Grid
		want      []music.Beat
		tempo     float64
		beat, bar bool
	}{
		{"half a beat later; the last would be after the end", music.Grid.HalfLater,
			[]music.Beat{{150, 3}, {250, 1}, {350, 2}, {450, 3}, {550, 1}, {650, 2}}, 60, true, false},
		{"bars a beat later", func(g music.Grid) music.Grid { return g.BarLater(1) },
			[]music.Beat{{100, 2}, {200, 3}, {300, 1}, {400, 2}, {500, 3}, {600, 1}, {700, 2}}, 60, false, true},
		{"bars a beat earlier", func(g music.Grid) music.Grid { return g.BarLater(-1) },
			[]music.Beat{{100, 1}, {200, 2}, {300, 3}, {400, 1}, {500, 2}, {600, 3}, {700, 1}}, 60, false, true},
		{"one is here", func(g music.Grid) music.Grid { return g.OneAt(410) },
			[]music.Beat{{100, 1}, {200, 2}, {300, 3}, {400, 1}, {500, 2}, {600, 3}, {700, 1}}, 60, false, true},
		{"twice as many", music.Grid.Doubled,
			[]music.Beat{{100, 2}, {150, 3}, {200, 1}, {250, 2}, {300, 3}, {350, 1}, {400, 2}, {450, 3}, {500, 1}, {550, 2}, {600, 3}, {650, 1}, {700, 2}}, 120, true, false},
		{"half as many", music.Grid.Halved,
			[]music.Beat{{200, 1}, {400, 2}, {600, 3}}, 30, true, false},
	} {
		before := grid()
		g := c.correct(before)
		assert.Equal(t, grid(), before, c.name)
		assert.Equal(t, c.want, g.Beats, c.name)
		assert.Equal(t, c.tempo, g.Tempo, c.name)
		assert.Equal(t, []bool{c.beat, c.bar}, []bool{g.BeatGiven, g.BarGiven}, c.name)
	}
	var none music.Grid
	none.Metre = 4
	assert.Empty(t, none.OneAt(5).Beats)
	assert.Empty(t, none.HalfLater().Doubled().Halved().BarLater(1).Beats)
}

// TestCorrectionsWin checks that they override what was measured.
func TestCorrectionsWin(t *testing.T) {
	g := grid()
	assert.False(t, g.Clear())
	assert.True(t, g.HalfLater().SureOfBeat())
	assert.False(t, g.HalfLater().SureOfBar())
	assert.True(t, g.OneAt(0).SureOfBar())
}

// TestAnotherRate checks that beats keep their times.
func TestAnotherRate(t *testing.T) {
	g := grid().At(48000)
	assert.Equal(t, grid().Seconds(), g.Seconds())
	assert.Equal(t, []int64{48000, 336000, 360000}, []int64{g.Steady[0].From, g.Steady[0].To, g.Frames})
}

// TestTapsAlong checks that taps find the beats they mean: at another tempo
// than the finder would choose, between its beats, and with some left out.
func TestTapsAlong(t *testing.T) {
	beats := evenly(1, 60, 120)
	b := newBand(60)
	b.pop(beats, 0.5)
	h := listen(t, b.song(t))
	tapped := func(beats []float64, which ...int) (taps []int64) {
		unsteady := rand.New(rand.NewPCG(3, 4))
		for _, i := range which {
			taps = append(taps, int64((beats[i]-0.02+0.03*unsteady.NormFloat64())*rate))
		}
		return taps
	}
	for _, c := range []struct {
		name  string
		taps  []int64
		want  []float64
		tempo float64
	}{
		{"eight beats", tapped(beats, 10, 11, 12, 13, 14, 15, 16, 17), beats, 120},
		{"with some left out", tapped(beats, 10, 11, 13, 14, 15, 18, 19), beats, 120},
		{"every second beat", tapped(beats, 9, 11, 13, 15, 17, 19, 21), evenly(1.5, 60, 60), 60},
		{"between the beats", tapped(evenly(1.25, 60, 120), 12, 13, 14, 15, 16, 17, 18, 19, 20), evenly(1.25, 60, 120), 120},
	} {
		g, err := h.Along(c.taps, 4)
		require.NoError(t, err, c.name)
		assert.InDelta(t, c.tempo, g.Tempo, 0.05, c.name)
		assert.GreaterOrEqual(t, fMeasure(c.want, g.Seconds()), 0.98, c.name)
		assert.True(t, g.SureOfBar(), c.name)
		for _, b := range g.Beats {
			if b.Frame > c.taps[0]-2000 {
				assert.Equal(t, 1, b.Number, c.name)
				break
			}
		}
	}
	for _, taps := range [][]int64{nil, {1, 2, 3}, {5, 5, 5, 5}, {0, 100000000, 200000000, 300000000}} {
		_, err := h.Along(taps, 4)
		assert.ErrorIs(t, err, music.ErrTaps)
	}
}

// TestTapsWithoutABeat checks that the beats go on as tapped.
func TestTapsWithoutABeat(t *testing.T) {
	h := listen(t, newBand(30).song(t))
	g, err := h.Along([]int64{4 * rate, 5 * rate, 6 * rate, 7 * rate}, 3)
	require.NoError(t, err)
	assert.Equal(t, evenly(0, 30, 60), g.Seconds())
	assert.Equal(t, []int{3, 1, 2, 3, 1}, []int{g.Beats[0].Number, g.Beats[1].Number, g.Beats[2].Number, g.Beats[3].Number, g.Beats[4].Number})
	assert.True(t, g.SureOfBar())
}
