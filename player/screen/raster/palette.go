package raster

import (
	"image"
	"image/color"
	"math"
	"slices"
	"strconv"
	"sync"
)

// Raster is a way to show pixels.
type Raster uint8

// The rasters. Blocks and Dots are characters that any terminal may have.
const (
	Blocks Raster = iota // ▀, 1 by 2 pixels to a cell
	Dots                 // ⠿, 2 by 4
	Sixel                // real pixels, in the way of DEC's VT340
	Kitty                // real pixels, by the graphics protocol of kitty
)

// Depth is how many colours there are.
type Depth uint8

// The depths.
const (
	Mono Depth = iota
	Sixteen
	Indexed // 256
	True
)

// Mode is what a terminal shows. The zero Mode is half blocks without colours.
type Mode struct {
	Raster Raster
	Depth  Depth
	Cell   image.Point // the size of a cell in pixels, for Sixel and Kitty

	Ground color.RGBA // the background; without alpha it is not known, and painted
	Light  bool       // it is painted light, not dark
}

// Grid returns how many pixels a cell has.
func (m Mode) Grid() image.Point {
	switch m.Raster {
	case Dots:
		return image.Pt(2, 4)
	case Sixel, Kitty:
		return image.Pt(max(m.Cell.X, 1), max(m.Cell.Y, 1))
	}
	return image.Pt(1, 2)
}

// Ink is a colour by what it stands for.
type Ink uint8

// The inks. The dim ones stand half way to the ground, the tints at a quarter.
// Without colours the dim ones are faint, and tints are not seen, so a picture
// must not need them.
const (
	Ground Ink = iota // the background; what is filled with it is cut out
	Strong            // white on dark, black on light
	Leader
	LeaderDim
	LeaderTint
	Follower
	FollowerDim
	FollowerTint
	Room
	RoomDim
	Accent // turns
	AccentTint
	inks
)

// Dim returns the next dimmer ink, or i if there is none.
func (i Ink) Dim() Ink {
	switch i {
	case Leader, LeaderDim, Follower, FollowerDim, Room:
		return i + 1
	case Strong:
		return Room
	case Accent:
		return AccentTint
	}
	return i
}

// Tint returns the tint of i, or the ground if there is none.
func (i Ink) Tint() Ink {
	switch i {
	case Leader, Follower:
		return i + 2
	case Accent:
		return AccentTint
	}
	return Ground
}

// share is how much of an ink is its base's colour; the rest is the ground's.
func (i Ink) share() (base Ink, share float64) {
	switch i {
	case LeaderDim, FollowerDim, RoomDim:
		return i - 1, 0.5
	case LeaderTint, FollowerTint:
		return i - 2, 0.25
	case AccentTint:
		return Accent, 0.25
	}
	return i, 1
}

// dark and light are the colours of the inks that are not mixed, on a dark and on a light
// ground: blue and orange, which also people see as two who can't tell red from green.
var (
	dark = [inks]color.RGBA{Ground: {0x11, 0x13, 0x16, 255}, Strong: {0xf0, 0xf0, 0xee, 255}, Leader: {0x5c, 0xb0, 0xff, 255},
		Follower: {0xff, 0x96, 0x4f, 255}, Room: {0x98, 0x9e, 0xa8, 255}, Accent: {0xff, 0xd7, 0x5a, 255}}
	light = [inks]color.RGBA{Ground: {0xff, 0xff, 0xff, 255}, Strong: {0x11, 0x13, 0x16, 255}, Leader: {0x00, 0x5f, 0xc8, 255},
		Follower: {0xc2, 0x4a, 0x00, 255}, Room: {0x6a, 0x70, 0x78, 255}, Accent: {0xa8, 0x74, 0x00, 255}}

	// Of the 16 colours, as SGR foregrounds: 90 to 97 are the bright ones.
	dark16 = [inks]int{Ground: 30, Strong: 97, Leader: 96, LeaderDim: 36, Follower: 93, FollowerDim: 33, Room: 37, RoomDim: 90,
		Accent: 95, AccentTint: 90}
	light16 = [inks]int{Ground: 97, Strong: 30, Leader: 34, LeaderDim: 94, Follower: 31, FollowerDim: 91, Room: 90, RoomDim: 37,
		Accent: 35, AccentTint: 37}
)

// Palette holds the colours in which a terminal shows the inks. It does not change.
type Palette struct {
	mode    Mode
	painted bool             // the ground is painted, as nobody knows what it is
	inks    [inks]color.RGBA // what the inks look like
	colors  color.Palette    // all that a pixel can be shown in; the ground first
	nearest func() []uint8   // the number of a color, by a pixel's five highest bits of red, green and blue
	over    []string         // the SGR of each color as foreground, and as background
	under   []string
	sgr16   [inks]int
}

