package drawing

import (
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// How feet and bodies are drawn where they begin and end.
var (
	before = Look{Fill: white, Ink: grey, Width: 0.25, Dash: 0.8}
	begun  = Look{Ink: grey, Width: 0.2, Dash: 0.8}
	ended  = Look{Fill: pale, Ink: grey, Width: 0.25}
)

// The space that the parts of a frame take, in millimetres.
const (
	panelEdge = 3.0
	panelHead = 11.0
	panelFoot = 8.0
)

// frame draws a frame, with a name and what is said below it.
func (s *sheet) frame(b box, name, facts string) {
	s.path(Look{Ink: light, Width: 0.2}, rectangle(grown(b, -0.15)))
	inner := b.Max.X - b.Min.X - 2*panelEdge
	s.write(b.Min.Plus(floor.Point{X: panelEdge, Y: 5.5}), nameLetters.within(inner), name)
	s.write(b.Min.Plus(floor.Point{X: panelEdge, Y: 9.5}), factLetters.within(inner), facts)
}

// scaleBar draws a bar, and above it what it measures.
func (s *sheet) scaleBar(at floor.Point, length float64, measures string) {
	end := at.Plus(floor.Point{X: length})
	up := floor.Point{Y: -1.5}
	s.path(Look{Ink: black, Width: 0.3}, line(at.Plus(up), at, end, end.Plus(up)))
	s.write(at.Plus(floor.Point{Y: -2.6}), factLetters, measures)
}

// compass names the sides of the hall: where a direction in it lies on paper is what on says. Its
// arrow is the line of dance or, if the dance doesn't travel, points to the wall.
func (s *sheet) compass(at floor.Point, travels bool, on func(routine.Direction) routine.Direction) {
	side := func(d routine.Direction, words string, arrow bool) {
		way := toward(on(d))
		anchor := Middle
		if way.X > 0.1 {
			anchor = Begin
		} else if way.X < -0.1 {
			anchor = End
		}
		if arrow {
			s.path(Look{Ink: black, Width: 0.4}, line(at.Minus(way.Times(2.5)), at.Plus(way.Times(1.5))))
			s.tip(Look{Fill: black}, at.Plus(way.Times(3)), way)
		}
		s.write(at.Plus(way.Times(3.6)).Plus(floor.Point{X: way.X * 0.5, Y: 1 + 1.2*way.Y}), lettering{size: small, anchor: anchor}, words)
	}
	side(routine.Wall, "wall", !travels)
	if travels {
		side(routine.Centre, "centre", false)
		side(routine.LOD, "LOD", true)
	}
}
