package raster_test

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/player/screen/internal/shot"
	"dance.example/slowquick/player/screen/raster"
	_ "dance.example/slowquick/testdata/thorough"
)

// black is the ground on which package shot draws.
var black = color.RGBA{0x11, 0x13, 0x16, 255}

var allInks = []raster.Ink{raster.Ground, raster.Strong, raster.Leader, raster.LeaderDim, raster.LeaderTint, raster.Follower, raster.FollowerDim,
	raster.FollowerTint, raster.Room, raster.RoomDim, raster.Accent, raster.AccentTint}

// modes are all modes, with the ground known and not.
func modes() []raster.Mode {
	var all []raster.Mode
	for _, r := range []raster.Raster{raster.Blocks, raster.Dots, raster.Sixel, raster.Kitty} {
		for _, d := range []raster.Depth{raster.Mono, raster.Sixteen, raster.Indexed, raster.True} {
			for _, ground := range []color.RGBA{{}, black, {255, 255, 255, 255}} {
				all = append(all, raster.Mode{Raster: r, Depth: d, Cell: image.Pt(7, 15), Ground: ground})
			}
		}
	}
	return all
}

// scribble draws shapes of all kinds, some of them partly outside.
func scribble(t *rapid.T, c *raster.Canvas) {
	w, h := c.Size()
	at := rapid.Custom(func(t *rapid.T) raster.Point {
		return raster.Point{X: rapid.Float64Range(-0.2, 1.2).Draw(t, "x") * float64(w), Y: rapid.Float64Range(-0.2, 1.2).Draw(t, "y") * float64(h)}
	})
	for range rapid.IntRange(0, 12).Draw(t, "shapes") {
		p, size := at.Draw(t, "place"), rapid.Float64Range(0, 12).Draw(t, "size")
		var s raster.Shape
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			s = raster.Disc(p, size)
		case 1:
			s = raster.Line(size/4, p, at.Draw(t, "via"), at.Draw(t, "end"))
		case 2:
			s = raster.Rectangle(p, at.Draw(t, "end")).Rotate(p, size).Outline(1)
		case 3:
			s = raster.Slice(p, size, rapid.Float64Range(-9, 9).Draw(t, "angle"))
		case 4:
			s = raster.Text("Rg2", size).Move(p.X, p.Y)
		}
		c.Fill(s, rapid.SampledFrom(allInks).Draw(t, "ink"))
	}
	for range rapid.IntRange(0, 3).Draw(t, "letters") {
		c.Letter(at.Draw(t, "place"), 'L', rapid.SampledFrom(allInks).Draw(t, "ink"), rapid.SampledFrom(allInks).Draw(t, "on"))
	}
}

// TestRows: in every mode each row is as wide as the canvas and leaves no attribute.
func TestRows(t *testing.T) {
	for _, m := range modes() {
		p := raster.NewPalette(m)
		rapid.Check(t, func(t *rapid.T) {
			cols, rows := rapid.IntRange(1, 20).Draw(t, "columns"), rapid.IntRange(0, 8).Draw(t, "rows")
			c := raster.New(cols, rows, p)
			scribble(t, c)
			lines := c.Rows()
			require.Len(t, lines, rows)
			for _, l := range lines {
				if m.Raster == raster.Sixel || m.Raster == raster.Kitty {
					require.Equal(t, fmt.Sprintf("\x1b[%dC", cols), l)
					continue
				}
				require.Equal(t, cols, ansi.StringWidth(l), "%q", l)
				if strings.Contains(l, "\x1b") {
					require.Regexp(t, `\x1b\[(0|49)?m[^\x1b]*$`, l)
				}
			}
		})
	}
}

