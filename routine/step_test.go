package routine_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/routine"
)

// positionNames are the positions in the order of their values: those listed by a script-reading guide
// for Latin dances, and the ballroom ones (common practice).
var positionNames = []string{"closed", "contact", "open facing", "promenade", "counter promenade", "open promenade",
	"open counter promenade", "fallaway", "fan", "left side", "right side", "left shadow", "right shadow", "left contra",
	"right contra", "tandem leader behind", "tandem follower behind", "outside partner", "wing", "back to back", "apart",
	"left outside partner", "tandem follower behind left", "tandem follower behind right"}

// in returns the set of the named positions.
func in(t testing.TB, names ...string) (s routine.PositionSet) {
	t.Helper()
	for _, name := range names {
		found := false
		for i, known := range positionNames {
			if known == name {
				require.Equal(t, name, routine.Position(i).String())
				s |= 1 << i
				found = true
			}
		}
		require.True(t, found, name)
	}
	return s
}

// facing, backing and pointing are alignments.
func facing(d routine.Direction) routine.Alignment {
	return routine.Alignment{Stand: routine.Facing, To: d}
}
func backing(d routine.Direction) routine.Alignment {
	return routine.Alignment{Stand: routine.Backing, To: d}
}
func pointing(d routine.Direction) routine.Alignment {
	return routine.Alignment{Stand: routine.Pointing, To: d}
}

// step reads a cell that must be in order, and drops its place.
func step(t require.TestingT, text string) routine.Step {
	s, found := routine.ParseStep(text)
	require.Empty(t, found, "%q", text)
	s.At = routine.Span{}
	return s
}

