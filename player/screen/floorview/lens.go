package floorview

import (
	"math"

	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine/floor"
)

// lens turns places in the hall into pixels.
type lens struct {
	middle floor.Point // in the middle of the picture
	up     float64     // the angle that points up
	scale  float64     // pixels a centimetre
	width  float64     // in pixels
	height float64
}

// angle converts an angle in the hall, in eighths, to one in the picture: clockwise from
// the right, in radians.
func (l lens) angle(eighths float64) float64 { return (eighths-l.up)*math.Pi/4 - math.Pi/2 }

// way converts a way in the hall.
func (l lens) way(p floor.Point) raster.Point {
	return raster.Point{X: p.X * l.scale, Y: p.Y * l.scale}.Rotated(l.angle(0))
}

// at converts a place in the hall.
func (l lens) at(p floor.Point) raster.Point {
	return l.way(p.Minus(l.middle)).Plus(raster.Point{X: l.width / 2, Y: l.height / 2})
}
