package library_test

import (
	"fmt"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// TestCompetitionTempi compares the ten dances with the metres, and the bars and beats a
// minute, in a club's extract of the German federation's tournament rules (TSO, as of
// 05/2023).
func TestCompetitionTempi(t *testing.T) {
	tests := []struct {
		dance                              string
		metre                              string
		minBars, maxBars, minBeat, maxBeat float64
	}{
		{"waltz", "3/4", 28, 30, 84, 90},
		{"viennese waltz", "3/4", 58, 60, 174, 180},
		{"foxtrot", "4/4", 28, 30, 112, 120},
		{"quickstep", "4/4", 50, 52, 200, 208},
		{"samba", "2/4", 50, 52, 100, 104},
		{"cha-cha", "4/4", 30, 32, 120, 128},
		{"rumba", "4/4", 25, 27, 100, 108},
		{"paso doble", "2/4", 60, 62, 120, 124},
		{"jive", "4/4", 42, 44, 168, 176},
		// The extract gives tango 124–132, counted four to a bar; we write its 2/4.
		{"tango", "2/4", 31, 33, 124.0 / 2, 132.0 / 2},
	}
	lib := shipped()
	for _, tt := range tests {
		d, ok := lib.Dance(tt.dance)
		require.True(t, ok, tt.dance)
		assert.Equal(t, tt.metre, d.Metre.String(), tt.dance)
		r := d.Competition
		assert.Equal(t, [4]float64{tt.minBars, tt.maxBars, tt.minBeat, tt.maxBeat},
			[4]float64{d.BarsPerMinute(r.Min), d.BarsPerMinute(r.Max), r.Min.Float(), r.Max.Float()}, tt.dance)
		assert.Equal(t, fmt.Sprintf("%g–%g bars/min", tt.minBars, tt.maxBars), d.RangeText(r))
		assert.NotEmpty(t, d.CompetitionSource, tt.dance)
	}
}

// TestAmericanTempi compares dances that have no rule of the federation with the bars a minute that the
// National Dance Council of America recommends for the American style, as printed at centralhome.com, undated.
func TestAmericanTempi(t *testing.T) {
	lib := shipped()
	for name, bars := range map[string][2]float64{"bolero": {24, 26}, "hustle": {28, 30}, "west coast swing": {28, 32}, "merengue": {29, 32}, "triple swing": {34, 36}} {
		d, ok := lib.Dance(name)
		require.True(t, ok, name)
		for _, n := range bars {
			assert.True(t, d.Usual.Contains(routine.Tempo(n*4*1000)), "%s: %g bars/min outside %s", name, n, d.RangeText(d.Usual))
		}
	}
}

// TestRecordedTempi: the median tempo of each dance in 698 annotated ballroom recordings
// lies in the range that causes no warning and, to the nearest bar a minute, in the
// competition range (rumba at its edge). The medians were computed from the annotations
// by Krebs, Böck and Widmer (ISMIR 2013) of the recordings of Gouyon et al. (IEEE TSALP
// 14(5), 2006), repository CPJKU/BallroomAnnotations, commit 1db0891.
func TestRecordedTempi(t *testing.T) {
	medians := map[string]float64{ // beats a minute, as annotated
		"cha-cha": 124.0, "jive": 171.6, "quickstep": 204.0, "rumba": 99.9, "samba": 100.5, "viennese waltz": 177.8, "waltz": 86.4,
		"tango": 128.0 / 2, // annotated four to the bar
	}
	lib := shipped()
	for name, median := range medians {
		d, ok := lib.Dance(name)
		require.True(t, ok)
		assert.True(t, d.Usual.Contains(routine.Tempo(median*1000)), "%s: %g beats/min outside %s", name, median, d.RangeText(d.Usual))
		bars := math.Round(median / float64(d.Metre.Beats))
		assert.GreaterOrEqual(t, bars, d.BarsPerMinute(d.Competition.Min), name)
		assert.LessOrEqual(t, bars, d.BarsPerMinute(d.Competition.Max), name)
	}
}

// TestWaltzOf1909 repeats the arithmetic of the North Otago Times, 22 May 1909,
// supplement p. 3: at 44 bars a minute a waltzer makes 132 foot movements and
// 22 complete turns; in six and a half hours 17,160 bars, 51,480 steps and 8,580
// turns.
func TestWaltzOf1909(t *testing.T) {
	src, err := os.ReadFile("../testdata/waltz-1909.md")
	require.NoError(t, err)
	score, found := routine.Read("waltz-1909.md", src, routine.EmptyBook{})
	require.Empty(t, found)
	require.Equal(t, 44.0, score.Dance.BarsPerMinute(score.Tempo))
	timeline := player.NewTimeline(score)
	assert.InDelta(t, 60, timeline.Seconds(timeline.End), 1e-9, "the routine lasts one minute")

	bars := int((timeline.End - timeline.Start) / score.Dance.Metre.Bar())
	steps, eighths := 0, routine.Turn(0)
	for _, e := range timeline.Events {
		if s := e.Steps[routine.Leader]; s != nil && s.Moves() {
			steps++
			eighths += s.Turn
		}
	}
	assert.Equal(t, [3]int{44, 132, 22}, [3]int{bars, steps, int(eighths) / 8})
	const minutes = 6*60 + 30
	assert.Equal(t, [3]int{17160, 51480, 8580}, [3]int{bars * minutes, steps * minutes, int(eighths) / 8 * minutes})
}

// TestArithmeticOfTheTrade repeats sums that teachers print (common practice).
func TestArithmeticOfTheTrade(t *testing.T) {
	lib := shipped()
	bars := func(dance string, n float64) float64 { // beats a minute
		d, ok := lib.Dance(dance)
		require.True(t, ok)
		first, _, err := routine.ParseTempo(fmt.Sprintf("%g bars/min", n), d.Metre)
		require.NoError(t, err)
		return first.Float()
	}
	assert.Equal(t, 90.0, bars("waltz", 30))
	assert.Equal(t, 200.0, bars("quickstep", 50))
	assert.Greater(t, bars("quickstep", 50), bars("viennese waltz", 60), "quickstep has the faster beat")
	// A sequence of 16 bars of waltz at 31 bars a minute takes about 31 seconds.
	assert.InDelta(t, 31, 16*3*60/bars("waltz", 31), 0.1)
	// A tune of 2:35 is five such sequences (British sequence dancing).
	assert.InDelta(t, 2*60+35, 5*16*3*60/bars("waltz", 31), 0.5)
}
