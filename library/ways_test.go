package library_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// TestFiguresAsTheJoinNeedsThem: the library's figures are danced as what comes before and after needs them. The first of
// each order is the leader's alignment at the start; the ways are those of the figures that are danced otherwise than charted.
func TestFiguresAsTheJoinNeedsThem(t *testing.T) {
	lib := library.Open()
	for _, test := range []struct {
		dance, faces string
		order        []string
		ways         []string
		source       string
	}{
		{"quickstep", "DC", []string{"Progressive chassé to the right", "Back lock", "Running finish to the line of dance", "Natural spin turn", "Progressive chassé", "Forward lock"},
			[]string{"Natural spin turn: from LOD, 3/8 R on step 2"}, "idans.nl, Quarter Turn to Right, commenced facing LOD after a running finish"},
		{"foxtrot", "DW", []string{"Natural turn\n   - corner: after", "Feather step"},
			[]string{"Natural turn: 1/8 R on step 5, ends facing DC against LOD"}, "dancecentral.info, Foxtrot Natural Turn"},
		{"foxtrot", "LOD", []string{"Natural turn", "Feather step"},
			[]string{"Natural turn: from LOD, 3/8 R on step 2"}, "ballroomdancething.com, Slow Foxtrot - Natural Turn, March 2011"},
		{"foxtrot", "DW", []string{"Natural turn", "Feather step"}, nil, "common practice"},
		{"Viennese waltz", "DC", []string{"Natural turn × 2", "Natural turn\n   - corner: after", "Natural turn × 2", "RF forward change", "Reverse turn"},
			[]string{"Natural turn: 1/8 R on step 5, ends facing DC against LOD"}, "from memory"},
	} {
		src := "---\ndance: " + test.dance + "\nfaces: " + test.faces + "\n---\n\n## Order\n\n"
		for _, item := range test.order {
			src += "1. " + item + "\n"
		}
		score, found := check.Sheet("round.md", []byte(src), lib)
		for _, f := range found {
			assert.False(t, strings.HasPrefix(string(f.Code), "join") || f.Severity == routine.Error, "%v: %s (%s)", test.order, f.Message, test.source)
		}
		var ways []string
		for i := range score.Passages {
			if p := &score.Passages[i]; p.Figure.Differs() != "" {
				ways = append(ways, p.Figure.Name+": "+p.Figure.Differs())
			}
		}
		assert.Equal(t, test.ways, ways, "%v", test.order)
	}
}

// TestEveryWayCanBeDanced: whatever the library's charts allow, the partners fit each other as in the chart.
func TestEveryWayCanBeDanced(t *testing.T) {
	lib := library.Open()
	n := 0
	for _, name := range lib.Dances() {
		c, _ := lib.Chapter(name)
		for _, fig := range c.Figures {
			for _, way := range fig.Ways()[1:] {
				n++
				_, found := routine.InOrder(c.Dance, nil, routine.Whole(way))
				assert.Empty(t, routine.Objections(withoutOpenBars(found)), "%s, %s: %s", name, fig.Name, way.Differs())
			}
		}
	}
	require.Positive(t, n)
}

// withoutOpenBars leaves out that the last bar is not full, which the figure after it fills.
func withoutOpenBars(found []routine.Finding) (list []routine.Finding) {
	for _, f := range found {
		if f.Code != "last-bar-open" {
			list = append(list, f)
		}
	}
	return list
}
