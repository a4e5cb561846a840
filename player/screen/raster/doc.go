// Package raster draws filled shapes and shows them as a terminal can: in half
// blocks, in dots, or in pixels.
//
// A [Mode] says what the terminal shows, a [Palette] holds the colours for it. A
// [Canvas] is so many columns and rows of the terminal; it is drawn on in pixels,
// which are square in half blocks (1 by 2 to a cell) and in dots (2 by 4). Inks are
// named by what they stand for, so that a picture can be drawn once and shown in
// true colour, in 256 or 16 colours and without any.
//
//	c := raster.New(14, 7, raster.NewPalette(mode))
//	c.Fill(raster.Disc(raster.Point{X: 7, Y: 7}, 5), raster.Leader)
//	rows := c.Rows()
//
// The package knows nothing of dancing and asks the terminal nothing.
package raster
