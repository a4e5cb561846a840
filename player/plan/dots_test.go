package plan_test

import (
	"fmt"
	"image"
	"math"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/internal/paths"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine/floor"
	_ "dance.example/slowquick/testdata/thorough"
)

// The library, and what is drawn of it and of sheets.
var shipped, order, invented, trace, figures = paths.Library, paths.Order, paths.Invented, paths.Trace, paths.Figures

var both, leaderOnly, followerOnly = [2]bool{true, true}, [2]bool{true, false}, [2]bool{false, true}

const waltz = "dance: waltz\nfaces: DW\n"

// TestPlans compares drawings with ones that were checked by eye.
func TestPlans(t *testing.T) {
	mooring := invented("dance: rumba\nfaces: wall\n", "open facing", "2 | LF side, part weight | RF side, part weight",
		"3 | RF replace | LF replace", "4-1 | LF back, 1/4 L, in right side position | RF back, 1/4 R, in right side position")
	tests := []struct {
		name          string
		sheet         string
		passage       int
		danced        []int
		shown         [2]bool
		width, height int
	}{
		{"box step", order(waltz, "Box step"), 0, []int{0, 1, 2, 3, 6}, both, 52, 14},
		{"box step, leader only", order(waltz, "Box step"), 0, []int{0, 2}, leaderOnly, 52, 14},
		{"hockey stick from fan", order("dance: rumba\nfaces: wall\n", "Hockey stick"), 0, []int{0, 3, 4, 6}, both, 76, 30},
		{"natural turn", order(waltz, "RF closed change", "Reverse turn", "LF closed change", "Natural turn", "RF closed change"), 3, []int{0, 2, 5}, both, 52, 14},
		{"natural turn, wide", order(waltz, "Natural turn"), 0, []int{1, 4, 6}, both, 76, 30},
		{"mooring step, on a floor", strings.Replace(mooring, "faces", "floor: 6 x 4 m\nfaces", 1), 0, []int{0, 1, 3}, both, 76, 30},
		{"reverse turn, on a floor", order("floor: 12 x 6 m\ndance: waltz\nfaces: DC\n", "Reverse turn"), 0, []int{1, 4}, both, 52, 14},
		{"box step, small", order(waltz, "Box step"), 0, []int{1}, both, 20, 8},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			path := trace(t, test.sheet)
			var d plan.Drawing
			var b strings.Builder
			for view := range plan.View(plan.Views) {
				for _, k := range test.danced {
					fmt.Fprintf(&b, "%s, steps danced: %d\n", view.Of(test.shown), k)
					s := plan.Scene{Path: path, Passage: test.passage, Danced: k, Shown: test.shown, View: view}
					b.WriteString(strings.Join(plan.Text(d.Dots(s, test.width, test.height)), "\n") + "\n\n")
				}
			}
			golden.Equal(t, plan.Legend+"\n\n"+b.String())
		})
	}
}

// TestFiguresOfTheLibrary draws every step of every figure.
func TestFiguresOfTheLibrary(t *testing.T) {
	for _, path := range figures(t) {
		var d plan.Drawing
		for danced := range path.Passage(0) {
			for view := range plan.View(plan.Views) {
				for _, shown := range [][2]bool{both, leaderOnly, followerOnly, {}} {
					s := plan.Scene{Path: path, Danced: danced, Shown: shown, View: view}
					legible(t, s, d.Dots(s, 52, 14), 52, 14)
				}
			}
		}
	}
}

// dotted reports whether a cell holds nothing but dots.
func dotted(c plan.Cell) bool { return c.Rune == ' ' || '\u2800' < c.Rune && c.Rune <= '\u28ff' }

// halfTurned returns a cell of dots turned by half a turn.
func halfTurned(c plan.Cell) plan.Cell {
	if c.Rune == ' ' {
		return c
	}
	dots := c.Rune - '\u2800'
	c.Rune = '\u2800'
	for _, pair := range [4][2]rune{{0x01, 0x80}, {0x02, 0x20}, {0x04, 0x10}, {0x40, 0x08}} {
		if dots&pair[0] != 0 {
			c.Rune |= pair[1]
		}
		if dots&pair[1] != 0 {
			c.Rune |= pair[0]
		}
	}
	return c
}

