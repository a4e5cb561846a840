package floorview_test

import (
	"fmt"
	"image"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/screen/floorview"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

// shipped is the library of all tests: its chapters are read once.
var shipped = library.Open()

// order returns a sheet that dances figures of the library. Settings are whole lines.
func order(settings string, figures ...string) string {
	return "---\n" + settings + "---\n\n## Order\n\n1. " + strings.Join(figures, "\n1. ") + "\n"
}

var (
	naturalTurn = order("dance: waltz\nfaces: DW\nfloor: 14 x 9 m\n", "Natural turn", "RF closed change", "Reverse turn", "Whisk", "Chassé from promenade")
	hockeyStick = order("dance: rumba\nfaces: wall\n", "Hockey stick", "New York to the left side")
	newYork     = order("dance: cha-cha\nfaces: wall\n", "New York to the left side", "New York to the right side")
	promenade   = order("dance: tango\nfaces: DW\n", "Walk", "Progressive link", "Closed promenade")
)

var sheets = map[string]string{"natural": naturalTurn, "hockey": hockeyStick, "newyork": newYork, "tango": promenade}

// danced returns the motion of a sheet, and the length of a beat in seconds.
func danced(t require.TestingT, sheet string) (*motion.Motion, float64) {
	score, found := check.Sheet("boathouse.md", []byte(sheet), shipped)
	require.NotEmpty(t, score.Passages, "%v", found)
	return motion.New(floor.Trace(score)), 60 / score.Tempo.Float()
}

var both, leaderOnly, followerOnly = [2]bool{true, true}, [2]bool{true, false}, [2]bool{false, true}

// figures returns the motion of every figure in the library, danced alone.
func figures(t testing.TB) (list []*motion.Motion) {
	for _, dance := range shipped.Dances() {
		c, ok := shipped.Chapter(dance)
		require.True(t, ok)
		for _, fig := range c.Figures {
			list = append(list, motion.New(floor.Trace(fig.Alone(c.Dance, c.Dance.Stride, fig.Starts.Positions))))
		}
	}
	require.Greater(t, len(list), 300)
	return list
}

func blocks(columns, rows int) *raster.Canvas {
	return raster.New(columns, rows, raster.NewPalette(raster.Mode{Depth: raster.True, Ground: dark}))
}

// TestNothingLeavesThePicture follows every foot through every figure.
func TestNothingLeavesThePicture(t *testing.T) {
	const margin = 1.0 // pixel
	seen := 0
	c := blocks(34, 18)
	w, h := c.Size()
	for _, m := range figures(t) {
		for from := range floorview.Hall {
			v := floorview.New(m, from, both)
			v.Draw(c, 0, 0.5)
			first, _ := m.Step(1)
			last, _ := m.Step(m.Steps())
			for beat := first - 1; beat < last+1; beat += 0.1 {
				s := m.At(beat, 0.5)
				for _, d := range s.Couple {
					for _, f := range d.Feet {
						at := v.At(beat, 0.5, f.At)
						if at.X < -margin || at.Y < -margin || at.X > float64(w)+margin || at.Y > float64(h)+margin {
							require.Fail(t, "a foot is outside", "%s, beat %.1f, %v", m.Path().Score.Title, beat, at)
						}
						seen++
					}
				}
			}
		}
	}
	assert.Greater(t, seen, 10000)
}

// TestFeetAreLarge measures the feet on every step of every figure, at half blocks.
func TestFeetAreLarge(t *testing.T) {
	const foot = 27 * 1.2 // cm, as drawn
	for _, test := range []struct {
		columns, rows int
		shown         [2]bool
		usual, tenth  float64 // at least so many pixels
	}{
		{34, 18, both, 9, 6.5},
		{50, 16, both, 9, 6},
		{50, 16, leaderOnly, 13, 8},
		{110, 36, both, 21, 14},
	} {
		var lengths []float64
		c := blocks(test.columns, test.rows)
		for _, m := range figures(t) {
			v := floorview.New(m, floorview.BehindLeader, test.shown)
			v.Draw(c, 0, 0.5)
			for i := 1; i <= m.Steps(); i++ {
				beat, _ := m.Step(i)
				lengths = append(lengths, foot*v.Scale(beat))
			}
		}
		slices.Sort(lengths)
		usual, tenth := lengths[len(lengths)/2], lengths[len(lengths)/10]
		t.Logf("%dx%d, %v: a foot is %.1f pixels long; the worst tenth: %.1f", test.columns, test.rows, test.shown, usual, tenth)
		assert.GreaterOrEqual(t, usual, test.usual)
		assert.GreaterOrEqual(t, tenth, test.tenth)
	}
}

// TestTheCameraDoesNotJump looks at one place in the hall a hundred times a beat.
func TestTheCameraDoesNotJump(t *testing.T) {
	for name, sheet := range sheets {
		m, length := danced(t, sheet)
		for from := range floorview.Hall {
			v := floorview.New(m, from, both)
			v.Draw(blocks(50, 16), 0, length)
			was := v.At(-2, length, m.At(-2, length).Couple[0].Body.At)
			for beat := -2.0; beat < 20; beat += 0.01 {
				body := m.At(beat, length).Couple[0].Body.At
				now := v.At(beat, length, body)
				by := now.Minus(was)
				require.Less(t, by.X*by.X+by.Y*by.Y, 4.0, "%s, %s, beat %.2f", name, from, beat)
				was = now
			}
		}
	}
}

// TestALoopIsSeenWithoutASeam compares where feet and bodies are seen at both ends of a loop.
func TestALoopIsSeenWithoutASeam(t *testing.T) {
	score, _ := check.Sheet("boathouse.md", []byte(naturalTurn), shipped)
	m := motion.New(floor.Trace(score))
	for i := range score.Passages {
		p := &score.Passages[i]
		loop := m.Looped(p.Start, p.End, false)
		for from := range floorview.Hall {
			v := floorview.New(loop, from, both)
			v.Draw(blocks(34, 18), 0, 0.7)
			start, end := p.Start.Float(), p.End.Float()-1e-9
			one, other := loop.At(start, 0.7), loop.At(end, 0.7)
			for q := range one.Couple {
				places := func(d *motion.Dancer) []floor.Point {
					return []floor.Point{d.Body.At, d.Feet[0].At, d.Feet[1].At, d.Body.At.Plus(motion.Toward(d.Body.Angle).Times(20))}
				}
				there := places(&other.Couple[q])
				for k, here := range places(&one.Couple[q]) {
					by := v.At(start, 0.7, here).Minus(v.At(end, 0.7, there[k]))
					assert.Less(t, by.X*by.X+by.Y*by.Y, 1e-6, "%s, %s, %d", p.Figure.Name, from, k)
				}
			}
		}
	}
}

// differing returns which part of what is drawn in two pictures differs.
func differing(a, b []raster.Ink) float64 {
	drawn, off := 0, 0
	for i := range a {
		if feet(a[i]) || feet(b[i]) {
			drawn++
			if a[i] != b[i] {
				off++
			}
		}
	}
	return float64(off) / float64(max(drawn, 1))
}

// feet reports whether an ink is one of those of the feet and bodies. The ways that fade and
// the dots of the floor have others in a small picture.
func feet(i raster.Ink) bool { return i >= raster.Leader && i <= raster.FollowerTint }

// TestOppositeIsTheOtherWayUp turns the picture from opposite upside down.
func TestOppositeIsTheOtherWayUp(t *testing.T) {
	for name, sheet := range sheets {
		m, length := danced(t, sheet)
		shot := func(from floorview.From) []raster.Ink {
			c := blocks(110, 36)
			floorview.New(m, from, both).Draw(c, 2.5, length)
			return c.Inks()
		}
		behind, opposite := shot(floorview.BehindLeader), shot(floorview.Opposite)
		slices.Reverse(opposite)
		assert.Less(t, differing(behind, opposite), 0.12, name)
	}
}

// modes are all kinds of terminals.
func modes() (list []raster.Mode) {
	for _, depth := range []raster.Depth{raster.Mono, raster.Sixteen, raster.Indexed, raster.True} {
		list = append(list, raster.Mode{Depth: depth}, raster.Mode{Raster: raster.Dots, Depth: depth})
	}
	for _, r := range []raster.Raster{raster.Sixel, raster.Kitty} {
		list = append(list, raster.Mode{Raster: r, Depth: raster.True, Cell: image.Pt(8, 16)})
	}
	return list
}

// TestAnySizeAndMode draws everything everywhere.
func TestAnySizeAndMode(t *testing.T) {
	m, length := danced(t, naturalTurn)
	for _, mode := range modes() {
		palette := raster.NewPalette(mode)
		for _, size := range []image.Point{{0, 0}, {1, 1}, {3, 2}, {10, 40}, {40, 10}, {34, 18}, {90, 3}} {
			for from := range floorview.From(floorview.Views) {
				for _, shown := range [][2]bool{both, leaderOnly, followerOnly, {}} {
					c := raster.New(size.X, size.Y, palette)
					floorview.New(m, from, shown).Draw(c, 3.4, length)
					rows := c.Rows()
					require.Len(t, rows, size.Y)
					if size.X >= 34 && size.Y >= 10 && shown != [2]bool{} {
						drawn := slices.ContainsFunc(c.Inks(), func(i raster.Ink) bool { return i != raster.Ground && i != raster.RoomDim })
						require.True(t, drawn, "%v %v %v %v", mode, size, from, shown)
					}
				}
			}
		}
	}
}

var escapes = regexp.MustCompile("\x1b\\[[0-9;]*m")

// letters returns the letters and digits in a picture.
func letters(c *raster.Canvas) string {
	var b strings.Builder
	for _, row := range c.Rows() {
		for _, r := range escapes.ReplaceAllString(row, "") {
			if r > ' ' && r < 0x80 {
				b.WriteRune(r)
			}
		}
	}
	got := []rune(b.String())
	slices.Sort(got)
	return string(got)
}

// TestWhatIsWritten checks letters and numbers, also where only they tell the partners
// apart.
func TestWhatIsWritten(t *testing.T) {
	m, length := danced(t, hockeyStick)
	for _, test := range []struct {
		depth raster.Depth
		shown [2]bool
		beat  float64
		want  string
	}{
		{raster.True, both, 3, "44LLRR"}, // fourth step
		{raster.Mono, both, 3, "44LRlr"},
		{raster.Sixteen, both, 3, "44LRlr"},
		{raster.Mono, leaderOnly, 3, "4LR"},
		{raster.Mono, followerOnly, 3, "4lr"},
		{raster.Mono, [2]bool{}, 3, ""},
		{raster.Mono, leaderOnly, -9, "1LR"},
	} {
		c := raster.New(110, 36, raster.NewPalette(raster.Mode{Raster: raster.Dots, Depth: test.depth}))
		floorview.New(m, floorview.BehindLeader, test.shown).Draw(c, test.beat, length)
		assert.Equal(t, test.want, letters(c), fmt.Sprint(test))
	}
}

// TestWeightIsSeen looks at the balls of the leader's feet: that of the foot with the weight
// is filled. Without colours it does not take faint dots to tell.
func TestWeightIsSeen(t *testing.T) {
	m, length := danced(t, hockeyStick)
	colours := raster.Mode{Depth: raster.True, Ground: dark}
	for _, test := range []struct {
		mode raster.Mode
		rows int
		free raster.Ink
	}{{colours, 36, raster.LeaderTint}, {colours, 18, raster.LeaderDim}, {raster.Mode{Raster: raster.Dots}, 18, raster.Ground}} {
		for i := 1; i <= 6; i++ {
			beat, s := m.Step(i)
			c := raster.New(2*test.rows, test.rows, raster.NewPalette(test.mode))
			v := floorview.New(m, floorview.BehindLeader, leaderOnly)
			v.Draw(c, beat, length)
			w, _ := c.Size()
			inks := c.Inks()
			for _, f := range s.Couple[routine.Leader].Feet {
				ball := f.At.Plus(motion.Toward(f.Angle).Times(4))
				at := v.At(beat, length, ball)
				want := test.free
				if f.Weight > 0.9 {
					want = raster.Leader
				}
				assert.Equal(t, want, inks[int(at.Y)*w+int(at.X)], "step %d, %d rows", i, test.rows)
			}
		}
	}
}

// TestTheHallStaysPut checks that only the couple moves in the hall.
func TestTheHallStaysPut(t *testing.T) {
	m, length := danced(t, naturalTurn)
	v := floorview.New(m, floorview.Hall, both)
	shot := func(beat float64) []raster.Ink {
		c := blocks(110, 36)
		v.Draw(c, beat, length)
		return c.Inks()
	}
	a, b := shot(3.1), shot(4.4)
	walls := 0
	for i := range a {
		if a[i] == raster.Room {
			walls++
			assert.Contains(t, []raster.Ink{raster.Room, raster.Ground, raster.Leader, raster.Follower}, b[i])
		}
	}
	assert.Greater(t, walls, 300)
	assert.NotEqual(t, a, b)
}

// TestTheHallSaysWhatItShows looks for each figure's number, for the line of dance, and for
// the corner of a sheet that takes one.
func TestTheHallSaysWhatItShows(t *testing.T) {
	m, length := danced(t, strings.Replace(naturalTurn, "1. Whisk", "   - corner: after\n1. Whisk", 1))
	c := blocks(110, 36)
	floorview.New(m, floorview.Hall, both).Draw(c, 0, length)
	text := letters(c)
	for _, r := range "12345" {
		assert.Contains(t, text, string(r))
	}
	for _, r := range "lineofdance" {
		assert.Contains(t, text, string(r))
	}
	assert.Contains(t, c.Inks(), raster.Accent)
	plain, length := danced(t, naturalTurn)
	c = blocks(110, 36)
	floorview.New(plain, floorview.Hall, both).Draw(c, 0, length)
	assert.NotContains(t, c.Inks(), raster.Accent)
}