// TestBlocksShowThePicture: read back from the terminal, the blocks have the colours of
// the pixels.
func TestBlocksShowThePicture(t *testing.T) {
	for _, m := range []raster.Mode{{Depth: raster.True}, {Depth: raster.True, Light: true}, {Depth: raster.True, Ground: black}} {
		p := raster.NewPalette(m)
		rapid.Check(t, func(t *rapid.T) {
			c := raster.New(12, 6, p)
			w, h := c.Size()
			for range 6 {
				c.Fill(raster.Disc(raster.Point{X: rapid.Float64Range(0, float64(w)).Draw(t, "x"), Y: rapid.Float64Range(0, float64(h)).Draw(t, "y")},
					rapid.Float64Range(0, 6).Draw(t, "r")), rapid.SampledFrom(allInks).Draw(t, "ink"))
			}
			seen, err := shot.Draw(strings.Join(c.Rows(), "\n"), false)
			require.NoError(t, err)
			want := c.Image()
			for y := range h {
				for x := range w {
					require.Equal(t, want.At(x, y), seen.At(x*shot.Cell.X+3, y*shot.Cell.Y/2+3), "%d %d", x, y)
				}
			}
		})
	}
}

// TestFewColours: with 16 colours and with none a pixel shows the ink that covers half of
// it, and the inks of the partners differ by more than colour where there is none.
func TestFewColours(t *testing.T) {
	for _, test := range []struct {
		ink     raster.Ink
		mono    string
		sixteen string
		dots    string
	}{
		{raster.Strong, "█▄ ", "\x1b[97m█▄ \x1b[m", "⣿⣤⠀"},
		{raster.Leader, "█▄ ", "\x1b[96m█▄ \x1b[m", "⣿⣤⠀"},
		{raster.LeaderDim, "\x1b[2m█▄\x1b[0m ", "\x1b[36m█▄ \x1b[m", "⣿⣤⠀"},
		{raster.LeaderTint, "   ", "   ", "⠀⠀⠀"},
		{raster.Accent, "█▄ ", "\x1b[95m█▄ \x1b[m", "⣿⣤⠀"},
	} {
		draw := func(m raster.Mode) string {
			c := raster.New(3, 1, raster.NewPalette(m))
			w, h := c.Size()
			cell := float64(w) / 3
			c.Fill(raster.Rectangle(raster.Point{}, raster.Point{X: cell, Y: float64(h)}), test.ink)
			c.Fill(raster.Rectangle(raster.Point{X: cell, Y: float64(h) / 2}, raster.Point{X: 2 * cell, Y: float64(h)}), test.ink)
			return c.Rows()[0]
		}
		assert.Equal(t, test.mono, draw(raster.Mode{}), "%d", test.ink)
		assert.Equal(t, test.sixteen, draw(raster.Mode{Depth: raster.Sixteen, Ground: black}), "%d", test.ink)
		assert.Equal(t, strings.ReplaceAll(test.dots, "⠀", " "), ansi.Strip(draw(raster.Mode{Raster: raster.Dots})), "%d", test.ink)
	}
}

// TestLetters: a letter stands in its cell, light on dark or dark on light, and reversed
// where there are no colours.
func TestLetters(t *testing.T) {
	draw := func(m raster.Mode, ink, on raster.Ink) string {
		c := raster.New(3, 1, raster.NewPalette(m))
		w, h := c.Size()
		c.Letter(raster.Point{X: float64(w) / 2, Y: float64(h) / 2}, 'L', ink, on)
		c.Letter(raster.Point{X: float64(w) + 1}, 'X', ink, on) // outside
		return c.Rows()[0]
	}
	assert.Equal(t, " \x1b[7mL\x1b[0m ", draw(raster.Mode{}, raster.Leader, raster.Leader))
	assert.Equal(t, " \x1b[1mL\x1b[0m ", draw(raster.Mode{}, raster.Leader, raster.Ground))
	assert.Equal(t, " \x1b[1;38;2;17;19;22;48;2;92;176;255mL\x1b[0m ", draw(raster.Mode{Depth: raster.True, Ground: black}, raster.Leader, raster.Leader))
	assert.Equal(t, " \x1b[1;97;44mL\x1b[0m ", draw(raster.Mode{Depth: raster.Sixteen, Ground: color.RGBA{255, 255, 255, 255}}, raster.Leader, raster.Leader))
	assert.Equal(t, " \x1b[1;38;2;152;158;168mL\x1b[0m ", draw(raster.Mode{Depth: raster.True, Ground: black}, raster.Room, raster.Ground))
}

