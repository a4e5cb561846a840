package term

import (
	"image"
	"image/color"
	"strings"

	"golang.org/x/image/draw"
	"golang.org/x/image/font/inconsolata"
)

// Letters are drawn from the bitmaps of Inconsolata. A cell shows two pixels, one
// above the other, which makes them about square.
const letterWidth = 8 // pixels, and so columns, at scale 1

// capitals are letters as high as any capital. Every lettering has room for
// them, so that texts in small letters are drawn in the same size as others.
const capitals = "LRF"

// Lettering is a size of large letters.
type Lettering struct {
	scale       float64
	top, bottom int // the rows of the bitmaps that are drawn
}

// LetteringFor returns the largest lettering in which that many letters beside
// each other fit into width columns, and texts into height lines.
func LetteringFor(texts []string, letters, width, height int) Lettering {
	l := Lettering{top: inconsolata.Bold8x16.Ascent, bottom: 0}
	for _, r := range capitals + strings.Join(texts, "") {
		if g, ok := glyph(r, 0, inconsolata.Bold8x16.Ascent+inconsolata.Bold8x16.Descent); ok {
			top, bottom := used(g)
			l.top, l.bottom = min(l.top, top), max(l.bottom, bottom)
		}
	}
	l.scale = min(float64(2*height)/float64(l.bottom-l.top), float64(width)/float64(letterWidth*letters))
	return l
}

// used returns the rows [top, bottom) of a bitmap that have dark pixels, counted
// from its top.
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

// Width returns how many columns n letters take.
func (l Lettering) Width(n int) int { return int(float64(n*letterWidth) * l.scale) }

// Rows returns how many lines the letters take.
func (l Lettering) Rows() int { return (l.pixels() + 1) / 2 }

func (l Lettering) pixels() int { return int(float64(l.bottom-l.top)*l.scale + 0.5) }

// leastScale is the scale at which the letters can still be told apart.
const leastScale = 0.8

// Readable reports whether the letters are large enough to be told apart.
func (l Lettering) Readable() bool { return l.scale >= leastScale }

// Draw returns text as l.Rows lines of half blocks, at most as wide as l.Width says.
// A letter that the font lacks is left blank.
func (l Lettering) Draw(text string) []string {
	letters := []rune(text)
	width, height := l.Width(len(letters)), l.pixels()
	dst := image.NewAlpha(image.Rect(0, 0, width, 2*l.Rows()))
	for i, r := range letters {
		src, ok := glyph(r, l.top, l.bottom)
		if !ok {
			continue
		}
		at := image.Rect(l.Width(i), 0, l.Width(i+1), height)
		draw.CatmullRom.Scale(dst, at, src, src.Rect, draw.Src, nil)
	}
	lines := make([]string, l.Rows())
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

// Drawable reports whether the font has every letter of text.
func Drawable(text string) bool {
	for _, r := range text {
		if _, ok := glyph(r, 0, 1); !ok {
			return false
		}
	}
	return true
}

// glyph returns the bitmap of a letter between two rows.
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
