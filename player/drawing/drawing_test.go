package drawing_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/internal/paths"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// The library, and what is drawn of it and of sheets.
var shipped, order, invented, trace, figures = paths.Library, paths.Order, paths.Invented, paths.Trace, paths.Figures

var both, leaderOnly, followerOnly = [2]bool{true, true}, [2]bool{true, false}, [2]bool{false, true}

const waltz = "dance: waltz\nfaces: DW\n"

// jetty is a sheet that uses every mark of a plan.
const jetty = `---
dance: quickstep
title: Jetty quickstep
faces: DW
floor: 10 x 6 m
forward step: 60 cm
side step: 40 cm
---

## Order

1. Jetty walk × 2
2. Bollard turn
   - corner: after
3. Jetty walk, steps 1–3
4. Lantern wait

## Jetty walk

- starts: closed, leader RF free, follower LF free

| Count | Leader | Follower |
|---|---|---|
| S | RF forward | LF back |
| S | LF forward, tap | RF back, tap |
| Q | LF side | RF side |
| Q | RF close | LF close |
| S | LF in place | RF in place |

## Bollard turn

- starts: closed, leader RF free, follower LF free

| Count | Leader | Follower |
|---|---|---|
| S | RF side | LF side |
| S | RF swivel, 1/4 L | LF swivel, 1/4 L |
| S | LF press | RF press |
| S | RF replace, 1/8 L | LF replace, 1/8 L |
| S | LF close | RF close |

## Lantern wait

- starts: closed, leader RF free, follower LF free

| Count | Leader | Follower |
|---|---|---|
| S | RF side | LF side |
| S | – | – |
`

// figuresDrawn holds all figures of the library, each in one of the views, in turn.
var figuresDrawn = sync.OnceValue(func() (list []struct {
	path     *floor.Path
	drawings []drawing.Drawing
}) {
	for i, path := range figures(panics{}) {
		list = append(list, struct {
			path     *floor.Path
			drawings []drawing.Drawing
		}{path, drawn(path, 0, both, plan.View(i%plan.Views))})
	}
	return list
})

// panics is for what can't fail.
type panics struct{}

func (panics) Errorf(format string, args ...any) { panic(fmt.Sprintf(format, args...)) }
func (panics) FailNow()                          { panic("failed") }

// drawn draws a passage for a page.
func drawn(path *floor.Path, passage int, shown [2]bool, view plan.View) []drawing.Drawing {
	return drawing.New(path).Figure(passage, drawing.Options{Shown: shown, Up: view.Up(path, passage, shown), Widths: []float64{90, 178}, Height: 150})
}

// numbers returns where the numbers of steps are.
func numbers(t require.TestingT, list []drawing.Drawing) (at map[int][]floor.Point) {
	at = map[int][]floor.Point{}
	for _, d := range list {
		for _, s := range d.Shapes {
			if s.Text.Bold && s.Text.Anchor == drawing.Middle {
				n, err := strconv.Atoi(s.Text.Words)
				require.NoError(t, err)
				at[n] = append(at[n], s.Text.At)
			}
		}
	}
	return at
}

// heads returns the numbers of steps that have a picture of their own.
func heads(list []drawing.Drawing) map[int]bool {
	all := map[int]bool{}
	for _, d := range list {
		for _, s := range d.Shapes {
			if n, err := strconv.Atoi(s.Text.Words); err == nil && s.Text.Bold && s.Text.Size > 3 {
				all[n] = true
			}
		}
	}
	return all
}

// feet returns how many parts of footprints there are.
func feet(list []drawing.Drawing) (n int) {
	for _, d := range list {
		for _, s := range d.Shapes {
			if s.Width == 0.35 {
				n++
			}
		}
	}
	return n
}

// TestEveryStepIsDrawn compares the numbers on the feet, or above them, with the chart.
func TestEveryStepIsDrawn(t *testing.T) {
	steps := 0
	compare := func(p *routine.Passage, list []drawing.Drawing) {
		want := map[int]int{}
		for row := p.From; row < p.To; row++ {
			for q := range p.Figure.Rows[row].Steps {
				if p.Figure.Has[q] && !p.Figure.Rows[row].Steps[q].Stands() {
					want[row+1]++
					steps++
				}
			}
		}
		got, headed := map[int]int{}, 0
		for n, at := range numbers(t, list) {
			got[n] = len(at)
		}
		for n := range heads(list) { // above small feet
			if got[n] == 0 && want[n] > 0 {
				got[n] = want[n]
				headed += want[n]
			}
		}
		assert.Equal(t, want, got, p.Name())
		assert.GreaterOrEqual(t, feet(list), headed, p.Name())
	}
	for _, f := range figuresDrawn() {
		compare(&f.path.Score.Passages[0], f.drawings)
	}
	path := trace(t, jetty)
	for i := range path.Score.Passages {
		compare(&path.Score.Passages[i], drawn(path, i, both, plan.Behind))
	}
	assert.Greater(t, steps, 1000)
}