// TestShapes: areas are what geometry says, so nothing is filled twice or left out.
func TestShapes(t *testing.T) {
	at := raster.Point{X: 20, Y: 20}
	for _, test := range []struct {
		name  string
		shape raster.Shape
		want  float64 // pixels
	}{
		{"disc", raster.Disc(at, 10), math.Pi * 100},
		{"ellipse", raster.Ellipse(at, 10, 5), math.Pi * 50},
		{"counter-clockwise polygon", raster.Polygon(raster.Point{X: 10, Y: 10}, raster.Point{X: 10, Y: 20}, raster.Point{X: 20, Y: 20}), 50},
		{"quarter left", raster.Slice(at, 10, -math.Pi/2), math.Pi * 25},
		{"more than once round", raster.Slice(at, 10, 20), math.Pi * 100},
		{"ring", raster.Disc(at, 10).Without(raster.Disc(at, 5)), math.Pi * 75},
		{"mirrored ring", raster.Disc(at, 10).Without(raster.Disc(at, 5)).Move(-20, 0).Scale(-1, 1).Move(20, 0), math.Pi * 75},
		{"outline", raster.Disc(at, 10).Outline(2), math.Pi * 36},
		{"bent line", raster.Line(2, raster.Point{X: 5, Y: 5}, raster.Point{X: 25, Y: 5}, raster.Point{X: 25, Y: 25}), 80},
		{"line there and back", raster.Line(2, raster.Point{X: 5, Y: 5}, raster.Point{X: 25, Y: 5}, raster.Point{X: 5, Y: 5}), 40},
		{"outline of what is smaller", raster.Disc(at, 3).Outline(4), math.Pi * 9},
		{"outline of a ring", raster.Disc(at, 10).Without(raster.Disc(at, 5)).Outline(1), math.Pi * (19 + 11)},
		{"line of one place", raster.Line(2, at, at), 0},
		{"grown ring", raster.Disc(at, 10).Without(raster.Disc(at, 5)).Grow(1), math.Pi * (121 - 16)},
		{"nothing", nil, 0},
	} {
		c := raster.New(40, 20, raster.NewPalette(raster.Mode{Depth: raster.True, Ground: black}))
		c.Fill(test.shape, raster.Strong)
		sum := 0.0
		img := c.Image()
		for i := range img.Pix {
			r, _, _, _ := img.At(i%40, i/40).RGBA()
			sum += (float64(r>>8) - 0x11) / (0xf0 - 0x11)
		}
		assert.InDelta(t, test.want, sum, 6, test.name)
	}
}

// TestContrast: letters and partners stand out from any ground, whether it is the terminal's or painted.
func TestContrast(t *testing.T) {
	unknown := color.RGBA{}
	for _, m := range []raster.Mode{{Ground: black}, {Ground: color.RGBA{0, 0, 0, 255}}, {Ground: color.RGBA{255, 255, 255, 255}},
		{Ground: color.RGBA{0xfd, 0xf6, 0xe3, 255}}, {Ground: color.RGBA{0x00, 0x2b, 0x36, 255}}, {}, {Light: true}, {Ground: black, Light: true}} {
		m.Depth = raster.True
		p := raster.NewPalette(m)
		ground := p.Color(raster.Ground)
		if m.Ground != unknown {
			assert.Equal(t, m.Ground, ground)
		} else {
			assert.Equal(t, m.Light, raster.Luminance(ground) > 0.5, "%v", ground)
		}
		for _, i := range []raster.Ink{raster.Strong, raster.Leader, raster.Follower, raster.Room, raster.Accent} {
			a, b := raster.Luminance(p.Color(i)), raster.Luminance(ground)
			// WCAG 2.1, 1.4.11: graphical objects need 3 to 1.
			assert.GreaterOrEqual(t, (max(a, b)+0.05)/(min(a, b)+0.05), 3.0, "%d on %v", i, ground)
		}
	}
}

