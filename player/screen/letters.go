package screen

import (
	"image"
	"image/color"
	"strings"

	"golang.org/x/image/draw"
	"golang.org/x/image/font/inconsolata"
)

// Letters are drawn from the bitmaps of Inconsolata, two pixels to a cell, one
// above the other: about as high as they are wide.
const letterWidth = 8 // pixels, and so columns, at scale 1

// lettering is a size of letters.
type lettering struct {
	scale       float64
	top, bottom int // the rows of the bitmaps that are drawn
}

// letteringFor gives the largest lettering in which columns letters, beside each
// other, fit into a width, and texts and feet into a height.
func letteringFor(texts []string, columns, width, height int) lettering {
	l := lettering{top: inconsolata.Bold8x16.Ascent, bottom: 0}
	for _, list := range [][]string{texts, feetLetters} {
		for _, r := range strings.Join(list, "") {
			if g, ok := glyph(r, 0, inconsolata.Bold8x16.Ascent+inconsolata.Bold8x16.Descent); ok {
				top, bottom := used(g)
				l.top, l.bottom = min(l.top, top), max(l.bottom, bottom)
			}
		}
	}
	l.scale = min(float64(2*height)/float64(l.bottom-l.top), float64(width)/float64(letterWidth*columns))
	return l
}

// used is the rows of a bitmap from the first that has a dark pixel up to, not
// including, the one after the last, counted from the bitmap's top.
func used(g *image.Alpha) (top, bottom int) {
	top = g.Rect.Dy()
	for y := range g.Rect.Dy() {
		for x := range g.Rect.Dx() {
			if dark(g.AlphaAt(g.Rect.Min.X+x, g.Rect.Min.Y+y)) {
				top, bottom = min(top, y), y+1
			}
		}
	}
	return top, bottom
}

func dark(c color.Alpha) bool { return c.A > 127 }

// width is how many columns n letters take.
func (l lettering) width(n int) int { return int(float64(n*letterWidth) * l.scale) }

// rows is how many lines of the screen the letters take.
func (l lettering) rows() int { return (l.pixels() + 1) / 2 }

func (l lettering) pixels() int { return int(float64(l.bottom-l.top)*l.scale + 0.5) }

// smallest is the scale at which the letters can still be told apart.
const smallest = 0.8

func (l lettering) readable() bool { return l.scale >= smallest }

// draw gives text as lines of half blocks, at most l.width(len(text)) columns wide.
// A letter that is not drawable is left blank.
func (l lettering) draw(text string) []string {
	letters := []rune(text)
	width, height := l.width(len(letters)), l.pixels()
	dst := image.NewAlpha(image.Rect(0, 0, width, 2*l.rows()))
	for i, r := range letters {
		src, ok := glyph(r, l.top, l.bottom)
		if !ok {
			continue
		}
		at := image.Rect(l.width(i), 0, l.width(i+1), height)
		draw.CatmullRom.Scale(dst, at, src, src.Rect, draw.Src, nil)
	}
	lines := make([]string, l.rows())
	for y := range lines {
		var b strings.Builder
		for x := range width {
			upper, lower := dark(dst.AlphaAt(x, 2*y)), dark(dst.AlphaAt(x, 2*y+1))
			switch {
			case upper && lower:
				b.WriteRune('█')
			case upper:
				b.WriteRune('▀')
			case lower:
				b.WriteRune('▄')
			default:
				b.WriteByte(' ')
			}
		}
		lines[y] = strings.TrimRight(b.String(), " ")
	}
	return lines
}

// drawable reports whether the font has every letter of a text.
func drawable(text string) bool {
	for _, r := range text {
		if _, ok := glyph(r, 0, 1); !ok {
			return false
		}
	}
	return true
}

// glyph is the bitmap of a letter between two rows.
func glyph(r rune, top, bottom int) (*image.Alpha, bool) {
	face := inconsolata.Bold8x16
	mask, ok := face.Mask.(*image.Alpha)
	if !ok {
		return nil, false
	}
	for _, g := range face.Ranges {
		if r < g.Low || r >= g.High {
			continue
		}
		y := (int(r-g.Low) + g.Offset) * (face.Ascent + face.Descent)
		x := -face.Left
		part, ok := mask.SubImage(image.Rect(x, y+top, x+letterWidth, y+bottom)).(*image.Alpha)
		return part, ok
	}
	return nil, false
}
