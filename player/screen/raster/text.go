package raster

import (
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// bold is the font of large letters.
var bold = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(gobold.TTF)
	if err != nil {
		panic(err) // it is part of the program
	}
	return f
})

// Text returns text as a shape: its capitals are so many pixels high and stand on y =
// height, its first letter begins at x = 0. What the font does not have is left out.
func Text(text string, height float64) Shape {
	const em = 1000
	var s Shape
	var b sfnt.Buffer
	f := bold()
	size := fixed.I(em)
	m, err := f.Metrics(&b, size, font.HintingNone)
	if err != nil || m.CapHeight == 0 {
		return nil
	}
	k := height / float64(m.CapHeight)
	x := 0.0
	for _, r := range text {
		g, err := f.GlyphIndex(&b, r)
		if err != nil || g == 0 {
			continue
		}
		segments, err := f.LoadGlyph(&b, g, size, nil)
		if err != nil {
			continue
		}
		at := func(p fixed.Point26_6) Point { return Point{x + float64(p.X)*k, height + float64(p.Y)*k} }
		for _, seg := range segments {
			switch a := seg.Args; seg.Op {
			case sfnt.SegmentOpMoveTo:
				s = append(s, []Point{at(a[0])})
			case sfnt.SegmentOpLineTo:
				s[len(s)-1] = append(s[len(s)-1], at(a[0]))
			case sfnt.SegmentOpQuadTo: // a TrueType font has no others
				c := s[len(s)-1]
				s[len(s)-1] = append(c, Bend(c[len(c)-1], at(a[0]), at(a[1]))[1:]...)
			}
		}
		if advance, err := f.GlyphAdvance(&b, g, size, font.HintingNone); err == nil {
			x += float64(advance) * k
		}
	}
	return s
}