// TestAllCanBeRead: no letter is smaller than 8 points (of 25.4/72 mm), no number is written over
// another, and nothing leaves the paper.
func TestAllCanBeRead(t *testing.T) {
	const points = 25.4 / 72
	for _, f := range figuresDrawn() {
		name := f.path.Score.Dance.Name + ", " + f.path.Score.Passages[0].Name()
		for _, d := range f.drawings {
			var at []floor.Point
			inside := func(p floor.Point, what string) {
				if p.X < 0 || p.Y < 0 || p.X > d.Size.X || p.Y > d.Size.Y {
					assert.Failf(t, "not on the paper", "%s: %s at %v of %v", name, what, p, d.Size)
				}
			}
			for _, s := range d.Shapes {
				for _, p := range s.Path.Places {
					inside(p, "a shape")
				}
				if s.Text.Words == "" {
					continue
				}
				inside(s.Text.At, s.Text.Words)
				if s.Text.Size < 8*points {
					assert.Failf(t, "too small", "%s: %s", name, s.Text.Words)
				}
				if s.Text.Bold && s.Text.Anchor == drawing.Middle {
					at = append(at, s.Text.At)
				}
			}
			for k, a := range at {
				for _, b := range at[:k] {
					if a.Distance(b) < 1.9 {
						assert.Failf(t, "one over the other", "%s: %.1f mm apart", name, a.Distance(b))
					}
				}
			}
		}
	}
}

// TestFewFiguresAreSplit, so that most are seen at a glance, and none of up to eight steps.
func TestFewFiguresAreSplit(t *testing.T) {
	all, split := 0, 0
	for _, f := range figuresDrawn() {
		require.NotEmpty(t, f.drawings)
		all++
		if len(f.drawings) > 1 {
			split++
			p := &f.path.Score.Passages[0]
			assert.Greater(t, p.To-p.From, 8, "%s, %s", f.path.Score.Dance.Name, p.Name())
		}
	}
	assert.Less(t, split, all/10)
}

// TestADrawingIsToScale: a box step goes 60 cm forward and 45 cm to the side.
func TestADrawingIsToScale(t *testing.T) {
	for _, test := range []struct {
		view           plan.View
		faces          string
		forward, right floor.Point
	}{
		{plan.Behind, "LOD", floor.Point{Y: -1}, floor.Point{X: 1}},
		{plan.Behind, "against LOD", floor.Point{Y: -1}, floor.Point{X: 1}},
		{plan.Opposite, "DW", floor.Point{Y: 1}, floor.Point{X: -1}},
		{plan.Above, "LOD", floor.Point{X: 1}, floor.Point{Y: 1}},
	} {
		list := drawn(trace(t, order(strings.Replace(waltz, "DW", test.faces, 1), "Box step")), 0, leaderOnly, test.view)
		require.Len(t, list, 1)
		at := numbers(t, list)
		near := func(want floor.Point, from, to int) {
			got := at[to][0].Minus(at[from][0]).Times(1 / list[0].Scale)
			assert.InDelta(t, 0, want.Distance(got), 0.5, "%v is not %v", got, want)
		}
		near(test.forward.Times(-60), 2, 4)
		near(test.right.Times(-45), 4, 6)
	}
}

// TestFeetAreLarge: of 12 mm at least where a figure fits a phone's width, and not much less on a page.
func TestFeetAreLarge(t *testing.T) {
	list := drawn(trace(t, order(waltz, "Natural turn")), 0, both, plan.Behind)
	require.Len(t, list, 1)
	assert.GreaterOrEqual(t, 27*list[0].Scale, 10.0)
	list = drawn(trace(t, order(waltz, "Whisk")), 0, both, plan.Behind)
	require.Len(t, list, 1)
	assert.GreaterOrEqual(t, 27*list[0].Scale, 12.0)
	assert.LessOrEqual(t, list[0].Size.X, 90.0, "a phone's width suffices")
}

