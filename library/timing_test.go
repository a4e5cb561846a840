package library_test

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

func fixture(t *testing.T, name string) *routine.Score {
	t.Helper()
	src, err := os.ReadFile("../testdata/" + name)
	require.NoError(t, err)
	score, found := routine.Read(name, src, shipped())
	require.Empty(t, found)
	return score
}

// timing returns a passage in the form of printed timing lines: the quick counts in phrases
// of eight, with the counts of a step together and steps apart, as in "12·3·4·56".
func timing(p *routine.Passage, quick routine.Beats) string {
	var steps []string
	for row := p.From; row < p.To; row++ {
		end := p.End
		if row+1 < p.To {
			end = p.At(row + 1)
		}
		var counts strings.Builder
		for at := p.At(row); at < end; at += quick {
			counts.WriteString(strconv.Itoa(int(at/quick)%8 + 1))
		}
		steps = append(steps, counts.String())
	}
	return strings.Join(steps, "·")
}

// TestBronzeTango compares the timing lines of a printed bronze tango routine (common
// practice). It has 56 quick counts, or 14 bars of 2/4, though most figures end in
// mid-bar.
func TestBronzeTango(t *testing.T) {
	score := fixture(t, "bronze-tango.md")
	var lines []string
	for i := range score.Passages {
		lines = append(lines, timing(&score.Passages[i], score.Dance.Quick))
	}
	assert.Equal(t, []string{
		"1·2",           // link
		"34·5·6·78",     // natural promenade turn
		"1·2·34·5·6·78", // rock turn
		"12·34·56·78",   // walks
		"1·2·34·5·6·78", // open reverse turn
		"1·2",           // link
		"34·5·6·78·1·2", // natural twist turn
		"34·5·6·78",     // closed promenade
		"1·2·34·5·6·78", // open reverse turn
	}, lines)
	length := score.End - score.Start
	assert.Equal(t, routine.Beats(56), length/score.Dance.Quick)
	assert.Equal(t, 14*score.Dance.Metre.Bar(), length)
}

// TestBronzeWaltz: a printed bronze waltz routine (common practice) has ten bars, and its
// chassés are counted 1 2 & 3, with 1, ½, ½ and 1 beat.
func TestBronzeWaltz(t *testing.T) {
	score := fixture(t, "bronze-waltz.md")
	assert.Equal(t, 10*score.Dance.Metre.Bar(), score.End-score.Start)
	var chasse []string
	p := &score.Passages[3]
	for row := p.From; row < p.To; row++ {
		end := p.End
		if row+1 < p.To {
			end = p.At(row + 1)
		}
		chasse = append(chasse, (end - p.At(row)).String())
	}
	assert.Equal(t, []string{"1", "1/2", "1/2", "1"}, chasse)
}

