package floorview

import (
	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Measures in centimetres. Feet are drawn a little larger than they are.
const (
	footScale  = 1.2
	footLength = 27.0
	footWidth  = 9.5
	ball       = 5.0 // forward from the middle of the foot
	toe        = 8.5
	shoulders  = 42.0 // across a body
	chest      = 20.0 // front to back
)

// bodies are seen from above, the leader's angular and the follower's round.
var bodies = [2]raster.Shape{
	routine.Leader: raster.Polygon(
		raster.Point{X: -chest / 2, Y: -0.4 * shoulders}, raster.Point{X: -0.3 * chest, Y: -shoulders / 2}, raster.Point{X: 0.3 * chest, Y: -shoulders / 2},
		raster.Point{X: chest / 2, Y: -0.4 * shoulders}, raster.Point{X: chest / 2, Y: 0.4 * shoulders}, raster.Point{X: 0.3 * chest, Y: shoulders / 2},
		raster.Point{X: -0.3 * chest, Y: shoulders / 2}, raster.Point{X: -chest / 2, Y: 0.4 * shoulders}),
	routine.Follower: raster.Ellipse(raster.Point{}, 0.46*chest, 0.46*shoulders),
}

// shoe is a sole as shapes of the right foot.
type shoe struct{ whole, ball, heel raster.Shape }

// shoes are the soles by partner and foot.
var shoes = func() (list [2][2]shoe) {
	for _, q := range routine.Partners() {
		ballEdge, heelEdge := drawing.Sole(q)
		for f, side := range [2]float64{-1, 1} {
			s := &list[q][f]
			s.ball, s.heel = outline(ballEdge, side), outline(heelEdge, side)
			s.whole = raster.Shape{s.ball[0], s.heel[0]}
		}
	}
	return list
}()

func outline(edge []floor.Point, side float64) raster.Shape {
	corners := make([]raster.Point, len(edge))
	for i, c := range edge {
		corners[i] = raster.Point{X: c.X, Y: c.Y * side}
	}
	return raster.Polygon(corners...)
}