// TestSteps: the words of charts, in their long form and in the short forms seen in print and on
// scripts (common practice; footwork letters and feet positions after printed technique charts).
func TestSteps(t *testing.T) {
	type s = routine.Step
	const lf, rf = routine.LF, routine.RF
	for _, test := range []struct {
		cell string
		want routine.Step
		long string // the canonical form
	}{
		{"LF forward", s{Foot: lf, Way: routine.Forward}, "LF forward"},
		{"L fwd", s{Foot: lf, Way: routine.Forward}, "LF forward"},
		{"L fwd.", s{Foot: lf, Way: routine.Forward}, "LF forward"},
		{"left foot forwards", s{Foot: lf, Way: routine.Forward}, "LF forward"},
		{"R bk", s{Foot: rf, Way: routine.Back}, "RF back"},
		{"RF back.", s{Foot: rf, Way: routine.Back}, "RF back"},
		{"rf BACKWARDS", s{Foot: rf, Way: routine.Back}, "RF back"},
		{"**RF** `back`", s{Foot: rf, Way: routine.Back}, "RF back"},
		{"L sd", s{Foot: lf, Way: routine.Side}, "LF side"},
		{"LF diag. fwd", s{Foot: lf, Way: routine.DiagonallyForward}, "LF diagonally forward"},
		{"LF diagonally back", s{Foot: lf, Way: routine.DiagonallyBack}, "LF diagonally back"},
		{"RF closes to LF", s{Foot: rf, Way: routine.Close}, "RF close"},
		{"LF close, rise r", s{Foot: lf, Way: routine.Close, Actions: []string{"rise"}, Note: "rise r"}, "LF close, rise (rise r)"},
		{"R cl", s{Foot: rf, Way: routine.Close}, "RF close"},
		{"RF tog.", s{Foot: rf, Way: routine.Close}, "RF close"},
		{"RF half closes", s{Foot: rf, Way: routine.HalfClose}, "RF half close"},
		{"L xif", s{Foot: lf, Way: routine.CrossInFront}, "LF cross in front"},
		{"LF crosses in front of RF", s{Foot: lf, Way: routine.CrossInFront}, "LF cross in front"},
		{"L xib", s{Foot: lf, Way: routine.CrossBehind}, "LF cross behind"},
		{"LF crosses behind RF", s{Foot: lf, Way: routine.CrossBehind}, "LF cross behind"},
		{"LF locks behind", s{Foot: lf, Way: routine.CrossBehind, Actions: []string{"lock"}}, "LF cross behind, lock"},
		{"replace", s{}, ""},
		{"RF recover", s{Foot: rf, Way: routine.Replace}, "RF replace"},
		{"replace weight to RF", s{Foot: rf, Way: routine.Replace}, "RF replace"},
		{"RF rec.", s{Foot: rf, Way: routine.Replace}, "RF replace"},
		{"RF in place", s{Foot: rf, Way: routine.InPlace}, "RF in place"},
		{"RF on the spot", s{Foot: rf, Way: routine.InPlace}, "RF in place"},
		{"RF forward and across", s{Foot: rf, Way: routine.Forward, Slightly: routine.Across}, "RF forward and across"},
		{"RF fwd & across", s{Foot: rf, Way: routine.Forward, Slightly: routine.Across}, "RF forward and across"},
		{"RF across", s{Foot: rf, Way: routine.Across}, "RF across"},
		{"RF slightly across", s{Foot: rf, Way: routine.Across, Size: routine.Slight}, "RF slightly across"},
		{"LF side and slightly forward", s{Foot: lf, Way: routine.Side, Slightly: routine.Forward}, "LF side and slightly forward"},
		{"L sd & sl. fwd", s{Foot: lf, Way: routine.Side, Slightly: routine.Forward}, "LF side and slightly forward"},
		{"LF back and slightly side", s{Foot: lf, Way: routine.Back, Slightly: routine.Side}, "LF back and slightly side"},
		{"LF slightly back", s{Foot: lf, Way: routine.Back, Size: routine.Slight}, "LF slightly back"},
		{"LF back slightly", s{Foot: lf, Way: routine.Back, Size: routine.Slight}, "LF slightly back"},
		{"LF slightly side and slightly back", s{Foot: lf, Way: routine.Side, Slightly: routine.Back, Size: routine.Slight}, "LF slightly side and slightly back"},
		{"RF small side", s{Foot: rf, Way: routine.Side, Size: routine.Small}, "RF small side"},
		{"RF side, small", s{Foot: rf, Way: routine.Side, Size: routine.Small}, "RF small side"},
		{"LF large side", s{Foot: lf, Way: routine.Side, Size: routine.Large}, "LF large side"},

		{"LF side, 1/4 R", s{Foot: lf, Way: routine.Side, Turn: 2}, "LF side, 1/4 R"},
		{"LF side, ⅜ L", s{Foot: lf, Way: routine.Side, Turn: -3}, "LF side, 3/8 L"},
		{"LF side, 5/8 to L", s{Foot: lf, Way: routine.Side, Turn: -5}, "LF side, 5/8 L"},
		{"LF side, 1 1/4 R", s{Foot: lf, Way: routine.Side, Turn: 10}, "LF side, 1 1/4 R"},
		{"LF side, 1¼ R", s{Foot: lf, Way: routine.Side, Turn: 10}, "LF side, 1 1/4 R"},
		{"LF side, 1 ¼ right", s{Foot: lf, Way: routine.Side, Turn: 10}, "LF side, 1 1/4 R"},
		{"LF side, 1 R", s{Foot: lf, Way: routine.Side, Turn: 8}, "LF side, 1 R"},
		{"LF side, 2/8 R", s{Foot: lf, Way: routine.Side, Turn: 2}, "LF side, 1/4 R"},
		{"LF side, turn 1/8 to the left", s{Foot: lf, Way: routine.Side, Turn: -1}, "LF side, 1/8 L"},
		{"LF side, half turn right", s{Foot: lf, Way: routine.Side, Turn: 4}, "LF side, 1/2 R"},
		{"LF side, quarter L", s{Foot: lf, Way: routine.Side, Turn: -2}, "LF side, 1/4 L"},
		{"LF side, whole turn L", s{Foot: lf, Way: routine.Side, Turn: -8}, "LF side, 1 L"},
		{"LF 3/4 R side", s{Foot: lf, Way: routine.Side, Turn: 6}, "LF side, 3/4 R"},
		{"LF side ⅞ R", s{Foot: lf, Way: routine.Side, Turn: 7}, "LF side, 7/8 R"},
		{"LF side, 3 7/8 L", s{Foot: lf, Way: routine.Side, Turn: -31}, "LF side, 3 7/8 L"},
		{"LF side, 1/8 R, 1/4 R", s{Foot: lf, Way: routine.Side, Turn: 3}, "LF side, 3/8 R"},
		{"LF half close, half turn R", s{Foot: lf, Way: routine.HalfClose, Turn: 4}, "LF half close, 1/2 R"},

		{"RF forward, facing wall", s{Foot: rf, Way: routine.Forward, Alignment: facing(routine.Wall)}, "RF forward, facing wall"},
		{"RF forward facing the wall", s{Foot: rf, Way: routine.Forward, Alignment: facing(routine.Wall)}, "RF forward, facing wall"},
		{"RF back, backing DC", s{Foot: rf, Way: routine.Back, Alignment: backing(routine.DC)}, "RF back, backing DC"},
		{"RF side, pointing to LOD", s{Foot: rf, Way: routine.Side, Alignment: pointing(routine.LOD)}, "RF side, pointing LOD"},
		{"RF back, 1/8 L, backing DW against LOD", s{Foot: rf, Way: routine.Back, Turn: -1, Alignment: backing(routine.DWAgainst)}, "RF back, 1/8 L, backing DW against LOD"},

		{"LF forward, ball flat", s{Foot: lf, Way: routine.Forward, Footwork: "BF"}, "LF forward, BF"},
		{"LF forward, HT", s{Foot: lf, Way: routine.Forward, Footwork: "HT"}, "LF forward, HT"},
		{"LF forward, heel toe", s{Foot: lf, Way: routine.Forward, Footwork: "HT"}, "LF forward, HT"},
		{"LF side, T", s{Foot: lf, Way: routine.Side, Footwork: "T"}, "LF side, T"},
		{"LF forward, THT", s{Foot: lf, Way: routine.Forward, Footwork: "THT"}, "LF forward, THT"},
		{"LF side, inside edge", s{Foot: lf, Way: routine.Side, Footwork: "IE"}, "LF side, IE"},
		{"LF side, whole foot", s{Foot: lf, Way: routine.Side, Footwork: "W"}, "LF side, W"},
		{"LF side, IEW", s{Foot: lf, Way: routine.Side, Footwork: "IEW"}, "LF side, IEW"},

		{"LF forward, check", s{Foot: lf, Way: routine.Forward, Actions: []string{"check"}}, "LF forward, check"},
		{"LF forward, CBMP, checking", s{Foot: lf, Way: routine.Forward, Actions: []string{"CBMP", "check"}}, "LF forward, CBMP, check"},
		{"LF swivel, 1/2 R", s{Foot: lf, Actions: []string{"swivel"}, Turn: 4}, "LF swivel, 1/2 R"},
		{"LF tap", s{Foot: lf, Actions: []string{"tap"}, Weight: routine.None}, "LF tap"},
		{"LF touches to RF", s{Foot: lf, Actions: []string{"tap"}, Weight: routine.None}, "LF tap"},
		{"LF side, point", s{Foot: lf, Way: routine.Side, Actions: []string{"point"}, Weight: routine.None}, "LF side, point"},
		{"LF points", s{Foot: lf, Actions: []string{"point"}, Weight: routine.None}, "LF point"},
		{"LF closes, brush", s{Foot: lf, Way: routine.Close, Actions: []string{"brush"}, Weight: routine.None}, "LF close, brush"},
		{"LF drag", s{Foot: lf, Actions: []string{"draw"}, Weight: routine.None}, "LF draw"},
		{"LF side, press", s{Foot: lf, Way: routine.Side, Actions: []string{"press"}, Weight: routine.Part}, "LF side, press"},
		{"LF side, press, tap", s{Foot: lf, Way: routine.Side, Actions: []string{"press", "tap"}, Weight: routine.None}, "LF side, press, tap"},
		{"LF side, press, tap, part weight", s{Foot: lf, Way: routine.Side, Actions: []string{"press", "tap"}, Weight: routine.Part}, "LF side, press, tap, part weight"},
		{"LF closes without weight", s{Foot: lf, Way: routine.Close, Weight: routine.None}, "LF close, no weight"},
		{"LF close, no wt.", s{Foot: lf, Way: routine.Close, Weight: routine.None}, "LF close, no weight"},
		{"RF close, part weight", s{Foot: rf, Way: routine.Close, Weight: routine.Part}, "RF close, part weight"},
		{"RF back, sway left, hips", s{Foot: rf, Way: routine.Back, Actions: []string{"sway L", "hip action"}}, "RF back, sway L, hip action"},
		{"RF forward, underarm", s{Foot: rf, Way: routine.Forward, Actions: []string{"under the arm"}}, "RF forward, under the arm"},

		{"LF side, fan pos.", s{Foot: lf, Way: routine.Side, Position: in(t, "fan")}, "LF side, in fan"},
		{"LF side in PP", s{Foot: lf, Way: routine.Side, Position: in(t, "promenade")}, "LF side, in promenade"},
		{"LF side to open CPP", s{Foot: lf, Way: routine.Side, Position: in(t, "open counter promenade")}, "LF side, in open counter promenade"},
		{"LF forward, ending in left side position", s{Foot: lf, Way: routine.Forward, Position: in(t, "left side")}, "LF forward, in left side position"},
		{"RF forward OP", s{Foot: rf, Way: routine.Forward, Position: in(t, "outside partner")}, "RF forward, outside partner"},
		{"RF close, facing", s{Foot: rf, Way: routine.Close, Position: in(t, "open facing")}, "RF close, in open facing"},
		{"RF back, back to back", s{Foot: rf, Way: routine.Back, Position: in(t, "back to back")}, "RF back, back to back"},
		{"RF close, in closed or open", s{}, ""},
		{"RF close, in closed, in open facing", s{Foot: rf, Way: routine.Close, Position: in(t, "closed", "open facing")}, "RF close, in closed, in open facing"},

		{"LF side, swivel R", s{Foot: lf, Way: routine.Side, Actions: []string{"swivel R"}}, "LF side, swivel R"},
		{"LF pivot L, 1/2 L", s{Foot: lf, Actions: []string{"pivot L"}, Turn: -4}, "LF pivot L, 1/2 L"},
		{"LF spiral left 7/8", s{Foot: lf, Actions: []string{"spiral L"}, Turn: -7}, "LF spiral L, 7/8 L"},
		{"LF swivel clockwise", s{Foot: lf, Actions: []string{"swivel R"}}, "LF swivel R"},
		{"LF side R (low)", s{Foot: lf, Way: routine.Side, Note: "low, side R"}, "LF side (low, side R)"},
		{"RF side to the left", s{Foot: rf, Way: routine.Side, Note: "side to the left"}, "RF side (side to the left)"},
		{"RF back turning", s{Foot: rf, Way: routine.Back, Note: "turning"}, "RF back (turning)"},
		{"RF back, 1/4 R turn", s{Foot: rf, Way: routine.Back, Turn: 2}, "RF back, 1/4 R"},
		{"RF swivel on RF", s{Foot: rf, Actions: []string{"swivel"}, Note: "swivel on RF"}, "RF swivel (swivel on RF)"},
		{"LF tap across to RF", s{Foot: lf, Way: routine.Across, Actions: []string{"tap"}, Weight: routine.None, Note: "across to RF"}, "LF across, tap (across to RF)"},
		{"LF side and slightly across", s{Foot: lf, Way: routine.Side, Slightly: routine.Across, Note: "slightly across"}, "LF side and across (slightly across)"},
		{"LF part weight, tap", s{Foot: lf, Actions: []string{"tap"}, Weight: routine.Part}, "LF tap, part weight"},
		{"–, no weight", s{Note: "no weight"}, "– (no weight)"},

		{"forward left foot", s{Foot: lf, Way: routine.Forward}, "LF forward"},
		{"side LF", s{Foot: lf, Way: routine.Side}, "LF side"},
		{"fwd R, check", s{Foot: rf, Way: routine.Forward, Actions: []string{"check"}}, "RF forward, check"},
		{"step forward on the left foot", s{Foot: lf, Way: routine.Forward}, "LF forward"},
		{"small side step LF, 1/8 L", s{Foot: lf, Way: routine.Side, Size: routine.Small, Turn: -1}, "LF small side, 1/8 L"},
		{"close RF to LF", s{Foot: rf, Way: routine.Close}, "RF close"},
		{"closes to LF", s{Foot: rf, Way: routine.Close}, "RF close"},
		{"close RF", s{Foot: rf, Way: routine.Close}, "RF close"},
		{"cross behind LF", s{Foot: rf, Way: routine.CrossBehind}, "RF cross behind"},
		{"cross LF behind RF", s{Foot: lf, Way: routine.CrossBehind}, "LF cross behind"},
		{"LF bwd", s{Foot: lf, Way: routine.Back}, "LF back"},
		{"LF bkwd", s{Foot: lf, Way: routine.Back}, "LF back"},
		{"RF beside LF", s{Foot: rf, Way: routine.Close}, "RF close"},
		{"RF next to LF", s{Foot: rf, Way: routine.Close}, "RF close"},
		{"LF walk", s{Foot: lf, Way: routine.Forward}, "LF forward"},
		{"LF walks back", s{Foot: lf, Way: routine.Back}, "LF back"},
		{"LF rock back", s{Foot: lf, Way: routine.Back, Actions: []string{"rock"}}, "LF back, rock"},
		{"LF steps to the side", s{Foot: lf, Way: routine.Side}, "LF side"},
		{"LF cross over", s{Foot: lf, Way: routine.CrossInFront}, "LF cross in front"},
		{"LF diagonally backwards", s{Foot: lf, Way: routine.DiagonallyBack}, "LF diagonally back"},
		{"LF diag fwd", s{Foot: lf, Way: routine.DiagonallyForward}, "LF diagonally forward"},
		{"LF fwd, fcg DLW", s{Foot: lf, Way: routine.Forward, Alignment: facing(routine.DW)}, "LF forward, facing DW"},
		{"LF bk, bkg DLC", s{Foot: lf, Way: routine.Back, Alignment: backing(routine.DC)}, "LF back, backing DC"},
		{"LF forward towards DLW", s{Foot: lf, Way: routine.Forward, Note: "towards DLW"}, "LF forward (towards DLW)"},
		{"LF forward DLW", s{}, ""},
		{"LF fwd, 1/4R", s{Foot: lf, Way: routine.Forward, Turn: 2}, "LF forward, 1/4 R"},
		{"LF fwd R¼", s{Foot: lf, Way: routine.Forward, Turn: 2}, "LF forward, 1/4 R"},
		{"LF fwd, turn R 1/4", s{Foot: lf, Way: routine.Forward, Turn: 2}, "LF forward, 1/4 R"},
		{"LF fwd, turning left by an eighth", s{Foot: lf, Way: routine.Forward, Turn: -1}, "LF forward, 1/8 L"},
		{"LF fwd, 90° R", s{Foot: lf, Way: routine.Forward, Turn: 2}, "LF forward, 1/4 R"},
		{"LF fwd, 45 degrees to the left", s{Foot: lf, Way: routine.Forward, Turn: -1}, "LF forward, 1/8 L"},
		{"LF fwd, turn 180 degrees clockwise", s{Foot: lf, Way: routine.Forward, Turn: 4}, "LF forward, 1/2 R"},
		{"LF fwd, 1/4 anti-clockwise", s{Foot: lf, Way: routine.Forward, Turn: -2}, "LF forward, 1/4 L"},
		{"LF fwd, quarter turn counter clockwise", s{Foot: lf, Way: routine.Forward, Turn: -2}, "LF forward, 1/4 L"},
		{"LF fwd, three quarters of a turn to the right", s{Foot: lf, Way: routine.Forward, Turn: 6}, "LF forward, 3/4 R"},
		{"LF fwd, 50° R", s{}, ""},
		{"LF fwd, ht", s{Foot: lf, Way: routine.Forward, Footwork: "HT"}, "LF forward, HT"},
		{"LF fwd, H-T", s{Foot: lf, Way: routine.Forward, Footwork: "HT"}, "LF forward, HT"},
		{"LF fwd, heel-toe", s{Foot: lf, Way: routine.Forward, Footwork: "HT"}, "LF forward, HT"},
		{"LF fwd, b", s{}, ""},
		{"LF forward, 1/8 L, then a further 1/2 L", s{Foot: lf, Way: routine.Forward, Turn: -1, After: -4}, "LF forward, 1/8 L, 1/2 L after"},
		{"RF side, 1/4 R after", s{Foot: rf, Way: routine.Side, After: 2}, "RF side, 1/4 R after"},
		{"RF forward, spiral L, 7/8 L after", s{Foot: rf, Way: routine.Forward, Actions: []string{"spiral L"}, After: -7}, "RF forward, 7/8 L after, spiral L"},
		{"RF forward, 1/8 R, then 1/4 L", s{Foot: rf, Way: routine.Forward, Turn: 1, After: -2}, "RF forward, 1/8 R, 1/4 L after"},
		{"RF forward, foot turns 1/8 R", s{Foot: rf, Way: routine.Forward, FootTurn: 1}, "RF forward, foot 1/8 R"},
		{"RF side, weight on both feet", s{Foot: rf, Way: routine.Side, Weight: routine.Split}, "RF side, weight on both feet"},
		{"RF hooks behind, toe out", s{Foot: rf, Way: routine.CrossBehind, Actions: []string{"turned out"}}, "RF cross behind, turned out"},
		{"LF ronde", s{Foot: lf, Actions: []string{"rondé"}, Weight: routine.None}, "LF rondé"},
		{"LF forward across the open end of the V", s{Foot: lf, Way: routine.Forward, Actions: []string{"across the V"}}, "LF forward, across the V"},
		{"LF forward, handshake", s{Foot: lf, Way: routine.Forward, Hands: 1 << 2}, "LF forward, hands right to right"},
		{"LF forward, left to right", s{Foot: lf, Way: routine.Forward, Hands: 1}, "LF forward, hands left to right"},
		{"LF back, double hand hold, in open facing", s{Foot: lf, Way: routine.Back, Position: in(t, "open facing"), Hands: 1 << 4}, "LF back, in open facing, both hands"},
		{"LF back, hammer lock", s{Foot: lf, Way: routine.Back, Hands: 1 << 7}, "LF back, hammerlock"},
		{"LF back, leads her to turn under the arm, check", s{Foot: lf, Way: routine.Back, Actions: []string{"check"}, Lead: "her to turn under the arm"}, "LF back, check, leads her to turn under the arm"},
		{"hold", s{}, "–"},
		{"Wait", s{}, "–"},
		{"pause (look up)", s{Note: "look up"}, "– (look up)"},

		{"–", s{}, "–"},
		{"-", s{}, "–"},
		{"— (smile)", s{Note: "smile"}, "– (smile)"},
		{"stands, facing DW", s{Alignment: facing(routine.DW)}, "–, facing DW"},
		{"–, 1/4 R", s{Turn: 2}, "–, 1/4 R"},
		{"LF side (look (far) up) , 1/4 R (slowly)", s{Foot: lf, Way: routine.Side, Turn: 2, Note: "look (far) up slowly"}, "LF side, 1/4 R (look (far) up slowly)"},
		{"LF side ( )", s{Foot: lf, Way: routine.Side}, "LF side"},
		{"LF side, T, in closed, 1/8 L, backing DC, part weight, check (on the ball)",
			s{Foot: lf, Way: routine.Side, Footwork: "T", Turn: -1, Alignment: backing(routine.DC), Actions: []string{"check"}, Weight: routine.Part, Position: in(t, "closed"), Note: "on the ball"},
			"LF side, 1/8 L, backing DC, T, check, part weight, in closed (on the ball)"},
	} {
		t.Run(test.cell, func(t *testing.T) {
			got, found := routine.ParseStep(test.cell)
			if test.long == "" {
				assert.NotEmpty(t, found)
				return
			}
			require.Empty(t, found)
			got.At = routine.Span{}
			assert.Equal(t, test.want, got)
			assert.Equal(t, test.long, got.String())
		})
	}
}

