package pictogram_test

import (
	"image/color"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/screen/pictogram"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine"
)

// cells are steps that cover what a sign can tell.
var cells = []string{
	"RF forward", "RF diagonally forward", "RF side", "RF diagonally back", "RF back", "LF side", "RF forward and slightly side", "RF side and slightly forward", "RF side and slightly back", "RF back and slightly side",
	"RF large forward", "RF small forward", "RF slightly forward", "RF small side", "RF slightly side", "RF small diagonally forward", "RF side, part weight", "RF side, tap", "RF forward, tap", "RF diagonally forward, tap",
	"RF close", "LF close", "RF close, part weight", "RF close, tap", "RF half close", "RF half close, tap", "RF replace", "RF replace, part weight", "RF in place", "RF in place, tap",
	"RF cross in front", "LF cross in front", "RF cross behind", "LF cross behind", "RF cross behind, part weight", "RF cross in front, tap", "RF forward and across", "LF forward and across", "RF back and across", "RF across, tap",
	"RF flick", "LF flick", "RF swivel, 1/4 R", "RF swivel, 1/4 L", "RF swivel", "–", "RF in place, part weight", "RF diagonally back, part weight", "RF small back", "RF large side",
}

var turns = []routine.Turn{1, 2, 3, 4, 6, 8, 11, -1, -2, -3, -4, -6, -8, -11}

// step reads a cell of a chart.
func step(t testing.TB, cell string) *routine.Step {
	t.Helper()
	sheet, _ := routine.ReadChapter("signs.md", []byte("---\ndance: cha-cha\n---\n\n## Lantern step\n\n| Count | Leader | Follower |\n|:-:|---|---|\n| 2 | "+cell+" | – |\n"))
	require.Len(t, sheet.Figures, 1, cell)
	require.Len(t, sheet.Figures[0].Rows, 1, cell)
	s := sheet.Figures[0].Rows[0].Steps[routine.Leader]
	require.Equal(t, cell, s.String())
	return &s
}

var (
	dark  = color.RGBA{0x11, 0x13, 0x16, 255}
	light = color.RGBA{255, 255, 255, 255}
)

// TestSigns draws all signs, ten in a row, to be looked at.
func TestSigns(t *testing.T) {
	for _, mode := range []struct {
		name string
		m    raster.Mode
		side float64
	}{
		{"dark", raster.Mode{Depth: raster.True, Ground: dark}, 14},
		{"light", raster.Mode{Depth: raster.True, Ground: light}, 14},
		{"16 colours, dark", raster.Mode{Depth: raster.Sixteen, Ground: dark}, 14},
		{"16 colours, light", raster.Mode{Depth: raster.Sixteen, Ground: light}, 14},
		{"mono", raster.Mode{}, 14},
		{"dots", raster.Mode{Raster: raster.Dots}, 20},
		{"large", raster.Mode{Depth: raster.True, Ground: dark}, 28},
		{"small", raster.Mode{Depth: raster.True, Ground: dark}, 10},
		{"small mono", raster.Mode{}, 10},
	} {
		t.Run(mode.name, func(t *testing.T) {
			grid := mode.m.Grid()
			p := raster.NewPalette(mode.m)
			var b strings.Builder
			row := func(n int, draw func(c *raster.Canvas, i int, at raster.Point)) {
				cols, rows := int(mode.side)/grid.X+2, int(mode.side)/grid.Y+1
				c := raster.New(10*cols, rows, p)
				for i := range n {
					draw(c, i, raster.Point{X: float64(i*cols*grid.X + grid.X)})
				}
				b.WriteString(strings.Join(c.Rows(), "\n") + "\n")
			}
			for i := 0; i < len(cells); i += 10 {
				row(min(10, len(cells)-i), func(c *raster.Canvas, j int, at raster.Point) {
					ink := raster.Leader
					if i == 20 {
						ink = raster.Follower
					}
					pictogram.Way(c, step(t, cells[i+j]), at, mode.side, ink)
				})
			}
			row(10, func(c *raster.Canvas, i int, at raster.Point) { // what comes next, dimmed
				pictogram.Way(c, step(t, cells[i*4]), at, mode.side, raster.LeaderDim)
			})
			for i := 0; i < len(turns); i += 7 {
				row(9, func(c *raster.Canvas, j int, at raster.Point) {
					if j >= 7 {
						pictogram.Foot(c, []routine.Foot{routine.LF, routine.RF}[j-7], at, mode.side, raster.Leader)
						return
					}
					pictogram.Turn(c, turns[i+j], at, mode.side)
					_, h := c.Size()
					pictogram.Amount(c, turns[i+j], raster.Point{X: at.X + mode.side/2, Y: float64(h) - 1}, raster.Accent)
				})
			}
			golden.Equal(t, b.String())
		})
	}
}

// meaning is what a sign has to tell of a step, besides its foot and its turn.
type meaning struct {
	way, slightly routine.Way
	size          routine.Size
	weight        routine.Weight
	special       string
}

