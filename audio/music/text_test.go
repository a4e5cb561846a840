package music_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/audio/music"
)

// TestText checks the documented form.
func TestText(t *testing.T) {
	g := grid()
	g.Beats = g.Beats[:2]
	assert.Equal(t, "steady 1.000000 7.000000\ngiven nothing\n1.000000\t3\n2.000000\t1\n", g.Text())
	g.BeatGiven, g.Strength, g.Bar = true, 4.25, -0.5
	g.Steady = append(g.Steady, music.Stretch{From: 700, To: 725})
	assert.Contains(t, g.Text(), "steady 1.000000 7.000000\nsteady 7.000000 7.250000\n")
	g.Steady = nil
	assert.Equal(t, "steady nowhere\ngiven beats\nmeasured 4.25 0 -0.5\n1.000000\t3\n2.000000\t1\n", g.Text())
	g.BarGiven = true
	assert.Contains(t, g.Text(), "given beats bars\n")
}

// someGrid draws a grid, which may be steady throughout, in part or nowhere.
func someGrid(t *rapid.T) music.Grid {
	g := music.Grid{Rate: rapid.SampledFrom([]int{100, 8000, 44100, 48000, 192000}).Draw(t, "rate"), Metre: rapid.IntRange(1, 16).Draw(t, "metre")}
	first := rapid.IntRange(0, g.Metre-1).Draw(t, "first")
	frame := rapid.Int64Range(0, 10*int64(g.Rate)).Draw(t, "begins")
	for i := range max(2, g.Metre) + rapid.IntRange(0, 30).Draw(t, "more") {
		g.Beats = append(g.Beats, music.Beat{Frame: frame, Number: (first+i)%g.Metre + 1})
		frame += rapid.Int64Range(1, 3*int64(g.Rate)).Draw(t, "length")
	}
	g.Frames = frame
	for to := int64(0); to < frame && rapid.Bool().Draw(t, "steady"); {
		from := rapid.Int64Range(to, frame-1).Draw(t, "from")
		to = rapid.Int64Range(from+1, frame).Draw(t, "to")
		g.Steady = append(g.Steady, music.Stretch{From: from, To: to})
	}
	if n := len(g.Steady); n > 0 && rapid.Bool().Draw(t, "doubts") {
		g.Doubtful = g.Steady[:1]
	}
	if rapid.Bool().Draw(t, "was measured") {
		number := rapid.Float64Range(-1e6, 1e6)
		g.Strength, g.Phase, g.Bar = number.Draw(t, "strength"), number.Draw(t, "phase"), number.Draw(t, "bar")
	}
	g.BeatGiven, g.BarGiven = rapid.Bool().Draw(t, "beats given"), rapid.Bool().Draw(t, "bars given")
	return g
}

// TestAnyGridIsReadAsItWasWritten leaves out the tempo, which is worked out from the beats.
func TestAnyGridIsReadAsItWasWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := someGrid(t)
		read, err := music.ParseGrid("# of a song\n"+g.Text(), g.Rate, g.Frames)
		require.NoError(t, err)
		require.Greater(t, read.Tempo, 0.0)
		g.Tempo = read.Tempo
		require.Equal(t, g, read)
		// At another rate everything is within a frame.
		const other = 44100
		at := g.At(other)
		read, err = music.ParseGrid(g.Text(), other, at.Frames)
		if err != nil { // two beats fell on one frame
			require.Contains(t, err.Error(), " is not after ")
			return
		}
		for i, b := range read.Beats {
			require.InDelta(t, at.Beats[i].Frame, b.Frame, 1)
		}
		for i, s := range read.Steady {
			require.InDelta(t, at.Steady[i].From, s.From, 1)
			require.InDelta(t, at.Steady[i].To, s.To, 1)
		}
	})
}

// TestCorrectedBeatsAreReadAsTheyWere corrects a song that begins freely in
// every way, and checks that its steady tempo and confidence come back too.
func TestCorrectedBeatsAreReadAsTheyWere(t *testing.T) {
	free := music.Grid{Rate: 1000, Frames: 70_000, Metre: 4, Tempo: 120, Steady: []music.Stretch{{From: 9_900, To: 70_000}},
		Confidence: music.Confidence{Strength: 2, Phase: 0.3, Bar: 0.1}}
	for i := range 8 {
		free.Beats = append(free.Beats, music.Beat{Frame: int64(1000*i + 40*i*i), Number: i%4 + 1})
	}
	for i := range int64(120) {
		free.Beats = append(free.Beats, music.Beat{Frame: 10_000 + 500*i, Number: int(i)%4 + 1})
	}
	for _, g := range []music.Grid{free.HalfLater(), free.BarLater(-1), free.OneAt(12_600), free.Doubled(), free.Halved(), free.HalfLater().BarLater(2)} {
		read, err := music.ParseGrid(g.Text(), g.Rate, g.Frames)
		require.NoError(t, err)
		assert.InDelta(t, g.Tempo, read.Tempo, 0.01)
		read.Tempo = g.Tempo
		assert.Equal(t, g, read)
		assert.Equal(t, []bool{g.SureOfBeat(), g.SureOfBar()}, []bool{read.SureOfBeat(), read.SureOfBar()})
	}
}

