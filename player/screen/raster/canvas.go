package raster

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"

	"golang.org/x/image/vector"
)

// Canvas is a picture of so many cells.
type Canvas struct {
	palette    *Palette
	cols, rows int
	size       image.Point // in pixels
	pixels     []pixel
	letters    []letter
	fill       vector.Rasterizer
	mask       image.Alpha
	png        kept
}

// pixel is what has been filled there: how it looks, and what stands for it where
// colours are few.
type pixel struct {
	r, g, b uint8
	ink     Ink
}

type letter struct {
	col, row int
	r        rune
	ink, on  Ink
}

// New returns an empty canvas of so many cells; below 1 it has none.
func New(columns, rows int, p *Palette) *Canvas {
	c := &Canvas{palette: p, cols: max(columns, 0), rows: max(rows, 0)}
	grid := p.mode.Grid()
	c.size = image.Pt(c.cols*grid.X, c.rows*grid.Y)
	c.pixels = make([]pixel, c.size.X*c.size.Y)
	c.Clear()
	return c
}

// Size returns the width and the height in pixels.
func (c *Canvas) Size() (width, height int) { return c.size.X, c.size.Y }

// Palette returns what the canvas was made for.
func (c *Canvas) Palette() *Palette { return c.palette }

// Clear empties the canvas.
func (c *Canvas) Clear() {
	ground := c.palette.inks[Ground]
	for i := range c.pixels {
		c.pixels[i] = pixel{ground.R, ground.G, ground.B, Ground}
	}
	c.letters = c.letters[:0]
}

// half is the share of a pixel, of 255, that must be covered for its ink to change. A line
// one pixel wide that lies between two pixels covers just under half of each.
const half = 120

// Fill fills a shape with an ink, blending its edges. What lies outside is left out.
func (c *Canvas) Fill(s Shape, ink Ink) {
	from, to := s.Bounds()
	lo, hi := Point{0, 0}, Point{float64(c.size.X), float64(c.size.Y)}
	r := image.Rect(int(math.Floor(min(max(from.X, lo.X), hi.X))), int(math.Floor(min(max(from.Y, lo.Y), hi.Y))),
		int(math.Ceil(min(max(to.X, lo.X), hi.X))), int(math.Ceil(min(max(to.Y, lo.Y), hi.Y))))
	if r.Empty() {
		return
	}
	// Reset to the whole canvas, it would cost the whole canvas.
	c.fill.Reset(r.Dx(), r.Dy())
	c.fill.DrawOp = draw.Src
	for _, contour := range s {
		for i, p := range contour {
			x, y := float32(p.X-float64(r.Min.X)), float32(p.Y-float64(r.Min.Y))
			if i == 0 {
				c.fill.MoveTo(x, y)
			} else {
				c.fill.LineTo(x, y)
			}
		}
		c.fill.ClosePath()
	}
	if n := r.Dx() * r.Dy(); cap(c.mask.Pix) < n {
		c.mask.Pix = make([]uint8, n)
	} else {
		c.mask.Pix = c.mask.Pix[:n]
	}
	c.mask.Stride, c.mask.Rect = r.Dx(), image.Rect(0, 0, r.Dx(), r.Dy())
	c.fill.Draw(&c.mask, c.mask.Rect, image.Opaque, image.Point{})
	col := c.palette.inks[ink]
	for y := range r.Dy() {
		line := c.pixels[(r.Min.Y+y)*c.size.X+r.Min.X:][:r.Dx()]
		for x, a := range c.mask.Pix[y*r.Dx():][:r.Dx()] {
			if a > 0 {
				line[x].blend(col, ink, a)
			}
		}
	}
}

func (p *pixel) blend(col color.RGBA, ink Ink, a uint8) {
	of := func(old, new uint8) uint8 {
		return uint8((int(old)*(255-int(a)) + int(new)*int(a) + 127) / 255) // a mean of bytes
	}
	p.r, p.g, p.b = of(p.r, col.R), of(p.g, col.G), of(p.b, col.B)
	if a >= half {
		p.ink = ink
	}
}

// Letter writes a character one column wide into the cell that holds a place: in ink, on
// a cell of the ink on. If both are the same it is black or white, whichever is read
// better there. Outside the canvas it is left out.
//
// Pixels have no cells: there the letter is drawn, as high as a cell, about the place.
func (c *Canvas) Letter(at Point, r rune, ink, on Ink) {
	if m := c.palette.mode; m.Raster == Sixel || m.Raster == Kitty {
		s := Text(string(r), 0.62*float64(m.Cell.Y))
		from, to := s.Bounds()
		middle := from.Plus(to).Times(0.5)
		c.Fill(s.Move(at.X-middle.X, at.Y-middle.Y), c.readable(ink, on))
		return
	}
	grid := c.palette.mode.Grid()
	col, row := int(math.Floor(at.X/float64(grid.X))), int(math.Floor(at.Y/float64(grid.Y)))
	if col < 0 || row < 0 || col >= c.cols || row >= c.rows {
		return
	}
	for i := range c.letters {
		if l := &c.letters[i]; l.col == col && l.row == row {
			*l = letter{col, row, r, ink, on}
			return
		}
	}
	c.letters = append(c.letters, letter{col, row, r, ink, on})
}

// readable returns the ink for what is written in ink on another.
func (c *Canvas) readable(ink, on Ink) Ink {
	if ink != on {
		return ink
	}
	if (Luminance(c.palette.inks[on]) > contrast) == (Luminance(c.palette.inks[Strong]) > contrast) {
		return Ground
	}
	return Strong
}

// shown returns the number of the palette's colour for a pixel.
func (c *Canvas) shown(x, y int) uint8 {
	p := c.pixels[y*c.size.X+x]
	return c.palette.nearest()[bucket(p.r, p.g, p.b)]
}

// Image returns the picture as it would be in pixels. It is a copy.
func (c *Canvas) Image() *image.Paletted {
	img := image.NewPaletted(image.Rectangle{Max: c.size}, c.palette.colors)
	nearest := c.palette.nearest()
	for i, p := range c.pixels {
		img.Pix[i] = nearest[bucket(p.r, p.g, p.b)]
	}
	return img
}

// Inks returns for each pixel, row by row, the ink that covers at least half of it.
func (c *Canvas) Inks() []Ink {
	inks := make([]Ink, len(c.pixels))
	for i, p := range c.pixels {
		inks[i] = p.ink
	}
	return inks
}

// kept keeps the encoder's buffers from one picture to the next: they are larger than it.
type kept struct{ buffer *png.EncoderBuffer }

// Get returns the buffers, or nil at first.
func (k *kept) Get() *png.EncoderBuffer { return k.buffer }

// Put keeps the buffers.
func (k *kept) Put(b *png.EncoderBuffer) { k.buffer = b }