// TestOppositeIsBehindTurnedHalfRound compares every cell except the names of
// feet, which stay upright.
func TestOppositeIsBehindTurnedHalfRound(t *testing.T) {
	compared := 0
	for _, path := range figures(t) {
		for danced := range path.Passage(0) {
			for _, size := range [][2]int{{52, 14}, {33, 17}, {76, 30}} {
				s := plan.Scene{Path: path, Danced: danced, Shown: both}
				behind := plan.Dots(s, size[0], size[1])
				s.View = plan.Opposite
				opposite := plan.Dots(s, size[0], size[1])
				for y, row := range behind {
					for x, c := range row {
						turned := opposite[size[1]-1-y][size[0]-1-x]
						want := turned.Rune
						if c.Strong || turned.Strong {
							want = backward(c.Rune)
						} else if dotted(c) && dotted(turned) {
							want = halfTurned(c).Rune
							compared++
						}
						if want != turned.Rune { // an assertion for each cell would be too slow
							require.Failf(t, "not turned", "%s, %d danced: %q is not %q in column %d of line %d", path.Score.Title, danced, turned.Rune, want, x, y)
						}
					}
				}
			}
		}
	}
	require.Greater(t, compared, 100_000)
}

// TestAFollowerAloneIsSeenFromBehind checks that she faces up, and that the view names her.
func TestAFollowerAloneIsSeenFromBehind(t *testing.T) {
	assert.Equal(t, "from behind the leader", plan.Behind.Of(both))
	assert.Equal(t, "from behind the leader", plan.Behind.Of(leaderOnly))
	assert.Equal(t, "from behind the follower", plan.Behind.Of(followerOnly))
	path := trace(t, order("dance: waltz\n", "Box step"))
	arrows := func(shown [2]bool) string {
		s := plan.Scene{Path: path, Shown: shown}
		text := strings.Join(plan.Text(plan.Dots(s, 60, 20)), "\n")
		return strings.Map(func(r rune) rune {
			if strings.ContainsRune(leaders+followers, r) {
				return r
			}
			return -1
		}, text)
	}
	assert.Equal(t, "↓⇑", arrows(both))
	assert.Equal(t, "↓⇑", arrows(leaderOnly))
	assert.Equal(t, "⇓↑", arrows(followerOnly))
}

// backward returns the arrow that points the other way.
func backward(arrow rune) rune {
	for _, all := range []string{leaders, followers} {
		letters := []rune(all)
		for i, r := range letters {
			if r == arrow {
				return letters[(i+4)%len(letters)]
			}
		}
	}
	return 0
}

// TestBehindIsTheSameWhateverTheHall checks that a figure looks the same from
// behind the leader, wherever he faces in the hall.
func TestBehindIsTheSameWhateverTheHall(t *testing.T) {
	for danced := range 7 {
		var first [][]plan.Cell
		for _, faces := range []string{"LOD", "DW", "wall", "DW against LOD", "against LOD", "DC against LOD", "centre", "DC"} {
			path := trace(t, order("dance: waltz\nfaces: "+faces+"\n", "Box step", "LF closed change"))
			require.Equal(t, faces, path.Start(0)[0].Facing.String())
			drawn := plan.Dots(plan.Scene{Path: path, Danced: danced, Shown: both}, 52, 14)
			if first == nil {
				first = drawn
			}
			require.Equal(t, plan.Text(first), plan.Text(drawn), "%s, %d", faces, danced)
		}
	}
}

// where returns the first column and the line of a text in a drawing.
func where(t *testing.T, cells [][]plan.Cell, text string) (column, line int) {
	for y, l := range plan.Text(cells) {
		if before, _, ok := strings.Cut(l, text); ok {
			return len([]rune(before)), y
		}
	}
	require.Fail(t, "not drawn", text)
	return 0, 0
}

