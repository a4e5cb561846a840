package library_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// TestFiguresAsTheJoinNeedsThem: the library's figures are danced as what comes before and after needs them. The first of
// each order is the leader's alignment at the start; the ways are those of the figures that are danced otherwise than charted.
func TestFiguresAsTheJoinNeedsThem(t *testing.T) {
	lib := shipped()
	for _, test := range []struct {
		dance, faces string
		order        []string
		ways         []string
		source       string
	}{
		{"quickstep", "DC", []string{"Progressive chassé to the right", "Back lock", "Running finish", "Natural spin turn", "Progressive chassé", "Forward lock"},
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
	lib := shipped()
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

// TestOrdersWithWays: of random figures, some of which can be danced in several ways, no more joins are refused than if all
// were danced as charted, and whatever is danced turns to where its cells say that the dancer faces.
func TestOrdersWithWays(t *testing.T) {
	lib := shipped()
	random := rand.New(rand.NewPCG(19, 0))
	fewer, passages := 0, 0
	for _, name := range []string{"quickstep", "foxtrot", "Viennese waltz"} {
		c, _ := lib.Chapter(name)
		some := slices.DeleteFunc(slices.Clone(c.Figures), func(f *routine.Figure) bool { return len(f.Ways()) == 1 })
		for range 150 {
			var items []routine.Item
			for range 4 {
				from := [2][]*routine.Figure{c.Figures, some}[random.IntN(2)]
				item := routine.Whole(from[random.IntN(len(from))])
				item.Corner = random.IntN(4) == 0
				items = append(items, item)
			}
			score, found := routine.InOrder(c.Dance, nil, items...)
			with, without := joins(found), joinsAsCharted(c.Dance, items)
			require.LessOrEqual(t, with, without, "%v", found)
			if with < without {
				fewer++
			}
			for i := range score.Passages {
				p := &score.Passages[i]
				passages++
				for _, q := range routine.Partners() {
					faces := p.Begins.Facing[q]
					for _, row := range p.Figure.Rows[p.From:p.To] {
						s := row.Steps[q]
						if faces = faces.Turned(s.Turns()); s.Alignment.Stand != routine.NoStand {
							require.Equal(t, s.Alignment.Direction(), faces, "%s, %s: the %s's %s", p.Figure.Name, p.Figure.Differs(), q, &s)
						}
						require.False(t, s.Varies.Varies(), "what is danced is one amount")
					}
				}
			}
		}
	}
	require.Greater(t, fewer, 10, "ways help")
	require.Greater(t, passages, 1000)
}

// joins counts the joins' findings.
func joins(found []routine.Finding) (n int) {
	for _, f := range found {
		if strings.HasPrefix(string(f.Code), "join") {
			n++
		}
	}
	return n
}

// joinsAsCharted counts the findings of joins when each figure is danced as charted.
func joinsAsCharted(d *routine.Dance, items []routine.Item) (n int) {
	var at routine.Outcome
	for _, item := range items {
		after, _, parted := at.Then(d, item.Figure)
		n += joins(parted)
		if at = after; item.Corner {
			at = at.Turned(routine.CornerTurn)
		}
	}
	return n
}
