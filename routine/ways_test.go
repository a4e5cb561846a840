package routine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// turnOf is a chapter with one figure: the steps of a foxtrot's natural turn, with the amounts given for the leader's
// second step, the follower's, and both partners' fifth (common practice; printed charts agree on the usual ones).
func turnOf(starts, ends, leader2, follower2, fifth string) []byte {
	return []byte(strings.NewReplacer("STARTS", starts, "ENDS", ends, "L2", leader2, "F2", follower2, "FIVE", fifth).Replace(`---
dance: river fox
metre: 4/4
slow: 2
quick: 1
---

## Jetty turn

- starts: closed, leader RF free, follower LF free, STARTS
- ends: closed, ENDS

| Count | Leader                                  | Follower                          |
|:-----:|-----------------------------------------|-----------------------------------|
|   S   | RF forward, facing DW                   | LF back, backing DW               |
|   Q   | LF side, L2, backing DC                 | RF close, F2, facing LOD          |
|   Q   | RF back, 1/8 R, backing LOD             | LF forward, facing LOD            |
|   S   | LF back, backing LOD                    | RF forward, facing LOD            |
|   S   | RF small side, FIVE, facing DC          | LF side, FIVE, backing DC         |
|   S   | LF forward, facing DC                   | RF back, backing DC               |
`))
}

// read returns the one figure of a chapter that must be in order.
func only(t *testing.T, src []byte) *routine.Figure {
	t.Helper()
	s, found := routine.ReadChapter("river.md", src)
	require.Empty(t, found)
	require.Len(t, s.Figures, 1)
	return s.Figures[0]
}

// told says what each way of a figure is, without the one as charted.
func told(t *testing.T, figs []*routine.Figure) (list []string) {
	t.Helper()
	require.Empty(t, figs[0].Differs())
	for _, f := range figs[1:] {
		list = append(list, f.Differs())
	}
	return list
}

// TestAFigureBegunElsewhere: begun on the line of dance, the foxtrot's natural turn makes an eighth more between 1 and 2,
// so that 1–3 are a half turn (dancecentral.info, Natural Turn).
func TestAFigureBegunElsewhere(t *testing.T) {
	fig := only(t, turnOf("facing DW or LOD", "facing DC", "1/4 to 3/8 R", "3/8 to 1/2 R", "3/8 R"))
	ways := fig.Ways()
	require.Equal(t, []string{"from LOD, 3/8 R on step 2"}, told(t, ways))
	assert.Same(t, fig, ways[0])
	assert.Same(t, fig, ways[1].Charted())
	assert.Equal(t, "closed, leader RF free, follower LF free, facing LOD", ways[1].Starts.String())
	assert.Equal(t, fig.Ends.String(), ways[1].Ends.String())
	assert.Equal(t, []string{"RF forward, facing LOD", "LF side, 3/8 R, backing DC", "RF back, 1/8 R, backing LOD"}, cellsOf(ways[1], routine.Leader)[:3])
	assert.Equal(t, []string{"LF back, backing LOD", "RF close, 1/2 R, facing LOD", "LF forward, facing LOD"}, cellsOf(ways[1], routine.Follower)[:3])
	assert.Equal(t, "LF side, 1/4 to 3/8 R, backing DC", cellsOf(fig, routine.Leader)[1], "the chart keeps its range")
}

func cellsOf(f *routine.Figure, p routine.Partner) (list []string) {
	for i := range f.Rows {
		list = append(list, f.Rows[i].Steps[p].String())
	}
	return list
}

// TestAFigureThatEndsElsewhere: at a corner the last turn of the foxtrot's natural turn is a quarter, to face the new line
// of dance, or an eighth, to its centre (dancecentral.info, Natural Turn).
func TestAFigureThatEndsElsewhere(t *testing.T) {
	fig := only(t, turnOf("facing DW", "facing DC", "1/4 R", "3/8 R", "3/8 to 1/8 R"))
	assert.Equal(t, []string{"1/4 R on step 5, ends facing centre", "1/8 R on step 5, ends facing DC against LOD"}, told(t, fig.Ways()))
	fig = only(t, turnOf("facing DW", "facing DC or DC against LOD", "1/4 R", "3/8 R", "3/8 to 1/8 R"))
	assert.Equal(t, []string{"1/8 R on step 5, ends facing DC against LOD"}, told(t, fig.Ways()), "only what the end allows")
}

// TestBothAtOnce: what makes up for another start is not for a usual one, and it is made up at once.
func TestBothAtOnce(t *testing.T) {
	fig := only(t, turnOf("facing DW or LOD", "facing DC", "1/4 to 3/8 R", "3/8 to 1/2 R", "3/8 to 1/4 R"))
	assert.Equal(t, []string{"from LOD, 3/8 R on step 2", "1/4 R on step 5, ends facing centre", "from LOD, 3/8 R on step 2, 1/4 R on step 5, ends facing centre"}, told(t, fig.Ways()))
	var parts []string
	for _, f := range fig.PartWays(0, 3) {
		parts = append(parts, f.Differs())
	}
	assert.Equal(t, []string{"", "from LOD, 3/8 R on step 2", "from LOD"}, parts)
}

// TestPartnersVaryTogether: where one of them turns on two steps and the other on one, the couple still turns as a whole.
func TestPartnersVaryTogether(t *testing.T) {
	src := strings.Replace(string(turnOf("facing DW", "facing DC", "1/4 R", "3/8 to 1/2 R", "3/8 R")), "RF back, 1/8 R,", "RF back, 1/8 to 1/4 R,", 1)
	ways := only(t, []byte(src)).Ways()
	require.Equal(t, []string{"1/4 R on step 3, ends facing LOD"}, told(t, ways))
	assert.Equal(t, "RF close, 1/2 R, facing DW", cellsOf(ways[1], routine.Follower)[1])
	assert.Equal(t, "LF side, 1/4 R, backing DC", cellsOf(ways[1], routine.Leader)[1])
	assert.Equal(t, "RF back, 1/4 R, backing DW", cellsOf(ways[1], routine.Leader)[2])
}

// TestAFigureDancedInOneWay has no other.
func TestAFigureDancedInOneWay(t *testing.T) {
	fig := only(t, turnOf("facing DW", "facing DC", "1/4 R", "3/8 R", "3/8 R"))
	assert.Equal(t, []*routine.Figure{fig}, fig.Ways())
	assert.Equal(t, []*routine.Figure{fig}, fig.PartWays(0, 3))
}