// TestScale checks that a drawing is enlarged to at most 2 cm a dot, equally across and
// down, and does not move while a figure is danced. The usual steps of the waltz go 60 cm
// forward, which is 30 dots or 7½ lines, and 45 cm to the side, which is 22½ dots or 11¼
// columns. A mark may be a cell beside its place.
func TestScale(t *testing.T) {
	path := trace(t, order(waltz, "Box step"))
	at := func(danced int, mark string) (column, line int) {
		return where(t, plan.Dots(plan.Scene{Path: path, Danced: danced, Shown: both}, 76, 30), mark)
	}
	x0, y0 := at(0, "⇑")
	x1, y1 := at(1, "⇑")
	x2, y2 := at(2, "⇑")
	assert.InDelta(t, 7.5, y0-y1, 1)
	assert.InDelta(t, 0, x1-x0, 1)
	assert.InDelta(t, 11.25, x2-x0, 1.5)
	assert.InDelta(t, y1, y2, 1)
	x, y := at(0, "LF")
	assert.InDelta(t, float64(y0)-7.5, y, 1, "where the foot goes next")
	assert.InDelta(t, x0-2, x, 1.5)
	x, y = at(1, "RF")
	assert.InDelta(t, float64(y0)-7.5, y, 1)
	assert.InDelta(t, x0+12, x, 2)
}

// dots returns the places of a partner's dots.
func dots(cells [][]plan.Cell, ink plan.Ink) (list []image.Point) {
	for y, row := range cells {
		for x, c := range row {
			if c.Ink != ink || !dotted(c) {
				continue
			}
			for i, at := range [8]image.Point{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {0, 3}, {1, 3}} {
				if c.Rune>>i&1 != 0 {
					list = append(list, at.Add(image.Pt(2*x, 4*y)))
				}
			}
		}
	}
	return list
}

// around returns the smallest rectangle that holds some dots.
func around(dots []image.Point) (box image.Rectangle) {
	for _, at := range dots {
		box = box.Union(image.Rectangle{at, at.Add(image.Pt(1, 1))})
	}
	return box
}

// TestTheFootThatBearsWeightIsFilled checks, in every size and direction, that
// there are more dots on the side of the foot with the weight.
func TestTheFootThatBearsWeightIsFilled(t *testing.T) {
	for i, faces := range []string{"LOD", "DW", "wall", "DW against LOD", "against LOD", "DC against LOD", "centre", "DC"} {
		angle := float64(i) * math.Pi / 4
		for _, free := range []string{"LF", "RF"} {
			path := trace(t, invented("dance: rumba\nfaces: "+faces+"\n", "apart, leader "+free+" free", "1 | "+free+" side, no weight | –"))
			for _, height := range []int{20, 10, 7} {
				cells := plan.Dots(plan.Scene{Path: path, Danced: 1, Shown: leaderOnly, View: plan.Above}, 2*height, height)
				feet := dots(cells, plan.LeaderInk)
				require.NotEmpty(t, feet)
				box := around(feet)
				var right, left int
				for _, at := range feet {
					dx, dy := float64(2*at.X+1-box.Min.X-box.Max.X), float64(2*at.Y+1-box.Min.Y-box.Max.Y)
					if dy*math.Cos(angle)-dx*math.Sin(angle) > 0 {
						right++
					} else {
						left++
					}
				}
				if free == "RF" {
					right, left = left, right
				}
				assert.Greater(t, right, left, "%s, %s free, %d lines", faces, free, height)
			}
		}
	}
}

// TestTheLeadersTrailIsTheDenser compares two trails along the same way.
func TestTheLeadersTrailIsTheDenser(t *testing.T) {
	path := trace(t, order("floor: 30 x 20 m\n"+waltz, "Natural turn"))
	s := plan.Scene{Path: path, Danced: 6, Shown: leaderOnly, View: plan.Above}
	leader := dots(plan.Dots(s, 76, 30), plan.LeaderInk)
	s.Shown = followerOnly
	follower := dots(plan.Dots(s, 76, 30), plan.FollowerInk)
	assert.Greater(t, len(leader), len(follower))
	assert.NotEmpty(t, follower)
	s.Danced = 0
	assert.Less(t, len(dots(plan.Dots(s, 76, 30), plan.FollowerInk)), 2, "no step, no way")
}

// TestTheEdgeOfTheFloor checks that a floor of 12 by 6 m is drawn twice as wide as it is
// deep, and the couple, who go along the line of dance, at its lower left.
func TestTheEdgeOfTheFloor(t *testing.T) {
	path := trace(t, order("floor: 12 x 6 m\ndance: waltz\nfaces: LOD\n", "Box step"))
	cells := plan.Dots(plan.Scene{Path: path, Shown: both, View: plan.Above}, 76, 30)
	edge := dots(cells, plan.RoomInk)
	box := around(edge)
	assert.InDelta(t, 2, float64(box.Dx())/float64(box.Dy()), 0.05)
	x, y := where(t, cells, "⇒")
	assert.Less(t, 2*x, box.Min.X+box.Dx()/3)
	assert.Greater(t, 4*y, box.Min.Y+2*box.Dy()/3)
	_, y = where(t, cells, "LOD →")
	assert.Equal(t, (box.Max.Y-1)/4, y, "at the wall")
}