// TestBeatsAlone checks that beats alone, as other programs write them, count
// as given by the dancer, and as steady if they are even.
func TestBeatsAlone(t *testing.T) {
	read, err := music.ParseGrid("# seconds, beat\r\n\r\n 1.0\u00a0 1\r\n2 2 # two\r\n3\t3\r\n4 1\r\n", 100, 750)
	require.NoError(t, err)
	assert.Equal(t, music.Grid{Rate: 100, Frames: 750, Metre: 3, Tempo: 60, Steady: []music.Stretch{{From: 100, To: 400}},
		Beats: []music.Beat{{100, 1}, {200, 2}, {300, 3}, {400, 1}}, Confidence: music.Confidence{BeatGiven: true, BarGiven: true}}, read)
	assert.True(t, read.SureOfBar())

	var slower strings.Builder // from 100 to 67 beats a minute
	for i := range 40 {
		fmt.Fprintf(&slower, "%.3f %d\n", 0.6*float64(i)+0.004*float64(i*i), i%4+1)
	}
	read, err = music.ParseGrid(slower.String(), 100, 4000)
	require.NoError(t, err)
	assert.Empty(t, read.Steady)
}

// TestInvalidTexts checks that errors name the place.
func TestInvalidTexts(t *testing.T) {
	for text, want := range map[string]string{
		"":                          "at least 2 beats are needed, not 0",
		"1 1\n2\n":                  "line 2, column 1: a beat is a time in seconds and its number in the bar",
		"1 1\nNaN 2\n":              `line 2, column 1: "NaN" is not a time in the song, in seconds`,
		"1 1\n1e300 2\n":            `line 2, column 1: "1e300" is not a time in the song, in seconds`,
		"-1 1\n":                    `line 1, column 1: "-1" is not a time in the song, in seconds`,
		"1 1\n8 2\n":                `line 2, column 1: "8" is not a time in the song, in seconds`,
		"\u00a0 1 0\n":              `line 1, column 5: "0" is not the number of a beat in a bar, 1 to 16`,
		"1 1 # one\n\n0.5 2\n":      "line 3, column 1: the beat is not after the one before",
		"steady 1\n":                `line 1, column 1: "steady" is followed by two times in seconds, or "nowhere"`,
		"1 1\n  steady 2 1\n":       `line 2, column 12: "1" is not after "2"`,
		"steady 1 3\nsteady 2 4\n":  `line 2, column 8: the stretch begins before the one above ends`,
		"doubtful 1\n":              `line 1, column 1: "doubtful" is followed by two times in seconds`,
		"steady 2 8\n":              `line 1, column 10: "8" is not a time in the song, in seconds`,
		"steady é 8\n":              `line 1, column 8: "é" is not a time in the song, in seconds`,
		"steady nowhere else now\n": `line 1, column 1: "steady" is followed by two times in seconds, or "nowhere"`,
		"given\n":                   `line 1, column 1: "given" is followed by beats, bars, or nothing`,
		"given beats nothing\n":     `line 1, column 13: "nothing" is not beats, bars, or nothing`,
		"given beat\n":              `line 1, column 7: "beat" is not beats, bars, or nothing`,
		"measured 1 2\n":            `line 1, column 1: "measured" is followed by three numbers`,
		"measured 1 2 Inf\n":        `line 1, column 14: "Inf" is not a number`,
		"given bars\ngiven bars\n":  `line 2, column 1: "given" appears twice`,
		"tempo 112\n":               `line 1, column 1: "tempo" is not a time in the song, in seconds`,
		"é é é\n":                   "line 1, column 1: a beat is a time in seconds and its number in the bar",
	} {
		_, err := music.ParseGrid(text, 100, 750)
		assert.EqualError(t, err, want)
	}
	var long strings.Builder
	for i := range 18001 {
		fmt.Fprintf(&long, "%d 1\n", i)
	}
	_, err := music.ParseGrid(long.String(), 100, 1<<40)
	assert.EqualError(t, err, "line 18001, column 1: more than 18000 beats")
}

// FuzzParseGrid checks that whatever can be read is written so that it reads the same.
func FuzzParseGrid(f *testing.F) {
	f.Add("# seconds, beat of the bar\n1 1\n2 2\n3 3\n4 1\n")
	f.Add("steady 1.5 7\ngiven bars\nmeasured 4.2 1 -0.3\n1 1\n2.25 2 # two\n3 1\n")
	f.Add("given nothing\nsteady nowhere\n0 1\n7.505 2\n")
	f.Fuzz(func(t *testing.T, text string) {
		g, err := music.ParseGrid(text, 100, 750)
		if err != nil {
			return
		}
		again, err := music.ParseGrid(g.Text(), 100, 750)
		require.NoError(t, err)
		require.Equal(t, g, again)
	})
}