// NewPalette returns the palette for a terminal.
func NewPalette(m Mode) *Palette {
	unknown := m.Ground.A == 0
	p := &Palette{mode: m, painted: unknown && m.Depth != Mono, sgr16: dark16}
	isLight := m.Light
	if !unknown {
		isLight = Luminance(m.Ground) > contrast
	}
	base := dark
	if isLight {
		base, p.sgr16 = light, light16
	}
	if !unknown {
		base[Ground] = m.Ground
	}
	if m.Depth == Mono {
		for _, i := range []Ink{Leader, Follower, Room, Accent} {
			base[i] = base[Strong]
		}
	}
	for i := range inks {
		b, share := i.share()
		p.inks[i] = mix(base[Ground], base[b], share)
	}
	p.colors = color.Palette{p.inks[Ground]}
	for i, steps := range [inks]int{Strong: 4, Leader: 8, Follower: 8, Room: 2, Accent: 8} {
		for n := range steps {
			p.colors = append(p.colors, mix(base[Ground], base[i], float64(n+1)/float64(steps)))
		}
	}
	for _, i := range []Ink{Leader, Follower, Accent, AccentTint} {
		p.colors = append(p.colors, mix(p.inks[i], p.inks[Strong], 0.5))
	}
	p.nearest = sync.OnceValue(p.findNearest) // when something is drawn first, as it takes some milliseconds
	p.over, p.under = make([]string, len(p.colors)), make([]string, len(p.colors))
	for i, c := range p.colors {
		c := c.(color.RGBA) // as put in above
		rgb := "2;" + strconv.Itoa(int(c.R)) + ";" + strconv.Itoa(int(c.G)) + ";" + strconv.Itoa(int(c.B))
		if m.Depth == Indexed {
			rgb = "5;" + strconv.Itoa(indexed(c))
		}
		p.over[i], p.under[i] = "38;"+rgb, "48;"+rgb
	}
	if !p.painted {
		p.under[0] = ""
	}
	return p
}

// findNearest finds for each bucket of pixels the color that is nearest, as color.Palette.Index does, which
// takes ten times as long.
func (p *Palette) findNearest() []uint8 {
	colors := make([]color.RGBA, len(p.colors)) // there are 35
	for i, c := range p.colors {
		colors[i] = c.(color.RGBA) // as put in by NewPalette
	}
	squared := func(a, b uint8) uint32 {
		d := 0x101 * (int32(a) - int32(b))
		return uint32(d*d) >> 2
	}
	nearest := make([]uint8, 1<<15)
	for i := range nearest {
		r, g, b := uint8(i>>10<<3|4), uint8(i>>5<<3&0xf8|4), uint8(i<<3&0xf8|4)
		least := uint32(math.MaxUint32)
		for n, c := range colors {
			if far := squared(r, c.R) + squared(g, c.G) + squared(b, c.B); far < least {
				nearest[i], least = uint8(n), far
			}
		}
	}
	for i, c := range slices.Backward(colors) { // what is filled whole is shown as it is
		nearest[bucket(c.R, c.G, c.B)] = uint8(i)
	}
	return nearest
}

// Mode returns what the palette is for.
func (p *Palette) Mode() Mode { return p.mode }

// Color returns how an ink looks where there are enough colours.
func (p *Palette) Color(i Ink) color.RGBA { return p.inks[i] }

// Text returns the escape sequence for text in an ink, or "" if it is written as the
// terminal writes. SGR 0 ends it.
func (p *Palette) Text(i Ink) string {
	var attr string
	switch p.mode.Depth {
	case Mono:
		if _, share := i.share(); share < 1 {
			attr = "2"
		}
	case Sixteen:
		attr = strconv.Itoa(p.sgr16[i])
	default:
		attr = p.over[p.number(i)]
	}
	if i == Strong || i == Ground || attr == "" {
		return ""
	}
	return "\x1b[" + attr + "m"
}

// number returns the number of the color that is nearest to an ink.
func (p *Palette) number(i Ink) uint8 {
	c := p.inks[i]
	return p.nearest()[bucket(c.R, c.G, c.B)]
}

func bucket(r, g, b uint8) int { return int(r)>>3<<10 | int(g)>>3<<5 | int(b)>>3 }

func mix(a, b color.RGBA, share float64) color.RGBA {
	of := func(a, b uint8) uint8 { return uint8(math.Round(float64(a) + (float64(b)-float64(a))*share)) }
	return color.RGBA{of(a.R, b.R), of(a.G, b.G), of(a.B, b.B), 255}
}

// contrast is the luminance on which black and white are read equally well: where
// (1 + 0.05)/(L + 0.05) = (L + 0.05)/0.05, the contrast ratios of WCAG 2.
const contrast = 0.179

// Luminance returns how light a colour is, 0 for black and 1 for white.
//
// Source: Web Content Accessibility Guidelines 2.1, "relative luminance".
func Luminance(c color.RGBA) float64 {
	linear := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.03928 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// indexed returns the nearest of the 256 colours, leaving out the first 16, which people
// choose for themselves.
//
// Source: XTerm's 256colres.pl: a cube of six steps a side from 16, 24 greys from 232.
func indexed(c color.RGBA) int {
	step := func(v uint8) (i, level int) {
		if v < 48 {
			return 0, 0
		}
		i = max(1, (int(v)-35)/40)
		return i, 55 + 40*i
	}
	r, red := step(c.R)
	g, green := step(c.G)
	b, blue := step(c.B)
	grey := min(max((int(c.R)+int(c.G)+int(c.B)-24+15)/30, 0), 23)
	far := func(r, g, b int) int {
		dr, dg, db := int(c.R)-r, int(c.G)-g, int(c.B)-b
		return 2*dr*dr + 4*dg*dg + 3*db*db
	}
	if v := 8 + 10*grey; far(v, v, v) < far(red, green, blue) {
		return 232 + grey
	}
	return 16 + 36*r + 6*g + b
}