// TestTheLineOfDance checks that it is named where couples travel, and where
// the floor is known.
func TestTheLineOfDance(t *testing.T) {
	for sheet, want := range map[string]bool{
		order(waltz, "Box step"):                                             true,
		order("dance: rumba\nfaces: wall\n", "Hockey stick"):                 false,
		order("floor: 8 x 6 m\ndance: rumba\nfaces: wall\n", "Hockey stick"): true,
	} {
		cells := plan.Dots(plan.Scene{Path: trace(t, sheet), Shown: both, View: plan.Above}, 76, 30)
		assert.Equal(t, want, strings.Contains(strings.Join(plan.Text(cells), "\n"), "LOD →"), sheet)
	}
}

// TestTheNextFoot checks that it skips a partner's pause, looks into the next
// figure, and stops at the end.
func TestTheNextFoot(t *testing.T) {
	path := trace(t, order(waltz, "Lantern step", "Box step")+
		"\n## Lantern step\n\n- starts: closed, leader LF free, follower RF free\n- ends: closed\n\n| Count | Leader | Follower |\n|---|---|---|\n"+
		"| 1 | LF side | RF side |\n| 2 | RF close | LF close |\n| 3 | – | – |\n")
	names := func(passage, danced int) string {
		cells := plan.Dots(plan.Scene{Path: path, Passage: passage, Danced: danced, Shown: both}, 76, 30)
		var found []string
		for _, name := range []string{"LF", "RF", "lf", "rf"} {
			if strings.Contains(strings.Join(plan.Text(cells), "\n"), name) {
				found = append(found, name)
			}
		}
		return strings.Join(found, " ")
	}
	assert.Equal(t, "LF rf", names(0, 0))
	assert.Equal(t, "RF lf", names(0, 1))
	assert.Equal(t, "LF rf", names(0, 2), "after the pause, in the next figure")
	assert.Equal(t, "LF rf", names(0, 3))
	assert.Equal(t, "RF lf", names(1, 1))
	assert.Equal(t, "", names(1, 6))
}

// TestASwivelIsNotANextFoot checks that it is skipped, because the foot goes nowhere.
func TestASwivelIsNotANextFoot(t *testing.T) {
	path := trace(t, invented(waltz, "apart, leader LF free", "1 | RF swivel, 1/8 R | –", "2 | LF side | –"))
	cells := plan.Dots(plan.Scene{Path: path, Shown: both}, 76, 30)
	where(t, cells, "LF")
	assert.NotContains(t, strings.Join(plan.Text(cells), "\n"), "RF")
}

// TestADrawingRemembersNothingWrong checks that a drawing draws like a new one,
// whatever it drew before.
func TestADrawingRemembersNothingWrong(t *testing.T) {
	var d plan.Drawing
	paths := []*floor.Path{trace(t, order(waltz, "Box step × 2", "Natural turn")), trace(t, order("floor: 8 x 6 m\n"+waltz, "Box step × 2", "Reverse turn"))}
	for i := range 3 * 2 * 3 {
		s := plan.Scene{Path: paths[i%2], Passage: i / 2 % 3, Danced: 1, Shown: both, View: plan.View(i / 6)}
		require.Equal(t, plan.Text(plan.Dots(s, 52, 14)), plan.Text(d.Dots(s, 52, 14)))
		s.Passage = (s.Passage + 1) % 3
		require.Equal(t, plan.Text(plan.Dots(s, 52, 14)), plan.Text(d.Dots(s, 52, 14)))
		s.Path = paths[1-i%2]
		require.Equal(t, plan.Text(plan.Dots(s, 52, 14)), plan.Text(d.Dots(s, 52, 14)))
	}
}

func TestLegend(t *testing.T) {
	assert.LessOrEqual(t, oneColumn.StringWidth(plan.Legend), 78)
}