// TestInksCanBeSeen: whatever means something has a contrast of 3 to 1 with white or with what
// it lies on (Web Content Accessibility Guidelines 2.2, success criterion 1.4.11).
func TestInksCanBeSeen(t *testing.T) {
	contrast := func(c drawing.Color) float64 {
		light := 0.0
		for i, part := range [...]float64{0.2126, 0.7152, 0.0722} {
			v := float64(c>>(16-8*i)&0xff) / 255
			if v <= 0.04045 {
				v /= 12.92
			} else {
				v = math.Pow((v+0.055)/1.055, 2.4)
			}
			light += part * v
		}
		return 1.05 / (light + 0.05)
	}
	inks := map[drawing.Color]bool{}
	for _, f := range figuresDrawn() {
		for _, d := range f.drawings {
			for _, s := range d.Shapes {
				if s.Ink != 0 {
					inks[s.Ink] = true
				}
			}
		}
	}
	const white = 1<<24 | 0xffffff
	require.Greater(t, len(inks), 3)
	for ink := range inks {
		if ink != white { // the edge that sets a way off from what lies below
			assert.Greater(t, contrast(ink), 3.0, "%s", ink)
		}
	}
}

// TestOnlyWhoIsShownIsDrawn: a partner who isn't shown leaves nothing.
func TestOnlyWhoIsShownIsDrawn(t *testing.T) {
	path := trace(t, jetty)
	for i := range path.Score.Passages {
		for q, shown := range [][2]bool{leaderOnly, followerOnly} {
			inks := map[drawing.Color]bool{}
			for _, d := range drawn(path, i, shown, plan.Behind) {
				for _, s := range d.Shapes {
					inks[s.Ink] = true
				}
			}
			assert.Equal(t, []bool{q == 0, q == 1}, []bool{inks[1<<24|0x0b4a8f], inks[1<<24|0xa03a00]})
		}
		assert.Empty(t, drawn(path, i, [2]bool{}, plan.Behind))
	}
}

// TestTheKeyStandsBesideTheFeet where there is room, and never on them.
func TestTheKeyStandsBesideTheFeet(t *testing.T) {
	beside, all := 0, 0
	for _, f := range figuresDrawn() {
		for _, d := range f.drawings {
			lowest := 0.0
			var scale floor.Point
			for _, s := range d.Shapes {
				if s.Text.Words == "50 cm" {
					scale = s.Text.At
				}
			}
			require.NotZero(t, scale)
			for _, s := range d.Shapes {
				if s.Width != 0.35 { // the edge of a foot
					continue
				}
				for _, at := range s.Path.Places {
					lowest = max(lowest, at.Y)
					if at.X < scale.X+8 && at.Y > scale.Y-3 {
						assert.Failf(t, "a foot on the scale", "%s: %v", f.path.Score.Passages[0].Name(), at)
					}
				}
			}
			if d.Strip { // whose steps have their own room
				continue
			}
			if all++; d.Size.Y-lowest < 14 { // millimetres, which the key would take
				beside++
			}
		}
	}
	assert.Greater(t, beside, all/2)
}

// TestSVGSaysItsSize in millimetres, and is as large inside.
func TestSVGSaysItsSize(t *testing.T) {
	for _, d := range drawn(trace(t, jetty), 1, both, plan.Behind) {
		size := func(f float64) string { return routine.Decimal(f, 2) }
		assert.True(t, strings.HasPrefix(string(d.SVG(`class="x"`)), fmt.Sprintf("<svg viewBox=\"0 0 %[1]s %[2]s\" width=\"%[1]smm\" height=\"%[2]smm\" class=\"x\">", size(d.Size.X), size(d.Size.Y))))
	}
}

// TestTheReadmeShowsADrawing as it is drawn now.
func TestTheReadmeShowsADrawing(t *testing.T) {
	list := drawn(trace(t, order(waltz, "Natural turn")), 0, both, plan.Behind)
	require.Len(t, list, 1)
	golden.File(t, "../../testdata/pictures/natural-turn.svg", string(list[0].Document()))
}

// BenchmarkFigure draws a figure of the library, one after the other.
func BenchmarkFigure(b *testing.B) {
	paths := figures(b)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		drawn(paths[i%len(paths)], 0, both, plan.Behind)
	}
}
