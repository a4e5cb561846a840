package floor_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	_ "dance.example/slowquick/testdata/thorough"
)

// shipped is the library of all tests: its chapters are read once.
var shipped = library.Open()

// nothing is what rounding may leave, in centimetres.
const nothing = 1e-9

const top = "---\ndance: waltz\nfaces: LOD\n%s---\n\n## Order\n\n1. Boathouse step%s\n\n## Boathouse step\n\n- starts: %s\n\n| Count | Leader | Follower |\n|---|---|---|\n"

// sheet returns a waltz of one figure. Rows are "count | leader | follower".
func sheet(settings, order, starts string, rows ...string) string {
	return fmt.Sprintf(top, settings, order, starts) + "| " + strings.Join(rows, " |\n| ") + " |\n"
}

func read(t require.TestingT, text string) *routine.Score {
	score, found := routine.Read("boathouse.md", []byte(text), shipped)
	require.Empty(t, found, text)
	return score
}

func trace(t require.TestingT, text string) *floor.Path { return floor.Trace(read(t, text)) }

// same asserts that two couples stand in the same way.
func same(t assert.TestingT, want, got floor.Couple, what ...any) {
	for _, p := range routine.Partners() {
		assert.InDelta(t, 0, want[p].Body.Distance(got[p].Body), nothing, what...)
		assert.Equal(t, want[p].Facing, got[p].Facing, what...)
		assert.Equal(t, want[p].Weight, got[p].Weight, what...)
		for _, f := range []routine.Foot{routine.LF, routine.RF} {
			assert.InDelta(t, 0, want[p].Foot(f).At.Distance(got[p].Foot(f).At), nothing, what...)
			assert.Equal(t, want[p].Foot(f).Toward, got[p].Foot(f).Toward, what...)
		}
	}
}

var box = []string{"1 | LF forward | RF back", "2 | RF side | LF side", "3 | LF close | RF close",
	"1 | RF back | LF forward", "2 | LF side | RF side", "3 | RF close | LF close"}

// TestABoxCloses checks that the six counts of the social box step return to
// where they start (common practice; printed charts agree).
func TestABoxCloses(t *testing.T) {
	path := trace(t, sheet("", "", "closed", box...))
	couples := path.Passage(0)
	require.Len(t, couples, 7)
	same(t, couples[0], couples[6])
	half := couples[3][routine.Leader].Body
	assert.Equal(t, floor.Point{X: 60, Y: 45}, half, "forward and to the right, by the waltz's usual steps")
}

// TestFourQuarterTurnsAreOne checks that a box with a quarter turn to the left
// in each bar is back where it began after four bars and not before.
func TestFourQuarterTurnsAreOne(t *testing.T) {
	turning := make([]string, len(box))
	for i, row := range box {
		cells := strings.Split(row, " | ")
		if strings.Contains(row, "side") {
			cells[1], cells[2] = cells[1]+", 1/4 L", cells[2]+", 1/4 L"
		}
		turning[i] = strings.Join(cells, " | ")
	}
	path := trace(t, sheet("", " × 2", "closed", turning...))
	same(t, path.Start(0), path.End)
	half := path.Start(1)
	assert.NotEqual(t, path.Start(0)[routine.Leader].Facing, half[routine.Leader].Facing)
	assert.Greater(t, path.Start(0)[routine.Leader].Body.Distance(half[routine.Leader].Body), 10.0)
}

// TestAlignmentsFollowFromTheTurns removes all alignments but the first from each chart of
// the library. Tracing the rest must yield every one of them. That the charts are as the
// trade prints them is tested in the library, with their sources.
func TestAlignmentsFollowFromTheTurns(t *testing.T) {
	compared := 0
	for _, name := range shipped.Dances() {
		c, _ := shipped.Chapter(name)
		for _, fig := range c.Figures {
			bare := *fig
			bare.Rows = append([]routine.Row(nil), fig.Rows...)
			for i := range bare.Rows {
				for p := range bare.Rows[i].Steps {
					if i > 0 {
						bare.Rows[i].Steps[p].Alignment = routine.Alignment{}
					}
				}
			}
			couples := floor.Trace(bare.Alone(c.Dance, c.Dance.Stride, fig.Starts.Positions)).Passage(0)
			for i := range fig.Rows {
				for p := range fig.Rows[i].Steps {
					step := &fig.Rows[i].Steps[p]
					dancer := couples[i+1][p]
					switch step.Alignment.Stand {
					case routine.NoStand:
						continue
					case routine.Pointing:
						assert.Equal(t, step.Alignment.To, dancer.Foot(step.Foot).Toward, "%s: %s row %d: %s", name, fig.Name, i+1, step)
					default:
						assert.Equal(t, step.Alignment.Direction(), dancer.Facing, "%s: %s row %d: %s", name, fig.Name, i+1, step)
					}
					compared++
				}
			}
		}
	}
	assert.Greater(t, compared, 150)
}