// TestDirections: eight directions, clockwise from the line of dance, each by all its names. The
// numbering is ours, the names are the trade's.
func TestDirections(t *testing.T) {
	for d, names := range map[routine.Direction][]string{
		0: {"LOD", "line of dance", "the LOD", "down LOD"},
		1: {"DW", "diagonal to wall", "diag. wall", "diag wall", "diag to wall", "diagonal wall"},
		2: {"wall", "the wall", "Wall"},
		3: {"DW against LOD", "DW against", "diagonal to wall against line of dance", "diagonal to wall against LOD"},
		4: {"against LOD", "ALOD", "against line of dance"},
		5: {"DC against LOD", "DC against", "diagonal to centre against line of dance", "diagonal to centre against LOD"},
		6: {"centre", "center", "the centre"},
		7: {"DC", "diagonal to centre", "diag. centre", "diag center"},
	} {
		for _, name := range names {
			s := step(t, "LF forward, facing "+name)
			assert.Equal(t, facing(d), s.Alignment, name)
			assert.Equal(t, d, s.Alignment.Direction(), name)
			// "Backing X" is facing X+4, the opposite direction.
			s = step(t, "LF back, backing "+name)
			assert.Equal(t, (d+4)%8, s.Alignment.Direction(), name)
			s = step(t, "LF back, pointing "+name+", T")
			assert.Equal(t, pointing(d), s.Alignment, name)
		}
		assert.Equal(t, names[0], d.String())
	}
}