// TestPixels: read back, sixels and the PNG of kitty are the picture.
func TestPixels(t *testing.T) {
	sixel := raster.NewPalette(raster.Mode{Raster: raster.Sixel, Depth: raster.True, Cell: image.Pt(7, 15)})
	kitty := raster.NewPalette(raster.Mode{Raster: raster.Kitty, Depth: raster.True, Cell: image.Pt(7, 15)})
	rapid.Check(t, func(t *rapid.T) {
		cols, rows, n := rapid.IntRange(1, 9).Draw(t, "columns"), rapid.IntRange(1, 5).Draw(t, "rows"), rapid.IntRange(0, 3).Draw(t, "n")
		c := raster.New(cols, rows, sixel)
		scribble(t, c)
		body, ok := strings.CutPrefix(c.Picture(3, 4, n), "\x1b7\x1b[5;4H")
		require.True(t, ok)
		body, ok = strings.CutSuffix(body, "\x1b8")
		require.True(t, ok)
		require.Equal(t, c.Image().Pix, unsixel(t, body))

		c = raster.New(cols, rows, kitty)
		scribble(t, c)
		require.Equal(t, c.Image().Pix, unkitty(t, c.Picture(3, 4, n), cols, rows, n))
	})
	assert.Empty(t, raster.New(3, 3, raster.NewPalette(raster.Mode{})).Picture(0, 0, 0))
	assert.Empty(t, raster.Mode{Raster: raster.Sixel}.Gone())
	assert.Equal(t, "\x1b_Ga=d,d=I,q=2,i=7311\x1b\\\x1b_Ga=d,d=I,q=2,i=7312\x1b\\", raster.Mode{Raster: raster.Kitty}.Gone())
}

// unsixel returns the pixels of a picture in sixels, as numbers of colours.
func unsixel(t *rapid.T, s string) []uint8 {
	m := regexp.MustCompile(`^\x1bP0;1q"1;1;(\d+);(\d+)((?:#\d+;2;\d+;\d+;\d+)+)([^;]*)\x1b\\$`).FindStringSubmatch(s)
	require.NotNil(t, m, "%q", s)
	w, err := strconv.Atoi(m[1])
	require.NoError(t, err)
	h, err := strconv.Atoi(m[2])
	require.NoError(t, err)
	pix := bytes.Repeat([]byte{255}, w*h)
	x, top, ink, repeat := 0, 0, 0, 1
	for _, token := range regexp.MustCompile(`#\d+|!\d+|.`).FindAllString(m[4], -1) {
		n, _ := strconv.Atoi(token[1:])
		switch {
		case token[0] == '#':
			ink = n
		case token[0] == '!':
			repeat = n
		case token == "$":
			x = 0
		case token == "-":
			x, top = 0, top+6
		default:
			for ; repeat > 0; repeat, x = repeat-1, x+1 {
				for bit := range 6 {
					if (token[0]-'?')&(1<<bit) != 0 {
						pix[(top+bit)*w+x] = uint8(ink)
					}
				}
			}
			repeat = 1
		}
	}
	return pix
}

// unkitty returns the pixels of a picture for kitty.
func unkitty(t *rapid.T, s string, cols, rows, n int) []uint8 {
	ids := [2]string{"7311", "7312"}
	parts := regexp.MustCompile(`\x1b_G([^;\x1b]*)(?:;([^\x1b]*))?\x1b\\`).FindAllStringSubmatch(s, -1)
	require.GreaterOrEqual(t, len(parts), 2)
	last := parts[len(parts)-1]
	require.Equal(t, "a=d,d=I,q=2,i="+ids[(n+1)%2], last[1])
	var data string
	for i, p := range parts[:len(parts)-1] {
		more := "m=1"
		if i == len(parts)-2 {
			more = "m=0"
		}
		want := more
		if i == 0 {
			want = fmt.Sprintf("a=T,f=100,i=%s,p=1,q=2,C=1,c=%d,r=%d,%s", ids[n%2], cols, rows, more)
		}
		require.Equal(t, want, p[1])
		require.LessOrEqual(t, len(p[2]), 4096)
		data += p[2]
	}
	file, err := base64.StdEncoding.DecodeString(data)
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(file))
	require.NoError(t, err)
	require.IsType(t, &image.Paletted{}, img)
	return img.(*image.Paletted).Pix
}