// TestAFootPointsBeforeTheBodyTurns checks that where a foot points, the body turns an
// eighth less and completes its turn on the next step (common practice).
func TestAFootPointsBeforeTheBodyTurns(t *testing.T) {
	couples := trace(t, strings.Replace(sheet("", "", "closed, facing DW",
		"1 | RF forward, facing DW | LF back, backing DW", "2 | LF side, 1/4 R, backing DC | RF side, 3/8 R, pointing LOD",
		"3 | RF close, 1/8 R, backing LOD | LF close, facing LOD"), "faces: LOD\n", "", 1)).Passage(0)
	follower := couples[2][routine.Follower]
	assert.Equal(t, routine.LOD, follower.Foot(routine.RF).Toward)
	assert.Equal(t, routine.DC, follower.Facing)
	assert.Equal(t, routine.DWAgainst, couples[2][routine.Leader].Facing, "so that both turn alike")
	assert.Equal(t, routine.LOD, couples[3][routine.Follower].Facing)
}

// ways are steps, each with the one by which a partner who faces the dancer goes along.
var ways = [][2]string{{"forward", "back"}, {"back", "forward"}, {"side", "side"}, {"diagonally forward", "diagonally back"},
	{"diagonally back", "diagonally forward"}, {"side and slightly forward", "side and slightly back"}, {"small back", "small forward"},
	{"close", "close"}, {"large side", "large side"}}

// random draws rows of a figure in which the partners go together, with turns
// drawn by turn.
func random(t *rapid.T, turn func() string) []string {
	var rows []string
	feet := [2]string{"LF", "RF"}
	for i := range 3 * rapid.IntRange(1, 4).Draw(t, "bars") {
		way := ways[rapid.IntRange(0, len(ways)-1).Draw(t, "way")]
		amount := turn()
		rows = append(rows, fmt.Sprintf("%d | %s %s%s | %s %s%s", i%3+1, feet[i%2], way[0], amount, feet[1-i%2], way[1], amount))
	}
	return rows
}

var eighths = []string{"", "", ", 1/8 L", ", 1/8 R", ", 1/4 L", ", 1/4 R"}

func anyTurn(t *rapid.T) func() string {
	return func() string { return eighths[rapid.IntRange(0, len(eighths)-1).Draw(t, "turn")] }
}

func noTurn() string { return "" }

// TestInClosedHoldPartnersNeverPart checks that partners who go along with each
// other stay exactly as far apart and face each other; and if they also turn
// together, stay within the hold.
func TestInClosedHoldPartnersNeverPart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		couples := trace(t, sheet("", "", "closed", random(t, noTurn)...)).Passage(0)
		apart := couples[0].Apart()
		for _, c := range couples {
			assert.InDelta(t, 0, apart.Distance(c.Apart()), nothing)
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		couples := trace(t, sheet("", "", "closed", random(t, anyTurn(t))...)).Passage(0)
		for _, c := range couples {
			assert.Equal(t, c[routine.Leader].Facing, c[routine.Follower].Facing.Turned(4))
			distance := c[routine.Leader].Body.Distance(c[routine.Follower].Body)
			assert.True(t, 20-nothing <= distance && distance <= 50+nothing, "%v cm apart", distance)
		}
	})
}

// mirrored swaps left and right in a row.
func mirrored(row string) string {
	return strings.NewReplacer("LF", "RF", "RF", "LF", "/8 L", "/8 R", "/8 R", "/8 L", "/4 L", "/4 R", "/4 R", "/4 L").Replace(row)
}

// opposite returns what a partner in the same place does: the other foot, and
// back for forward; turns stay the same.
func opposite(row string) string {
	return strings.NewReplacer("LF", "RF", "RF", "LF", "forward", "back", "back", "forward").Replace(row)
}

// twice returns an odd number of rows followed by the same rows changed, which
// begin with the other foot.
func twice(t *rapid.T, turn func() string, change func(string) string) (both []string, half int) {
	rows := random(t, turn)
	if len(rows)%2 == 0 {
		rows = rows[3:]
		for i := range rows {
			rows[i] = mirrored(rows[i])
		}
	}
	if len(rows) == 0 {
		rows = []string{"1 | LF side | RF side"}
	}
	both = append(both, rows...)
	for _, row := range rows {
		both = append(both, change(row))
	}
	return both, len(rows)
}

