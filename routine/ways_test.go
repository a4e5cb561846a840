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

// fox is a dance with a natural turn that may begin on the line of dance and end at a corner, and figures of which some
// need it so (dancecentral.info, Natural Turn; Feather Step).
const fox = "---\ndance: river fox\nmetre: 4/4\nslow: 2\nquick: 1\nand: 1/2\na: 1/4\nbegins on: 1\nphrase: 8 bars\nusual: 28–32 bars/min\ntravels: yes\n---\n"

// walk is a figure of four steps of the leader's RF and LF that faces one way.
func walk(name, faces string, leader routine.Foot) string {
	steps := "|   S   | RF forward | LF back |\n|   S   | LF forward | RF back |\n"
	if leader == routine.LF {
		steps = "|   S   | LF forward | RF back |\n|   S   | RF forward | LF back |\n"
	}
	if faces != "" {
		faces = ", facing " + faces
	}
	return "\n## " + name + "\n\n- starts: closed, leader " + leader.String() + " free, follower " + leader.Other().String() + " free" + faces +
		"\n- ends: closed\n\n| Count | Leader | Follower |\n|-------|--------|----------|\n" + steps
}

// dancedFox reads a sheet that dances an order of the natural turn and walks.
func dancedFox(t *testing.T, front string, order ...string) (*routine.Score, []routine.Finding) {
	t.Helper()
	turn := string(turnOf("facing DW or LOD", "facing DC or centre or DC against LOD", "1/4 to 3/8 R", "3/8 to 1/2 R", "3/8 to 1/8 R"))
	_, turn, _ = strings.Cut(turn, "## Jetty turn")
	src := strings.Replace(fox, "travels: yes\n", "travels: yes\n"+front, 1) + "\n## Order\n\n"
	for _, item := range order {
		src += "1. " + item + "\n"
	}
	src += "\n## Jetty turn" + turn + walk("Bank walk", "LOD", routine.RF) + walk("Wall walk", "DW", routine.RF) + walk("Pier walk", "DC", routine.RF) + walk("Quay walk", "", routine.RF)
	return routine.Read("fox.md", []byte(src), routine.EmptyBook{})
}

// differing says how each passage is danced otherwise than charted.
func differing(s *routine.Score) (list []string) {
	for i := range s.Passages {
		list = append(list, s.Passages[i].Figure.Differs())
	}
	return list
}

// TestTheWayThatFitsIsDanced: in an order each figure is danced so that the one before and the one after fit, as usual
// where that fits too.
func TestTheWayThatFitsIsDanced(t *testing.T) {
	const lod, centre, corner = "from LOD, 3/8 R on step 2", "1/4 R on step 5, ends facing centre", "1/8 R on step 5, ends facing DC against LOD"
	for _, test := range []struct {
		front string
		order []string
		ways  []string
	}{
		{"", []string{"Wall walk", "Jetty turn", "Pier walk"}, []string{"", "", ""}},
		{"", []string{"Bank walk", "Jetty turn", "Pier walk"}, []string{"", lod, ""}},
		{"", []string{"Bank walk", "Quay walk", "Jetty turn"}, []string{"", "", lod}},
		{"", []string{"Jetty turn", "Pier walk"}, []string{"", ""}},
		{"faces: LOD\n", []string{"Jetty turn", "Pier walk"}, []string{lod, ""}},
		{"", []string{"Wall walk", "Jetty turn\n   - corner: after", "Wall walk"}, []string{"", "", ""}},
		{"", []string{"Wall walk", "Jetty turn\n   - corner: after", "Bank walk"}, []string{"", centre, ""}},
		{"", []string{"Wall walk", "Jetty turn\n   - corner: after", "Quay walk", "Pier walk"}, []string{"", corner, "", ""}},
		{"", []string{"Bank walk", "Jetty turn, steps 1–3"}, []string{"", lod}},
		{"", []string{"Jetty turn × 2"}, []string{"", ""}},
	} {
		score, found := dancedFox(t, test.front, test.order...)
		for _, f := range found {
			if len(test.order) > 1 {
				assert.NotContains(t, string(f.Code), "join", "%v: %s", test.order, f.Message)
			}
		}
		assert.Equal(t, test.ways, differing(score), test.order)
		for i := range score.Passages {
			p := &score.Passages[i]
			assert.Same(t, score.Items[p.Item].Figure, p.Figure.Charted())
			if a := p.Figure.Starts.Facing[routine.Leader]; a.Stand != routine.NoStand && p.From == 0 {
				assert.Equal(t, a.Direction(), p.Begins.Facing[routine.Leader], "%v, passage %d", test.order, i)
			}
		}
	}
	_, found := dancedFox(t, "", "Pier walk", "Jetty turn")
	require.NotEmpty(t, found)
	assert.Equal(t, routine.Code("join-direction"), found[0].Code, "no way begins so")
	assert.Contains(t, found[0].Message, "starts facing DW", "the usual one is told")
}