// TestTurningAndDirections: a right turn is clockwise seen from above, so a quarter right from facing
// DW faces DW against LOD (definitions in common use).
func TestTurningAndDirections(t *testing.T) {
	assert.Equal(t, routine.DWAgainst, routine.DW.Turned(2))
	assert.Equal(t, routine.DC, routine.DW.Turned(-2))
	assert.Equal(t, routine.DC, routine.LOD.Turned(-1))
	assert.Equal(t, routine.LOD, routine.DC.Turned(1))
	assert.Equal(t, routine.Against, routine.LOD.Turned(-12))
	assert.Equal(t, routine.Wall, routine.Centre.Turned(28))
}

// TestPositionNames: each position by its name, with and without "in" and
// "position", and by its letters.
func TestPositionNames(t *testing.T) {
	for i, name := range positionNames {
		want := routine.PositionSet(1) << i
		assert.Equal(t, name, want.String())
		assert.Equal(t, []routine.Position{routine.Position(i)}, slices.Collect(want.Positions()))
		for _, form := range []string{name, "in " + name, name + " position", "in " + strings.ToUpper(name) + " pos."} {
			s := step(t, "LF side, "+form)
			assert.Equal(t, want, s.Position, form)
			assert.Equal(t, routine.Side, s.Way, form)
		}
	}
	for letters, name := range map[string]string{"CP": "closed", "PP": "promenade", "CPP": "counter promenade", "open PP": "open promenade", "OCPP": "open counter promenade",
		"op fcg": "open facing", "OP": "outside partner", "tandem man behind": "tandem leader behind", "tandem lady behind": "tandem follower behind"} {
		s := step(t, "LF side, "+letters)
		assert.Equal(t, in(t, name), s.Position, letters)
	}
}