// couple draws about as much as the plan of a couple has: two bodies, four feet with
// halos, two ways, two arms.
func couple(c *raster.Canvas, phase float64) {
	w, h := c.Size()
	unit := float64(min(w, h)) / 10
	mid := raster.Point{X: float64(w) / 2, Y: float64(h) / 2}
	foot := raster.Ellipse(raster.Point{}, unit*1.2, unit*0.45)
	for who, ink := range []raster.Ink{raster.Leader, raster.Follower} {
		turn := phase + float64(who)*math.Pi
		place := func(x, y float64) raster.Point {
			return raster.Point{X: x * unit, Y: y * unit}.Rotated(turn).Plus(mid)
		}
		c.Fill(raster.Ellipse(raster.Point{}, unit, unit*2).Rotate(raster.Point{}, turn).Move(place(1.5, 0).X, place(1.5, 0).Y), ink.Tint())
		c.Fill(raster.Line(unit/4, raster.Bend(place(1.5, 1), place(4, 2), place(3, 3))...), ink.Dim())
		c.Fill(raster.Line(unit/4, place(1.5, -1), place(-1, -2)), ink.Dim())
		for i, y := range []float64{-0.8, 0.9} {
			at := place(2-float64(i), y)
			for _, part := range []struct {
				k   float64
				ink raster.Ink
			}{{1.2, raster.Ground}, {1, ink}} {
				c.Fill(foot.Scale(part.k, part.k).Rotate(raster.Point{}, turn).Move(at.X, at.Y), part.ink)
			}
			c.Fill(raster.Disc(place(1-float64(i), y), unit/4), raster.Strong)
			c.Letter(at, 'L', ink, ink)
		}
	}
}

func BenchmarkPicture(b *testing.B) {
	for _, size := range []struct {
		name       string
		cols, rows int
		m          raster.Mode
	}{
		{"blocks true 110x36", 110, 36, raster.Mode{Depth: raster.True, Ground: black}},
		{"blocks 256 110x36", 110, 36, raster.Mode{Depth: raster.Indexed, Ground: black}},
		{"blocks 16 110x36", 110, 36, raster.Mode{Depth: raster.Sixteen, Ground: black}},
		{"blocks mono 110x36", 110, 36, raster.Mode{}},
		{"dots true 110x36", 110, 36, raster.Mode{Raster: raster.Dots, Depth: raster.True, Ground: black}},
		{"blocks true 34x18", 34, 18, raster.Mode{Depth: raster.True, Ground: black}},
		{"sixel 400x256", 50, 16, raster.Mode{Raster: raster.Sixel, Depth: raster.True, Cell: image.Pt(8, 16), Ground: black}},
		{"kitty 400x256", 50, 16, raster.Mode{Raster: raster.Kitty, Depth: raster.True, Cell: image.Pt(8, 16), Ground: black}},
		{"sixel 880x576", 110, 36, raster.Mode{Raster: raster.Sixel, Depth: raster.True, Cell: image.Pt(8, 16), Ground: black}},
		{"kitty 880x576", 110, 36, raster.Mode{Raster: raster.Kitty, Depth: raster.True, Cell: image.Pt(8, 16), Ground: black}},
	} {
		b.Run(size.name, func(b *testing.B) {
			c := raster.New(size.cols, size.rows, raster.NewPalette(size.m))
			written, n := 0, 0
			for b.Loop() {
				c.Clear()
				couple(c, float64(n)/30)
				for _, row := range c.Rows() {
					written += len(row)
				}
				written += len(c.Picture(0, 0, n))
				n++
			}
			b.ReportMetric(float64(written)/float64(n), "B/picture")
		})
	}
}