// TestAFigureAndItsMirrorImage checks that, after both, the couple faces as it did at the
// start and has gone only along the direction midway between those it faced at the start
// and between the two: across that, it is where it began. (The mirror image of a figure
// that goes forward does not come back; that of one that goes to the side does.)
func TestAFigureAndItsMirrorImage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, half := twice(t, anyTurn(t), mirrored)
		couples := leaders(t, rows).Passage(0)
		start, middle, end := couples[0][routine.Leader], couples[half][routine.Leader], couples[2*half][routine.Leader]
		require.Equal(t, start.Facing, end.Facing)
		travelled := end.Body.Minus(start.Body)
		between := float64(middle.Facing) * math.Pi / 8 // half of the angle, as the start faces 0
		across := -travelled.X*math.Sin(between) + travelled.Y*math.Cos(between)
		assert.InDelta(t, 0, across, 1e-6, "%v", rows)
	})
}

// TestAFigureAndItsOpposite checks that a figure without turns, followed by what the
// partner does in the same place, returns to where it began. The box is one.
func TestAFigureAndItsOpposite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, _ := twice(t, noTurn, opposite)
		path := leaders(t, rows)
		assert.InDelta(t, 0, path.Start(0)[routine.Leader].Body.Distance(path.End[routine.Leader].Body), 1e-6, "%v", rows)
	})
}

// leaders returns the path of a leader alone, whom no partner pulls along.
func leaders(t require.TestingT, rows []string) *floor.Path {
	for i, row := range rows {
		cells := strings.Split(row, " | ")
		rows[i] = fmt.Sprintf("%d | %s | –", i%3+1, cells[1])
	}
	return trace(t, sheet("", "", "apart", rows...))
}

// TestTheHallMayBeTurned checks that the same routine begun in another
// direction and place has the same path, turned and shifted.
func TestTheHallMayBeTurned(t *testing.T) {
	names := []string{"LOD", "DW", "wall", "DW against LOD", "against LOD", "DC against LOD", "centre", "DC"}
	rapid.Check(t, func(t *rapid.T) {
		text := sheet("", "", "closed", random(t, anyTurn(t))...)
		eighth := rapid.IntRange(0, 7).Draw(t, "direction")
		from := floor.Point{X: rapid.Float64Range(-1000, 1000).Draw(t, "x"), Y: rapid.Float64Range(-1000, 1000).Draw(t, "y")}
		straight := trace(t, text).Passage(0)
		turned := floor.TraceFrom(read(t, strings.Replace(text, "faces: LOD", "faces: "+names[eighth], 1)), from).Passage(0)
		for i := range straight {
			for _, p := range routine.Partners() {
				want := straight[i][p].Body.Turned(routine.Turn(eighth)).Plus(from)
				assert.InDelta(t, 0, want.Distance(turned[i][p].Body), 1e-6)
				assert.Equal(t, straight[i][p].Facing.Turned(routine.Turn(eighth)), turned[i][p].Facing)
			}
		}
	})
}

// TestWhereFeetGo tries each way, from closed feet or after another step.
func TestWhereFeetGo(t *testing.T) {
	// Facing LOD, X is forward and Y to the right. The feet start at Y -7 and 7.
	for _, test := range []struct {
		name string
		rows []string // the leader's
		foot routine.Foot
		want floor.Point
	}{
		{"forward", []string{"LF forward"}, routine.LF, floor.Point{X: 60, Y: -7}},
		{"back", []string{"LF back"}, routine.LF, floor.Point{X: -60, Y: -7}},
		{"side", []string{"LF side"}, routine.LF, floor.Point{X: 0, Y: -52}},
		{"small", []string{"LF small forward"}, routine.LF, floor.Point{X: 30, Y: -7}},
		{"large", []string{"LF large forward"}, routine.LF, floor.Point{X: 84, Y: -7}},
		{"slightly", []string{"LF slightly forward"}, routine.LF, floor.Point{X: 18, Y: -7}},
		{"side and slightly forward", []string{"LF side and slightly forward"}, routine.LF, floor.Point{X: 18, Y: -52}},
		{"diagonally forward", []string{"LF diagonally forward"}, routine.LF, floor.Point{X: 60 * math.Sqrt2 / 2, Y: -7 - 60*math.Sqrt2/2}},
		{"close", []string{"LF side", "RF close"}, routine.RF, floor.Point{X: 0, Y: -38}},
		{"half close", []string{"LF side", "RF half close"}, routine.RF, floor.Point{X: 0, Y: -15.5}},
		{"replace", []string{"LF forward", "RF replace"}, routine.RF, floor.Point{X: 0, Y: 7}},
		{"replace after a turn", []string{"LF forward", "RF replace, 1/2 R"}, routine.RF, floor.Point{X: 0, Y: 7}},
		{"cross in front", []string{"LF cross in front"}, routine.LF, floor.Point{X: 14, Y: 13}},
		{"cross behind", []string{"LF cross behind, lock"}, routine.LF, floor.Point{X: -14, Y: 13}},
		{"a turn on the standing foot", []string{"LF side, 1/4 R"}, routine.RF, floor.Point{X: 0, Y: 7}},
		{"a tap", []string{"LF forward", "RF tap"}, routine.RF, floor.Point{X: 60, Y: 7}},
		{"a point", []string{"LF side, point"}, routine.LF, floor.Point{X: 0, Y: -52}},
		{"a swivel", []string{"LF forward", "LF swivel, 1/4 R"}, routine.LF, floor.Point{X: 60, Y: -7}},
	} {
		t.Run(test.name, func(t *testing.T) {
			var rows []string
			for i := range 3 {
				step := "–"
				if i < len(test.rows) {
					step = test.rows[i]
				}
				rows = append(rows, fmt.Sprintf("%d | %s | –", i+1, step))
			}
			couples := trace(t, sheet("", "", "apart", rows...)).Passage(0)
			got := couples[len(test.rows)][routine.Leader].Foot(test.foot).At
			assert.InDelta(t, test.want.X, got.X, nothing)
			assert.InDelta(t, test.want.Y, got.Y, nothing)
		})
	}
}

