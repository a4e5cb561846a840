package music_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/testdata/thorough"
)

// TestBeats finds beats and bars in synthesised music: a third of it, all with THOROUGH=1.
func TestBeats(t *testing.T) {
	for i, c := range []struct {
		name  string
		metre int
		tempi music.Range
		beats []float64
		play  func(*band, []float64)
		tempo float64
		least float64 // F
		bars  bool
	}{
		{"clicks", 4, music.Range{Min: 112, Max: 128}, evenly(0.7, 60, 121.3), func(b *band, beats []float64) {
			for _, at := range beats {
				b.click(at)
			}
		}, 121.3, 0.99, false},
		{"a waltz", 3, music.Range{Min: 84, Max: 96}, evenly(1.3, 60, 88), (*band).waltz, 88, 0.98, true},
		{"a Viennese waltz", 3, music.Range{Min: 162, Max: 192}, evenly(0.2, 60, 179), (*band).waltz, 179, 0.98, true},
		{"a waltz, where two for three beats are in the range", 3, music.Range{Min: 108, Max: 192}, evenly(0.2, 60, 179), func(b *band, beats []float64) {
			b.waltz(beats)
			for i := 0; i < len(beats); i += 3 { // two in a bar
				b.snare(beats[i])
				b.snare(beats[i] + 1.5*60/179)
			}
		}, 179, 0.98, true},
		{"pop", 4, music.Range{Min: 96, Max: 128}, evenly(2, 60, 104), func(b *band, beats []float64) { b.pop(beats, 0.5) }, 104, 0.98, true},
		{"pop, where twice the tempo is near the range", 4, music.Range{Min: 84, Max: 140}, evenly(2, 60, 92), func(b *band, beats []float64) { b.pop(beats, 0.5) }, 92, 0.98, true},
		{"swing", 4, music.Range{Min: 136, Max: 156}, evenly(0.5, 60, 144), func(b *band, beats []float64) { b.pop(beats, 2./3) }, 144, 0.98, true},
		{"swing whose upbeats are louder", 4, music.Range{Min: 96, Max: 144}, evenly(0.5, 60, 120), func(b *band, beats []float64) {
			b.pop(beats, 2./3)
			for _, at := range beats {
				b.snare(at + 1./3)
				b.hat(at + 1./3)
			}
		}, 120, 0.98, true},
		{"dotted swing whose upbeats are louder", 4, music.Range{Min: 96, Max: 144}, evenly(0.5, 60, 105), func(b *band, beats []float64) {
			b.pop(beats, 3./4)
			for _, at := range beats {
				upbeat := at + 3./4*60/105
				b.kick(upbeat)
				b.snare(upbeat)
				b.snare(upbeat)
			}
		}, 105, 0.98, true},
	} {
		if i%3 != 1 && !thorough.Asked() {
			continue
		}
		b := newBand(61)
		c.play(b, c.beats)
		g := listen(t, b.song(t)).Find(c.tempi, c.metre)
		assert.InDelta(t, c.tempo, g.Tempo, 0.02, c.name)
		assert.GreaterOrEqual(t, fMeasure(c.beats, g.Seconds()), c.least, c.name)
		assert.True(t, g.Clear(), c.name)
		assert.True(t, g.SureOfBeat(), c.name)
		if c.bars {
			assert.True(t, g.SureOfBar(), c.name)
			assert.True(t, barRight(c.beats, numbered(c.beats, c.metre), g), c.name)
		}
		require.Len(t, g.Steady, 1, c.name)
		steady := float64(g.Steady[0].To-g.Steady[0].From) / float64(g.Rate)
		assert.Greater(t, steady, 50.0, c.name)
	}
}

// TestBarsUnderATune checks that chords decide where bars begin, even below a
// loud tune that runs across them.
func TestBarsUnderATune(t *testing.T) {
	beats := evenly(0.9, 60, 118)
	b := newBand(61)
	b.pop(beats, 0.5)
	scale := []float64{523.3, 587.3, 659.3, 784, 880, 1046.5}
	for i := 0; i+3 < len(beats); i += 1 + b.chance.IntN(3) {
		pitch := scale[b.chance.IntN(len(scale))]
		b.play(beats[i], 1, func(t float64) float64 {
			return 0.4 * min(t/0.02, 1) * math.Exp(-t) * math.Sin(2*math.Pi*pitch*t)
		})
	}
	g := listen(t, b.song(t)).Find(music.Range{Min: 112, Max: 128}, 4)
	assert.GreaterOrEqual(t, fMeasure(beats, g.Seconds()), 0.98)
	assert.True(t, barRight(beats, numbered(beats, 4), g))
	assert.True(t, g.SureOfBar(), "%.2f", g.Bar)
}

// TestChordsTellTheBeat checks that chords decide where the beat is if the
// upbeats are a little louder than the beats.
func TestChordsTellTheBeat(t *testing.T) {
	beats := evenly(0.4, 60, 122)
	b := newBand(61)
	for i, at := range beats {
		between := at + 30./122
		b.hat(at)
		b.hat(between)
		b.click(between)
		if i%4 == 0 {
			b.chord(i/4, at, 2)
		}
	}
	g := listen(t, b.song(t)).Find(music.Range{Min: 112, Max: 128}, 4)
	assert.GreaterOrEqual(t, fMeasure(beats, g.Seconds()), 0.98)
	assert.True(t, barRight(beats, numbered(beats, 4), g))
}