// TestHostileSheets draws whatever a sheet may say, in any size.
func TestHostileSheets(t *testing.T) {
	cells := []string{"–", "LF forward", "RF back, 1/2 R", "large side", "LF cross behind, 7/8 L", "RF tap", "LF swivel, 3/8 R", "RF in place",
		"LF forward, pointing DW", "what?", "RF replace, in fan", "LF close, back to back", "RF small diagonally back", "LF across, apart"}
	rapid.Check(t, func(t *rapid.T) {
		var rows []string
		for i := range rapid.IntRange(1, 40).Draw(t, "rows") {
			cell := rapid.SampledFrom(cells)
			rows = append(rows, fmt.Sprintf("%d | %s | %s", i%3+1, cell.Draw(t, "leader"), cell.Draw(t, "follower")))
		}
		settings := rapid.SampledFrom([]string{"", "floor: 1 x 1 m\n", "floor: 200 x 1 m\n", "floor: 8 x 6 m\n"}).Draw(t, "floor")
		starts := rapid.SampledFrom([]string{"closed", "fan", "apart", "promenade"}).Draw(t, "starts")
		score, _ := check.Sheet("boathouse.md", []byte(invented(settings+waltz, starts, rows...)), shipped)
		path := floor.Trace(score)
		s := plan.Scene{Path: path, Shown: [2]bool{rapid.Bool().Draw(t, "leader"), rapid.Bool().Draw(t, "follower")}}
		var d plan.Drawing
		for range 5 {
			s.Danced, s.Passage = rapid.IntRange(-2, 42).Draw(t, "danced"), rapid.IntRange(-1, 2).Draw(t, "passage")
			s.View = rapid.SampledFrom([]plan.View{plan.Behind, plan.Opposite, plan.Above}).Draw(t, "view")
			width, height := rapid.IntRange(0, 120).Draw(t, "width"), rapid.IntRange(0, 120).Draw(t, "height")
			drawn := d.Dots(s, width, height)
			legible(t, s, drawn, width, height)
			require.Equal(t, plan.Dots(s, width, height), drawn, "whatever was drawn before")
		}
	})
}

// TestAnySize draws one scene in many sizes, and nothing in the smallest.
func TestAnySize(t *testing.T) {
	for _, sheet := range []string{order(waltz, "Box step"), order("floor: 8 x 6 m\n"+waltz, "Box step")} {
		path := trace(t, sheet)
		for view := range plan.View(plan.Views) {
			var d plan.Drawing
			s := plan.Scene{Path: path, Danced: 2, Shown: both, View: view}
			for n := -1; n <= 120; n++ {
				for _, size := range [][2]int{{n, n}, {n, 120 - n}, {n, 4}, {4, n}, {n, 30}, {80, n}} {
					legible(t, s, d.Dots(s, size[0], size[1]), size[0], size[1])
				}
			}
		}
	}
}

// oneColumn measures letters as terminals do that treat ambiguous ones as narrow.
var oneColumn = &runewidth.Condition{}

const leaders, followers = "⇒⇘⇓⇙⇐⇖⇑⇗", "→↘↓↙←↖↑↗"

// legible asserts what holds for every drawing.
func legible(t require.TestingT, s plan.Scene, cells [][]plan.Cell, width, height int) {
	require.Len(t, cells, max(0, height))
	var arrows, marks [4]int // by ink
	for _, row := range cells {
		require.Len(t, row, max(0, width))
		for _, c := range row {
			if oneColumn.RuneWidth(c.Rune) != 1 || c.Ink == plan.Blank && c != (plan.Cell{Rune: ' '}) {
				require.Fail(t, "no such cell", "%q %+v", c.Rune, c)
			}
			switch {
			case c.Strong:
				require.Contains(t, [4]string{plan.LeaderInk: leaders, plan.FollowerInk: followers}[c.Ink], string(c.Rune))
				arrows[c.Ink]++
			default:
				marks[c.Ink]++
			}
		}
	}
	bodies := 1
	if min(width, height) < 4 || s.Passage < 0 || s.Passage >= len(s.Path.Score.Passages) {
		bodies = 0
	}
	require.Equal(t, [4]int{plan.LeaderInk: bodies, plan.FollowerInk: bodies}, arrows, "both bodies are seen")
	for p, ink := range [2]plan.Ink{plan.LeaderInk, plan.FollowerInk} {
		if bodies == 0 || !s.Shown[p] {
			require.Zero(t, marks[ink], "who is not shown has no feet")
		}
	}
}
