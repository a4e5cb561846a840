// Package shot draws the lines of a screen as a picture, as a terminal would, so that
// screens can be looked at: with attributes, all colours, blocks and dots. Program shoot
// beside it draws files.
package shot

import (
	"image"
	"image/color"
	"image/draw"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// Cell is the size of a cell in the picture.
var Cell = image.Pt(8, 16)

// Draw draws lines that may hold the escape sequences of SGR, on black or on white. Other
// sequences draw nothing.
func Draw(text string, light bool) (*image.RGBA, error) {
	var faces [2]font.Face
	for i, ttf := range [][]byte{gomono.TTF, gomonobold.TTF} {
		f, err := opentype.Parse(ttf)
		if err != nil {
			return nil, err
		}
		if faces[i], err = opentype.NewFace(f, &opentype.FaceOptions{Size: 13, DPI: 72, Hinting: font.HintingFull}); err != nil {
			return nil, err
		}
	}
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	width := 0
	for _, l := range lines {
		width = max(width, ansi.StringWidth(l))
	}
	p := pen{img: image.NewRGBA(image.Rect(0, 0, width*Cell.X, len(lines)*Cell.Y)), faces: faces,
		plain: style{over: color.RGBA{0xe0, 0xe0, 0xe0, 255}, under: color.RGBA{0x11, 0x13, 0x16, 255}}}
	if light {
		p.plain = style{over: color.RGBA{0x18, 0x18, 0x18, 255}, under: color.RGBA{255, 255, 255, 255}}
	}
	draw.Draw(p.img, p.img.Rect, image.NewUniform(p.plain.under), image.Point{}, draw.Src)
	p.style = p.plain
	for row, l := range lines {
		p.line(row, l)
	}
	return p.img, nil
}

// style is how cells are drawn.
type style struct {
	over, under          color.RGBA
	bold, faint, reverse bool
}

type pen struct {
	style
	plain style
	img   *image.RGBA
	faces [2]font.Face
}

// line draws a line of text.
func (p *pen) line(row int, l string) {
	var state byte
	for col := 0; l != ""; {
		seq, width, n, next := ansi.DecodeSequence(l, state, nil)
		state, l = next, l[n:]
		if width > 0 {
			p.cell(image.Rectangle{image.Pt(col*Cell.X, row*Cell.Y), image.Pt((col+width)*Cell.X, (row+1)*Cell.Y)}, []rune(seq)[0])
			col += width
		} else if params, ok := strings.CutPrefix(seq, "\x1b["); ok && strings.HasSuffix(params, "m") {
			p.sgr(strings.Split(strings.TrimSuffix(params, "m"), ";"))
		}
	}
}

// cell draws a character into a cell.
func (p *pen) cell(at image.Rectangle, r rune) {
	over, under := p.over, p.under
	if p.faint {
		for _, c := range []struct {
			to   *uint8
			from uint8
		}{{&over.R, under.R}, {&over.G, under.G}, {&over.B, under.B}} {
			*c.to = uint8((int(*c.to) + int(c.from)) / 2) // a mean of bytes
		}
	}
	if p.reverse {
		over, under = under, over
	}
	fill := func(r image.Rectangle, c color.RGBA) {
		draw.Draw(p.img, r, image.NewUniform(c), image.Point{}, draw.Src)
	}
	fill(at, under)
	middle := at.Min.Y + Cell.Y/2
	switch {
	case r == ' ':
	case r == '█':
		fill(at, over)
	case r == '▀':
		fill(image.Rect(at.Min.X, at.Min.Y, at.Max.X, middle), over)
	case r == '▄':
		fill(image.Rect(at.Min.X, middle, at.Max.X, at.Max.Y), over)
	case r >= 0x2800 && r <= 0x28ff:
		// The bits go down the left column, then down the right one, but for the last two.
		for bit, dot := range []image.Point{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {0, 3}, {1, 3}} {
			if (r-0x2800)&(1<<bit) != 0 {
				from := at.Min.Add(image.Pt(1+dot.X*4, 1+dot.Y*4))
				fill(image.Rectangle{from, from.Add(image.Pt(2, 2))}, over)
			}
		}
	default:
		face := p.faces[0]
		if p.bold {
			face = p.faces[1]
		}
		d := font.Drawer{Dst: p.img, Src: image.NewUniform(over), Face: face, Dot: fixed.P(at.Min.X, at.Max.Y-4)}
		d.DrawString(string(r))
	}
}

// sgr sets attributes and colours.
//
// Source: ECMA-48, 8.3.117; 38 and 48 as xterm's control sequences have them.
func (p *pen) sgr(params []string) {
	for len(params) > 0 {
		n, _ := strconv.Atoi(params[0]) // an empty one is 0
		params = params[1:]
		switch {
		case n == 0:
			p.style = p.plain
		case n == 1:
			p.bold = true
		case n == 2:
			p.faint = true
		case n == 7:
			p.reverse = true
		case n == 22:
			p.bold, p.faint = false, false
		case n == 27:
			p.reverse = false
		case n == 39:
			p.over = p.plain.over
		case n == 49:
			p.under = p.plain.under
		case n == 38:
			p.over, params = extended(params, p.over)
		case n == 48:
			p.under, params = extended(params, p.under)
		case n >= 30 && n < 38, n >= 90 && n < 98:
			p.over = ansi16(n)
		case n >= 40 && n < 48, n >= 100 && n < 108:
			p.under = ansi16(n - 10)
		}
	}
}

// extended reads what comes after 38 or 48.
func extended(params []string, old color.RGBA) (color.RGBA, []string) {
	var v [4]int
	for i := range min(len(v), len(params)) {
		v[i], _ = strconv.Atoi(params[i]) // an unreadable one is black
	}
	switch {
	case len(params) >= 2 && v[0] == 5:
		r, g, b, _ := ansi.IndexedColor(v[1]).RGBA() // below 256
		return color.RGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), 255}, params[2:]
	case len(params) >= 4 && v[0] == 2:
		return color.RGBA{uint8(v[1]), uint8(v[2]), uint8(v[3]), 255}, params[4:] // below 256
	}
	return old, nil
}

// ansi16 returns one of the 16 colours, given its foreground's number, as xterm has them.
func ansi16(n int) color.RGBA {
	if n >= 90 {
		n -= 52 // 90 becomes 38: the bright ones follow the others
	}
	return [16]color.RGBA{{0, 0, 0, 255}, {205, 0, 0, 255}, {0, 205, 0, 255}, {205, 205, 0, 255}, {0, 0, 238, 255}, {205, 0, 205, 255}, {0, 205, 205, 255},
		{229, 229, 229, 255}, {127, 127, 127, 255}, {255, 0, 0, 255}, {0, 255, 0, 255}, {255, 255, 0, 255}, {92, 92, 255, 255}, {255, 0, 255, 255},
		{0, 255, 255, 255}, {255, 255, 255, 255}}[n-30]
}