// TestTimingOfFigures compares figures with their timing in printed syllabuses and the two
// bronze routines (common practice).
func TestTimingOfFigures(t *testing.T) {
	lib := shipped()
	for _, test := range []struct{ dance, figure, counts string }{
		{"tango", "progressive link", "Q Q"},
		{"tango", "two walks", "S S"},
		{"tango", "progressive side step", "Q Q S"},
		{"tango", "rock turn", "Q Q S Q Q S"},
		{"tango", "back corté", "S Q Q S"},
		{"tango", "natural promenade turn", "S Q Q S &"},
		{"tango", "progressive side step reverse turn", "Q Q S S Q Q S Q Q S"},
		{"tango", "four step", "Q Q Q Q"},
		{"tango", "open reverse turn", "Q Q S Q Q S"},
		{"tango", "natural twist turn", "S Q Q S Q Q"},
		{"tango", "closed promenade", "S Q Q S"},
		{"tango", "open promenade", "S Q Q S"},
		{"tango", "american tango basic", "S S Q Q S"},
		{"waltz", "natural spin turn", "1 2 3 1 2 3"},
		{"waltz", "reverse turn", "1 2 3 1 2 3"},
		{"waltz", "whisk", "1 2 3"},
		{"waltz", "chassé from promenade", "1 2 & 3"},
		{"waltz", "hesitation change", "1 2 3 1 2 3"},
		{"waltz", "progressive chassé to the right", "1 2 & 3"},
		{"waltz", "outside change", "1 2 3"},
		{"foxtrot", "feather step", "S Q Q"},
		{"foxtrot", "three step", "S Q Q"},
		{"foxtrot", "reverse turn", "S Q Q S Q Q"},
		{"foxtrot", "closed impetus and feather finish", "S Q Q S Q Q"},
		{"foxtrot", "change of direction", "S Q Q S"},
		{"foxtrot", "natural weave", "S Q Q Q Q Q Q"},
		{"foxtrot", "basic weave", "Q Q Q Q Q Q"},
		{"social foxtrot", "social foxtrot basic", "S S Q Q"},
		{"social foxtrot", "box step", "S Q Q S Q Q"},
		{"quickstep", "quarter turn", "S Q Q S"},
		{"quickstep", "natural turn with hesitation", "S Q Q S S S"},
		{"quickstep", "chassé reverse turn", "S Q Q"},
		{"quickstep", "tipple chassé to the right", "S Q Q S Q Q S"},
		{"quickstep", "v6", "S Q Q S S Q Q"},
		{"quickstep", "progressive chassé", "S Q Q S"},
		{"quickstep", "forward lock", "S Q Q S"},
		{"argentine tango", "basic in eight", "1 2 1 2 1 2 1 2"},
		{"argentine tango", "ocho cortado", "1 & 2 1 & 2"},
		{"viennese waltz", "canter to the left", "1-2 3"},
		{"viennese waltz", "progressive hesitation", "1 2-3 1 2-3"},
		{"jive", "basic", "1 2 3 a 4 3 a 4"},
		{"jive", "whip", "1 2 3 a 4"},
		{"jive", "stop and go", "1 2 3 a 4 1 2 3 a 4"},
		{"jive", "american spin", "1 2 3 a 4 3 a 4"},
		{"samba", "natural basic", "1 a 2 1 a 2"},
		{"samba", "corta jaca", "S Q Q Q Q Q Q"},
		{"samba", "closed rocks", "S Q Q S Q Q"},
		{"samba", "volta to the left", "1 a 2 a 3 a 4"},
		{"paso doble", "sur place", "1 2 3 4 5 6 7 8"},
		{"paso doble", "huit", "1 2 3 4 5 6 7 8"},
		{"paso doble", "sixteen", "1 2 3 4 5 6 7 8 1 2 3 4 5 6 7 8"},
		{"cha-cha", "three cha-chas forward", "2 3 4 & 1 2 & 3 4 & 1"},
		{"rumba", "american rumba box", "1-2 3 4 1-2 3 4"},
		{"rumba", "alemana", "2 3 4-1 2 3 4-1"},
		{"salsa", "basic step", "1 2 3-4 5 6 7-8"},
		{"mambo", "basic step", "2 3 4-1 2 3 4-1"},
		{"bachata", "side basic", "1 2 3 4 5 6 7 8"},
		{"merengue", "side basic", "1 2 3 4 5 6 7 8"},
		{"triple swing", "basic", "1 & 2 3 & 4 5 6"},
		{"single swing", "basic", "1-2 3-4 5 6"},
		{"bolero", "basic", "1-2 3 4 1-2 3 4"},
		{"west coast swing", "sugar push", "1 2 3 & 4 5 & 6"},
		{"west coast swing", "whip", "1 2 3 & 4 5 6 7 & 8"},
		{"hustle", "basic", "1 2 & 3"},
	} {
		d, ok := lib.Dance(test.dance)
		require.True(t, ok)
		fig, ok := lib.Figure(d, test.figure)
		require.True(t, ok, test.figure)
		var counts []string
		for _, r := range fig.Rows {
			counts = append(counts, r.Count.String())
		}
		assert.Equal(t, test.counts, strings.Join(counts, " "), "%s: %s", test.dance, test.figure)
	}
}