// TestAlternativesThatMakeNoSense are reported, each once, in the figure.
func TestAlternativesThatMakeNoSense(t *testing.T) {
	for _, test := range []struct {
		starts, ends, leader2, follower2, fifth string
		code, message                           string
	}{
		{"facing DW", "facing DC", "1/4 to 3/8 R", "3/8 R", "3/8 R", "turn-range", "the leader's turns may vary by up to 1/8 R, the follower's by nothing"},
		{"facing DW", "facing DC", "1/4 R (1/8 to 3/8)", "3/8 to 1/2 R", "3/8 R", "turn-range", "the leader's turns may vary by 1/8 L to 1/8 R, the follower's by up to 1/8 R"},
		{"facing DW or LOD", "facing DC", "1/4 R", "3/8 R", "3/8 R", "start-contradicted", "begun facing LOD, the turns do not lead to where the figure ends"},
		{"facing DW or centre", "facing DC", "1/4 to 3/8 R", "3/8 to 1/2 R", "3/8 R", "start-contradicted", "begun facing centre, the turns do not lead to where the figure ends"},
		{"facing DW", "facing DC or wall", "1/4 to 3/8 R", "3/8 to 1/2 R", "3/8 R", "end-contradicted", "no turn varies so far that the figure ends facing wall"},
	} {
		_, found := routine.ReadChapter("river.md", turnOf(test.starts, test.ends, test.leader2, test.follower2, test.fifth))
		if assert.Len(t, found, 1, "%+v", test) {
			assert.Equal(t, routine.Code(test.code), found[0].Code, "%+v", test)
			assert.Equal(t, test.message, found[0].Message)
		}
	}
}

// TestAPartBegunElsewhere: a part that is danced by itself may begin where the whole is not, and makes up for it.
func TestAPartBegunElsewhere(t *testing.T) {
	src := strings.Replace(string(turnOf("facing DW", "facing DC", "1/4 R", "3/8 R", "3/8 to 1/2 R")), "- ends", "- parts: 1–3, 4–6 backing LOD or DC\n- ends", 1)
	fig := only(t, []byte(src))
	assert.Empty(t, told(t, fig.Ways()), "the whole is danced in one way")
	ways := fig.PartWays(3, 6)
	require.Equal(t, []string{"from backing DC, 1/2 R on step 5"}, told(t, ways))
	assert.Equal(t, []string{"LF back, backing DC", "RF small side, 1/2 R, facing DC", "LF forward, facing DC"}, cellsOf(ways[1], routine.Leader)[3:])

	_, found := routine.ReadChapter("river.md", []byte(strings.Replace(src, "backing LOD or DC", "backing DW or DC", 1)))
	require.Len(t, found, 1)
	assert.Equal(t, "before steps 4–6 the leader is backing LOD, not backing DW", found[0].Message)
}

// TestWhatAPartMakesUp is for that part alone: at a corner the whole turns less where it says so itself.
func TestWhatAPartMakesUp(t *testing.T) {
	src := strings.Replace(string(turnOf("facing DW", "facing DC or centre", "1/4 to 1/8 R", "3/8 to 1/4 R", "3/8 to 1/4 R")), "- ends", "- parts: 1–3, 4–6 backing LOD or DW\n- ends", 1)
	fig := only(t, []byte(src))
	assert.Equal(t, []string{"1/8 R on step 2, ends facing centre"}, told(t, fig.Ways()))
	assert.Contains(t, told(t, fig.PartWays(3, 6)), "from backing DW, 1/4 R on step 5")
}

// TestAPartHasANameOfItsOwn: an order may name a part, which is then danced, and shown, by that name.
func TestAPartHasANameOfItsOwn(t *testing.T) {
	src := strings.Replace(string(turnOf("facing DW", "facing DC", "1/4 R", "3/8 R", "3/8 R")), "- ends", "- parts: 1–3 = half jetty turn, 4–6\n- ends", 1)
	src = strings.Replace(src, "## Jetty turn", "## Order\n\n1. Half jetty turn\n2. Jetty turn, steps 4–6\n\n## Jetty turn", 1)
	score, found := routine.Read("river.md", []byte(src), routine.EmptyBook{})
	for _, f := range routine.Objections(found) {
		assert.Equal(t, routine.Code("last-bar-open"), f.Code, f.Message)
	}
	require.Len(t, score.Passages, 2)
	assert.Equal(t, [2]int{0, 3}, [2]int{score.Passages[0].From, score.Passages[0].To})
	assert.Equal(t, "half jetty turn", score.Passages[0].Name())
	assert.Equal(t, "Jetty turn, steps 4–6", score.Passages[1].Name())
}
