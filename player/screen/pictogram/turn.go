package pictogram

import (
	"math"

	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine"
)

// Turn draws how far the body turns into a square, like [Way]: a slice of a disc that
// begins where the body faced, at the top, with a hand where it ends. Where colours are few
// the end of the slice is the hand. From a whole turn on it is a ring, open at its end,
// about the hand. No turn draws nothing.
func Turn(c *raster.Canvas, t routine.Turn, at raster.Point, side float64) {
	if t == 0 {
		return
	}
	b := brush{c: c, at: at, n: side, ink: raster.Accent}
	mid := raster.Point{X: side / 2, Y: side / 2}
	radius := math.Floor(side/2) - b.thin()
	disc := raster.Disc(mid, radius)
	whole := max(t, -t) >= 8
	switch {
	case !b.flat():
		b.fill(disc, raster.AccentTint)
	case !whole:
		b.fill(disc.Outline(b.thin()), raster.Accent)
	}
	a := float64(t) * math.Pi / 4
	slice := a
	if whole {
		slice = math.Copysign(7*math.Pi/4, a)
	}
	b.fill(raster.Slice(mid, radius, slice), raster.Accent)
	if whole {
		hole := raster.AccentTint
		if b.flat() {
			hole = raster.Ground
		}
		b.fill(raster.Disc(mid, math.Round(radius*0.6)), hole)
	}
	if whole || !b.flat() { // else it is the end of the slice
		b.fill(raster.Rectangle(raster.Point{X: mid.X - b.thin(), Y: 0}, raster.Point{X: mid.X + b.thin(), Y: mid.Y}).Rotate(mid, a), raster.Strong)
	}
}

// Amount writes a turn in letters, as charts do, about a place.
func Amount(c *raster.Canvas, t routine.Turn, at raster.Point, ink raster.Ink) {
	text := []rune(t.String())
	w := c.Palette().Mode().Grid().X
	for i, r := range text {
		c.Letter(raster.Point{X: at.X + (float64(i)-float64(len(text)-1)/2)*float64(w), Y: at.Y}, r, ink, raster.Ground)
	}
}