// TestStepFindings: what can't be read is reported where it stands, with the column in letters, and
// with the nearest known words.
func TestStepFindings(t *testing.T) {
	type finding struct {
		code   routine.Code
		column int
		text   string // of the span
		hint   string
	}
	for _, test := range []struct {
		cell string
		want []finding
	}{
		{"", []finding{{"step-missing", 1, "", "write – for a partner who stands still"}}},
		{"forward", []finding{{"foot-missing", 1, "forward", "write LF or RF, or – for a partner who stands still"}}},
		{"LF", []finding{{"place-missing", 1, "LF", "add forward, back, side, close, replace, in place …"}}},
		{"LF cross", []finding{{"unknown-word", 4, "cross", "write cross in front or cross behind"}}},
		{"LF wait", []finding{{"unknown-word", 4, "wait", "write – or wait, without a foot, for a partner who stands still"}}},
		{"LF chassé", []finding{{"unknown-word", 4, "chassé", "write a row for each of its steps"}}},
		{"LF, 1/4 R", []finding{{"place-missing", 1, "LF, 1/4 R", "add forward, back, side, close, replace, in place …"}}},
		{"LF forwrad", []finding{{"unknown-word", 4, "forwrad", "perhaps forward"}}},
		{"(schräg ⅜ 灯) LF bakc", []finding{{"unknown-word", 17, "bakc", "perhaps back"}}},
		{"LF side, ⅛ L, chekc", []finding{{"unknown-word", 15, "chekc", "perhaps check"}}},
		{"LF diagonaly forward", []finding{{"unknown-word", 4, "diagonaly", "perhaps diagonally back, diagonally forward"}}},
		{"LF side, in promenad", []finding{{"unknown-word", 13, "promenad", "perhaps promenade"}}},
		{"LF sdie, brsh, 灯籠", []finding{{"unknown-word", 4, "sdie", "perhaps side"}, {"unknown-word", 10, "brsh", "perhaps brush"}, {"unknown-word", 16, "灯籠", ""}}},
		{"LF forward, back", []finding{{"place-twice", 1, "LF forward, back", "write \"slightly back\" if that is the smaller part of the step"}}},
		{"LF side and forward", []finding{{"place-twice", 1, "LF side and forward", "write \"slightly forward\" if that is the smaller part of the step"}}},
		{"LF side, 1/5 R", []finding{{"turn-unreadable", 10, "1/5", "write 1/8, 1/4, 3/8, 1/2, 5/8, 3/4, 7/8 or 1, then L or R"}}},
		{"LF side, 1/3 L, chekc", []finding{{"turn-unreadable", 10, "1/3", "write 1/8, 1/4, 3/8, 1/2, 5/8, 3/4, 7/8 or 1, then L or R"}, {"unknown-word", 17, "chekc", "perhaps check"}}},
		{"LF side, 0 R", []finding{{"turn-unreadable", 10, "0", "write 1/8, 1/4, 3/8, 1/2, 5/8, 3/4, 7/8 or 1, then L or R"}}},
		{"LF side, 1/0 R", []finding{{"turn-unreadable", 10, "1/0", "write 1/8, 1/4, 3/8, 1/2, 5/8, 3/4, 7/8 or 1, then L or R"}}},
		{"LF side, 99999999999999999999 R", []finding{{"turn-unreadable", 10, "99999999999999999999", "write 1/8, 1/4, 3/8, 1/2, 5/8, 3/4, 7/8 or 1, then L or R"}}},
		{"LF side, 3 R, 3 R", []finding{{"turn-unreadable", 15, "3 R", ""}}},
		{"LF side, ¼", []finding{{"turn-unreadable", 10, "¼", "write 1/4 R or 1/4 L"}}},
		{"LF side, 1/4 round", []finding{{"turn-unreadable", 10, "1/4", "write 1/4 R or 1/4 L"}, {"unknown-word", 14, "round", ""}}},
		{"LF side, turning R", []finding{{"turn-unreadable", 10, "turning R", "write 1/8, 1/4, 3/8 … before R, or put it into a note in brackets"}}},
		{"LF side, R", []finding{{"unknown-word", 10, "R", "write a turn as an amount and a side: 1/4 R"}}},
		{"LF side, facing river", []finding{{"unknown-direction", 17, "river", "known: LOD, DW, wall, DW against LOD, against LOD, DC against LOD, centre, DC"}}},
		{"LF side, backing cantre", []finding{{"unknown-direction", 18, "cantre", "perhaps centre"}}},
		{"LF side, facing wall, backing DC", []finding{{"said-twice", 23, "backing DC", "keep one"}}},
		{"LF side, HT, ball flat", []finding{{"said-twice", 14, "ball", "keep one"}}},
		{"LF side, 1/4 R, 1/8 L", []finding{{"said-twice", 17, "1/8 L", "write how far it turns altogether"}}},
		{"LF small large side", []finding{{"said-twice", 1, "LF small large side", "keep one"}}},
		{"LF small side, large", []finding{{"said-twice", 1, "LF small side, large", "keep one"}}},
		{"LF side, tap, no weight, part weight", []finding{{"said-twice", 1, "LF side, tap, no weight, part weight", "keep one"}}},
		{"LF side and small across", []finding{{"place-twice", 1, "LF side and small across", "write \"slightly across\" if that is the smaller part of the step"}}},
		{"LF side RF", []finding{{"unknown-word", 9, "RF", "write one step per row, or put this into a note in brackets"}}},
		{"LF side, turning to the R", []finding{{"turn-unreadable", 10, "turning to the R", "write 1/8, 1/4, 3/8 … before R, or put it into a note in brackets"}}},
		{"– forward", []finding{{"foot-missing", 1, "– forward", "write LF or RF instead of –"}}},
		{"–, small", []finding{{"foot-missing", 1, "–, small", "write LF or RF instead of –"}}},
		{"LF side (slowly, 1/4 R", []finding{{"unknown-word", 9, "(slowly", ""}}},
		{"LF side) slowly", []finding{{"unknown-word", 4, "side) slowly", "perhaps side"}}},
		{"LF side, no wieght", []finding{{"unknown-word", 10, "no wieght", "perhaps no weight"}}},
		{"LF RF side", []finding{{"unknown-word", 4, "RF", ""}}},
		{"LF\tside,\tchekc", []finding{{"unknown-word", 10, "chekc", "perhaps check"}}},
	} {
		t.Run(test.cell, func(t *testing.T) {
			_, found := routine.ParseStep(test.cell)
			var got []finding
			for _, f := range found {
				assert.Equal(t, 1, f.Span.Start.Line)
				got = append(got, finding{f.Code, f.Span.Start.Column, test.cell[f.Span.Start.Offset:f.Span.End.Offset], f.Hint})
			}
			assert.Equal(t, test.want, got)
		})
	}
}