// TestWeight checks that a tap moves neither body nor weight, and that part
// weight moves the body half way.
func TestWeight(t *testing.T) {
	couples := trace(t, sheet("", "", "apart", "1 | LF side, point | –", "2 | LF side, press | –", "3 | – | –")).Passage(0)
	assert.Equal(t, routine.RF, couples[1][routine.Leader].Weight)
	assert.Equal(t, floor.Point{}, couples[1][routine.Leader].Body)
	assert.Equal(t, routine.LF, couples[2][routine.Leader].Weight)
	assert.InDelta(t, -22.5, couples[2][routine.Leader].Body.Y, nothing)
}

func TestStepsAreAsLongAsTheSheetSays(t *testing.T) {
	text := sheet("forward step: 0.8 m\nside step: 30 cm\n", "", "closed", box...)
	assert.Equal(t, floor.Point{X: 80, Y: 30}, trace(t, text).Passage(0)[2][routine.Leader].Body)
	text = sheet("short step: 20 cm\n", "", "apart", "1 | LF forward | –", "& | RF forward | –", "2 | LF forward | –", "3 | RF close | –")
	at := trace(t, text).Passage(0)
	assert.InDelta(t, 20, at[1][routine.Leader].Body.X, nothing, "half a beat")
	assert.InDelta(t, 40, at[2][routine.Leader].Body.X, nothing, "half a beat")
	assert.InDelta(t, 100, at[3][routine.Leader].Body.X, nothing, "a whole beat")
}

// TestATurnAfterAStep: the way of a step is seen from before a turn that follows it, which is made on
// the foot that took the weight.
func TestATurnAfterAStep(t *testing.T) {
	after := trace(t, sheet("", "", "apart", "1 | LF forward, 1/4 L after | –", "2 | – | –", "3 | – | –")).Passage(0)
	before := trace(t, sheet("", "", "apart", "1 | LF forward, 1/4 L | –", "2 | – | –", "3 | – | –")).Passage(0)
	assert.Equal(t, routine.Centre, after[1][routine.Leader].Facing)
	assert.Equal(t, routine.Centre, before[1][routine.Leader].Facing)
	foot := after[1][routine.Leader].Foot(routine.LF)
	assert.InDelta(t, 60, foot.At.X, nothing, "the waltz's usual step")
	assert.Equal(t, routine.Centre, foot.Toward)
	assert.InDelta(t, -60, before[1][routine.Leader].Foot(routine.LF).At.Y, 20, "towards the centre")
}

// TestAcrossAV: in a V one goes towards its open end, or, across it, where one faces.
func TestAcrossAV(t *testing.T) {
	along := trace(t, sheet("", "", "open promenade", "1 | LF forward, apart | –", "2 | – | –", "3 | – | –")).Passage(0)
	across := trace(t, sheet("", "", "open promenade", "1 | LF forward, across the V, apart | –", "2 | – | –", "3 | – | –")).Passage(0)
	leader := across[0][routine.Leader]
	way := func(couples []floor.Couple) floor.Point {
		return couples[1][routine.Leader].Body.Minus(leader.Body).Turned(-routine.Turn(leader.Facing))
	}
	assert.InDelta(t, 60, way(across).X, nothing)
	assert.InDelta(t, 0, way(across).Y, nothing)
	assert.NotEqual(t, way(along), way(across))
}