// TestLoudUpbeats checks that the beats go on, and the tempo counts as steady,
// if the upbeats are louder than the beats at the end.
func TestLoudUpbeats(t *testing.T) {
	beats := evenly(1, 90, 116)
	b := newBand(91)
	b.pop(beats, 0.5)
	for i, at := range beats {
		if between := at + 30./116; at > 70 {
			b.chord(i/4, between, 0.2)
			b.kick(between)
			for range 4 {
				b.snare(between)
			}
		}
	}
	g := listen(t, b.song(t)).Find(music.Range{Min: 112, Max: 128}, 4)
	assert.GreaterOrEqual(t, fMeasure(beats, g.Seconds()), 0.98)
	assert.True(t, barRight(beats, numbered(beats, 4), g))
	require.Len(t, g.Steady, 1)
	assert.Greater(t, float64(g.Steady[0].To)/float64(g.Rate), 89.0)
}

// TestHowNearBeatsAre checks that beats are found within the 12 ms at which a
// listener would notice that one is off (2.5 % of the time between beats:
// Friberg and Sundberg, JASA 1995).
func TestHowNearBeatsAre(t *testing.T) {
	beats := evenly(0.7, 60, 121.3)
	b := newBand(61)
	for _, at := range beats {
		b.click(at)
	}
	g := listen(t, b.song(t)).Find(music.Range{Min: 112, Max: 128}, 4)
	found := g.Seconds()
	require.Len(t, found, len(beats))
	for i := range beats {
		assert.InDelta(t, beats[i], found[i], 0.012)
	}
}

// wandering returns beats whose tempo goes up and down by the given part, once in 20 s.
func wandering(from, to, bpm, part float64) (beats []float64) {
	for at := from; at < to; {
		beats = append(beats, at)
		at += 60 / (bpm * (1 + part*math.Sin(2*math.Pi*at/20)))
	}
	return beats
}

// TestDrift checks that beats whose tempo wanders are followed and not called steady.
func TestDrift(t *testing.T) {
	beats := wandering(1, 90, 124, 0.03)
	b := newBand(91)
	b.pop(beats, 0.5)
	g := listen(t, b.song(t)).Find(music.Range{Min: 112, Max: 136}, 4)
	assert.GreaterOrEqual(t, fMeasure(beats, g.Seconds()), 0.98)
	assert.True(t, barRight(beats, numbered(beats, 4), g))
	assert.InDelta(t, 124, g.Tempo, 2)
	assert.Empty(t, g.Steady)
	slowest, fastest := g.Span()
	assert.InDelta(t, 124*0.97, slowest, 2)
	assert.InDelta(t, 124*1.03, fastest, 2)
}

// TestFreeIntroduction checks that a song with a slow, free start is steady
// later, and that the grid says from when.
func TestFreeIntroduction(t *testing.T) {
	var beats []float64
	at := 1.0
	for i := range 32 {
		beats = append(beats, at)
		at += 60 / (126 * (0.72 + 0.25*float64(i)/32))
	}
	begins := at
	beats = append(beats, evenly(at, 90, 126)...)
	b := newBand(91)
	b.pop(beats, 0.5)
	g := listen(t, b.song(t)).Find(music.Range{Min: 120, Max: 136}, 4)
	assert.InDelta(t, 126, g.Tempo, 0.05)
	longest := g.Steady[len(g.Steady)-1]
	assert.InDelta(t, begins, float64(longest.From)/float64(g.Rate), 4)
	assert.InDelta(t, 126, g.TempoIn(longest), 0.05)
	assert.GreaterOrEqual(t, fMeasure(beats, g.Seconds()), 0.98)
}

// TestNoBeat checks that silence, noise and notes at no tempo have no clear beat; with THOROUGH=1 a sustained chord, too.
func TestNoBeat(t *testing.T) {
	tempi := music.Range{Min: 112, Max: 128}
	silent := newBand(30)
	g := listen(t, silent.song(t)).Find(tempi, 4)
	assert.Empty(t, g.Beats)
	assert.Zero(t, g.Tempo)
	assert.False(t, g.Clear())

	short := newBand(1)
	short.click(0.5)
	assert.Empty(t, listen(t, short.song(t)).Find(tempi, 4).Beats)

	lasting := 30.0
	if thorough.Asked() {
		lasting = 60
	}
	noise := newBand(lasting)
	noise.play(0, lasting, func(float64) float64 { return 0.3 * (noise.chance.Float64()*2 - 1) })
	assert.False(t, listen(t, noise.song(t)).Find(tempi, 4).Clear())

	free := newBand(lasting)
	for at := 0.5; at < lasting; at += 0.12 + 0.9*free.chance.Float64() {
		free.chord(int(at*7), at, 0.8)
	}
	assert.False(t, listen(t, free.song(t)).Find(tempi, 4).Clear())

	if !thorough.Asked() {
		return
	}
	hum := newBand(lasting)
	hum.play(0, lasting, func(s float64) float64 {
		return 0.2*math.Sin(2*math.Pi*220*s) + 0.1*math.Sin(2*math.Pi*331*s)*(1+0.5*math.Sin(s*1.3))
	})
	assert.False(t, listen(t, hum.song(t)).Find(tempi, 4).Clear())
}

// TestAnotherTempo checks that there is no clear beat in a range that the
// music's tempo is not in.
func TestAnotherTempo(t *testing.T) {
	b := newBand(60)
	b.pop(evenly(1, 60, 120), 0.5)
	h := listen(t, b.song(t))
	assert.True(t, h.Find(music.Range{Min: 112, Max: 128}, 4).Clear())
	g := h.Find(music.Range{Min: 140, Max: 156}, 4)
	assert.False(t, g.Clear())
	assert.Less(t, g.Tempo, 156*1.04)
	assert.Greater(t, g.Tempo, 140*0.96)
}

// TestListeningIsGivenUp when its context ends.
func TestListeningIsGivenUp(t *testing.T) {
	s := tone(3).song(t)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := music.Listen(ctx, s)
	assert.ErrorIs(t, err, context.Canceled)
}