func meaningOf(s *routine.Step) meaning {
	m := meaning{s.Way, s.Slightly, s.Size, s.Weight, ""}
	if s.Way == routine.CrossInFront || s.Way == routine.CrossBehind {
		m.size = routine.Usual // the feet meet, whatever the size
	}
	switch {
	case s.Way == routine.Forward && s.Slightly == routine.Across:
		m.way, m.slightly = routine.Across, routine.NoWay // a foot crosses to the front unless back is said
	case s.Stands():
		m = meaning{special: "stands"}
	case s.Pivots():
		m.special = "swivel"
	case s.Way == routine.NoWay:
		m.special = s.Actions[0]
	}
	return m
}

// distinct returns a step of the right foot for each meaning, from the library and from
// the cells above, by its words.
func distinct(t testing.TB) map[string]*routine.Step {
	t.Helper()
	seen, steps := map[meaning]bool{}, map[string]*routine.Step{}
	add := func(s routine.Step) {
		if m := meaningOf(&s); !seen[m] {
			seen[m] = true
			if !s.Stands() {
				s.Foot = routine.RF
			}
			s.Turn, s.Note = 0, ""
			steps[s.String()] = &s
		}
	}
	l := library.Open()
	for _, dance := range l.Dances() {
		chapter, ok := l.Chapter(dance)
		require.True(t, ok)
		for _, fig := range chapter.Figures {
			for _, row := range fig.Rows {
				add(row.Steps[0])
				add(row.Steps[1])
			}
		}
	}
	for _, cell := range cells {
		add(*step(t, cell))
	}
	return steps
}

// bitmap returns what is seen of a picture, pixel by pixel: with colours each as it looks,
// without any only whether it is set, as a terminal may not have faint text.
func bitmap(c *raster.Canvas) []uint8 {
	if c.Palette().Mode().Depth != raster.Mono {
		img := c.Image()
		seen := make([]uint8, len(img.Pix))
		for i := range seen {
			seen[i] = uint8(255 * math.Sqrt(raster.Luminance(img.Palette[img.Pix[i]].(color.RGBA)))) // about as light as it seems
		}
		return seen
	}
	seen := make([]uint8, 0)
	for _, ink := range c.Inks() {
		if ink == raster.Ground {
			seen = append(seen, 0)
		} else {
			seen = append(seen, 255)
		}
	}
	return seen
}

// distance counts the pixels in which two bitmaps plainly differ.
func distance(a, b []uint8) (n int) {
	for i := range a {
		if max(a[i], b[i])-min(a[i], b[i]) > 40 {
			n++
		}
	}
	return n
}

// least returns which two of the bitmaps are nearest to each other, and how near.
func least(bitmaps map[string][]uint8) (n int, which string) {
	names := slices.Sorted(maps.Keys(bitmaps))
	n = math.MaxInt
	for i, a := range names {
		for _, b := range names[:i] {
			if d := distance(bitmaps[a], bitmaps[b]); d < n {
				n, which = d, b+" / "+a
			}
		}
	}
	return n, which
}

// TestEachSignIsItsOwn compares the bitmaps of all signs of a foot, and of all turns, with each other.
// Signs that mean different things differ by a minimum number of pixels.
func TestEachSignIsItsOwn(t *testing.T) {
	steps := distinct(t)
	require.Greater(t, len(steps), 45)
	for _, test := range []struct {
		name        string
		m           raster.Mode
		side        float64
		signs, turn int
	}{
		{"dark", raster.Mode{Depth: raster.True, Ground: dark}, pictogram.Size, 9, 16},
		{"light", raster.Mode{Depth: raster.True, Ground: light}, pictogram.Size, 9, 14},
		{"mono", raster.Mode{}, pictogram.Size, 9, 8},
		{"small and dark", raster.Mode{Depth: raster.True, Ground: dark}, pictogram.Small, 2, 8},
		{"small and mono", raster.Mode{}, pictogram.Small, 2, 3},
	} {
		t.Run(test.name, func(t *testing.T) {
			p := raster.NewPalette(test.m)
			draw := func(f func(c *raster.Canvas)) []uint8 {
				c := raster.New(int(test.side), int(test.side)/2, p)
				empty := bitmap(c)
				f(c)
				assert.Positive(t, distance(empty, bitmap(c)))
				return bitmap(c)
			}
			signs, slices := map[string][]uint8{}, map[string][]uint8{}
			for name, s := range steps {
				signs[name] = draw(func(c *raster.Canvas) { pictogram.Way(c, s, raster.Point{}, test.side, raster.Leader) })
			}
			for turn := routine.Turn(-11); turn <= 11; turn++ {
				if turn != 0 {
					slices[turn.String()] = draw(func(c *raster.Canvas) { pictogram.Turn(c, turn, raster.Point{}, test.side) })
				}
			}
			n, which := least(signs)
			assert.Equal(t, test.signs, n, which)
			n, which = least(slices)
			assert.Equal(t, test.turn, n, which)
		})
	}
}
