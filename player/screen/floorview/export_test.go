package floorview

import (
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine/floor"
)

// At returns where a place in the hall is in the last picture drawn at a beat, in pixels.
func (v *View) At(beat, length float64, p floor.Point) raster.Point {
	return v.camera.at(beat, v.motion.At(beat, length).Swung).at(p)
}

// Scale returns how many pixels there are to a centimetre at a beat.
func (v *View) Scale(beat float64) float64 {
	return v.camera.at(beat, 0).scale
}
