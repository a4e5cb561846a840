package library_test

import (
	"fmt"
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

// asCharted returns a sheet in which a way to dance a figure is the chart.
func asCharted(dance string, fig *routine.Figure) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "---\ndance: %s\n---\n\n## Order\n\n1. Lantern figure\n\n## Lantern figure\n\n- starts: %s\n- ends: %s\n\n", dance, fig.Starts, fig.Ends)
	b.WriteString("| Count | Leader | Follower |\n|---|---|---|\n")
	for _, r := range fig.Rows {
		fmt.Fprintf(&b, "| %s | %s | %s |\n", r.Count, &r.Steps[routine.Leader], &r.Steps[routine.Follower])
	}
	return []byte(b.String())
}

// TestEveryWayCanBeDanced: begun or ended elsewhere, a figure finds its partners as well as charted.
func TestEveryWayCanBeDanced(t *testing.T) {
	lib := library.Open()
	ways := 0
	for _, name := range lib.Dances() {
		c, ok := lib.Chapter(name)
		require.True(t, ok)
		for _, fig := range c.Figures {
			for _, way := range fig.Ways()[1:] {
				ways++
				text := asCharted(c.Dance.Name, way)
				_, found := check.Sheet("way.md", text, lib)
				for _, f := range found {
					if f.Code != "last-bar-open" {
						assert.Fail(t, f.Message, "%s, %s, %s [%s]\n%s", c.Dance.Name, fig.Name, way.Differs(), f.Code, text)
					}
				}
			}
		}
	}
	assert.Greater(t, ways, 60)
}
