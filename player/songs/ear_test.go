package songs

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
)

// TestOnceABarIsNoRivalOfEachBeat: a Viennese waltz whose bars are marked far more than its beats is
// one still; two beats for its three, or half as many as a jive has, are rivals.
func TestOnceABarIsNoRivalOfEachBeat(t *testing.T) {
	strengths := map[string]music.Grid{
		"Viennese waltz": {Tempo: 174, Confidence: music.Confidence{Strength: 3}},
		"Tango":          {Tempo: 58, Confidence: music.Confidence{Strength: 7.5}},
		"Foxtrot":        {Tempo: 116, Confidence: music.Confidence{Strength: 3.4}},
		"Jive":           {Tempo: 174, Confidence: music.Confidence{Strength: 3}},
	}
	var dances []*routine.Dance
	for name := range strengths {
		d, ok := library.Open().Dance(name)
		require.True(t, ok, name)
		dances = append(dances, d)
	}
	found := map[search]music.Grid{}
	for _, d := range dances {
		found[search{tempiOf(d), d.Metre.Beats}] = strengths[d.Name]
	}
	fits, err := fitsOf(func(by search) (music.Grid, error) { return found[by], nil }, dances)
	require.NoError(t, err)
	suits := map[string]bool{}
	for _, f := range fits {
		suits[f.Dance.Name] = f.Suits
	}
	assert.Equal(t, map[string]bool{"Viennese waltz": true, "Tango": true, "Foxtrot": false, "Jive": false}, suits)
	l := Listened{Fits: []Fit{{Grid: music.Grid{Tempo: 174}, Suits: true}, {Grid: music.Grid{Tempo: 58}, Suits: true}, {Grid: music.Grid{Tempo: 59}, Suits: true}, {Grid: music.Grid{Tempo: 100}}}}
	assert.Equal(t, []float64{58, 174}, l.Levels())
}