// steps draws any step that a chart can say.
func steps() *rapid.Generator[routine.Step] {
	actions := []string{"check", "swivel", "lock", "heel turn", "heel pull", "pivot", "spiral", "lunge", "appel", "stamp", "CBM", "CBMP", "lower", "rise",
		"sway L", "sway R", "hip action", "under the arm", "press", "tap", "brush", "point", "kick", "flick", "draw", "hover"}
	free := map[string]bool{"tap": true, "brush": true, "point": true, "kick": true, "flick": true, "draw": true, "hover": true}
	return rapid.Custom(func(t *rapid.T) routine.Step {
		s := routine.Step{
			Foot:      rapid.SampledFrom([]routine.Foot{routine.NoFoot, routine.LF, routine.RF}).Draw(t, "foot"),
			Turn:      routine.Turn(rapid.IntRange(-31, 31).Draw(t, "turn")),
			Alignment: routine.Alignment{Stand: routine.Stand(rapid.IntRange(0, 3).Draw(t, "stand"))},
			Footwork:  rapid.SampledFrom([]string{"", "H", "T", "B", "F", "W", "IE", "HT", "TH", "BF", "HF", "THT", "IEW"}).Draw(t, "footwork"),
			Position:  routine.PositionSet(rapid.SampledFrom([]int{0, 0, 1, 2, 4, 5, 1 << 7, 1 << 20, 1<<9 | 1<<17}).Draw(t, "position")),
			Note:      rapid.SampledFrom([]string{"", "softly", "a, b (c); 1/4 R", "灯籠 – ⅛"}).Draw(t, "note"),
		}
		if s.Alignment.Stand != routine.NoStand {
			s.Alignment.To = routine.Direction(rapid.IntRange(0, 7).Draw(t, "direction"))
		}
		for _, a := range rapid.SliceOfNDistinct(rapid.SampledFrom(actions), 0, 4, rapid.ID).Draw(t, "actions") {
			s.Actions = append(s.Actions, a)
			if free[a] {
				s.Weight = routine.None
			} else if a == "press" {
				s.Weight = routine.Part
			}
		}
		if s.Foot == routine.NoFoot {
			s.Weight = routine.Full
			return s
		}
		s.Way = routine.Way(rapid.IntRange(1, 12).Draw(t, "way"))
		s.Size = routine.Size(rapid.IntRange(0, 3).Draw(t, "size"))
		s.Slightly = routine.Way(rapid.SampledFrom([]int{0, 0, 1, 2, 3, 4, 5, 12}).Draw(t, "slightly"))
		if rapid.Bool().Draw(t, "weight said") {
			s.Weight = rapid.SampledFrom([]routine.Weight{routine.Part, routine.None}).Draw(t, "weight")
		}
		if len(s.Actions) > 0 && s.Slightly == routine.NoWay && rapid.Bool().Draw(t, "no place") {
			s.Way, s.Size = routine.NoWay, routine.Usual
		}
		return s
	})
}

func TestAStepIsReadAsItIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := steps().Draw(t, "step")
		require.Equal(t, s, step(t, s.String()), s.String())
	})
}

// TestDetailsInAnyOrder: after foot and place the details may come in any order.
func TestDetailsInAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := steps().Draw(t, "step")
		s.Note = ""
		details := s.Details()
		text := fmt.Sprintf("%s %s", s.Foot, s.Where())
		if s.Stands() {
			text = "–"
		}
		for _, d := range rapid.Permutation(details).Draw(t, "details") {
			text += ", " + d
		}
		got := step(t, text)
		require.ElementsMatch(t, s.Actions, got.Actions)
		got.Actions, got.Weight = s.Actions, s.Weight // both depend on the order of the actions
		require.Equal(t, s, got, text)
	})
}

// unsafe reports whether text holds characters that no message and no name may hold.
func unsafe(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool {
		return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) && r != '\u200e' && r != '\u200f' && r != '\u061c'
	})
}

// Folding makes some letters longer or shorter; a word is cut where it is written all the same.
func TestWordsAreCutAsWritten(t *testing.T) {
	for cell, marked := range map[string]string{
		"r 1\x9d\xbd-8/ on":             "1\x9d\xbd",
		"LF forward, 1ȺȺȺ-8/ on":        "1ȺȺȺ",
		"LF forward, 1/4\u0301-3/8 on":  "1/4\u0301-3/8",
		"LF forward, 1/4-3ȺȺ\u0301 on":  "1/4",
		"LF forward, ȺȺȺ, 1/4-3ȺȺȺ, on": "ȺȺȺ",
	} {
		_, found := routine.ParseStep(cell)
		require.NotEmpty(t, found, cell)
		wellPlaced(t, []byte(cell), found)
		at := found[0].Span
		assert.Equal(t, marked, cell[at.Start.Offset:at.End.Offset], cell)
	}
}

// FuzzStep: the written form of a step that has no finding reads as the same step; findings lie within
// the cell and contain nothing that controls a terminal.
func FuzzStep(f *testing.F) {
	seeds := []string{"LF forward", "L fwd, 1¼ R", "– (wait (a bit))", "RF side & slightly back, ⅜ L, backing DC against LOD, HT, CBMP, part weight, in PP (note)",
		"LF swivel, 1/2 R", "LF press, tap, 1/8 R, 1/8 L", "", "RF slightly across", "LF (open", "LF side \u202e灯", "l l l", "–, facing", "rf points diag. wall"}
	require.NotEmpty(f, seeds)
	for _, cell := range seeds {
		f.Add(cell)
	}
	f.Fuzz(func(t *testing.T, cell string) {
		s, found := routine.ParseStep(cell)
		require.False(t, unsafe(s.Note), "%q", s.Note)
		wellPlaced(t, []byte(cell), found)
		if len(found) > 0 {
			return
		}
		again, found := routine.ParseStep(s.String())
		require.Empty(t, found, "%q is written %q", cell, s.String())
		s.At, again.At = routine.Span{}, routine.Span{}
		require.Equal(t, s, again, "%q is written %q", cell, s.String())
	})
}
