// Package plan draws the floor in dots, for the terminal.
package plan

import (
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// View is the side from which a drawing looks at the couple.
type View uint8

// The views differ in what is up in a drawing. For Behind, it is where the
// leader faces as the passage begins, or the follower if she is shown alone.
// For Opposite, it is the direction at their back, as a class sees a teacher
// who faces it. For Above, it is the centre of the room, so that the first line
// of dance goes to the right, whatever the couple does.
const (
	Behind View = iota
	Opposite
	Above
)

// Views is the number of views.
const Views = 3

// Of returns the name of v, as a teacher would say it, if these partners are shown.
func (v View) Of(shown [2]bool) string {
	return [Views]string{"from behind the " + seen(shown).String(), "from opposite", "from above"}[v]
}

// seen returns the partner from behind whom, or opposite whom, one looks.
func seen(shown [2]bool) routine.Partner {
	if shown == [2]bool{routine.Follower: true} {
		return routine.Follower
	}
	return routine.Leader
}

// Scene is one moment of a routine on the floor.
type Scene struct {
	Path    *floor.Path
	Passage int
	Danced  int     // how many rows of the passage have begun
	Shown   [2]bool // whose feet are drawn
	View    View
}

// Up returns the direction in the hall that is up when a passage is drawn in which these partners are shown.
func (v View) Up(p *floor.Path, passage int, shown [2]bool) routine.Direction {
	return v.frame(p, passage, shown).up
}

// frame turns the hall so that one direction points up in a drawing.
type frame struct{ up routine.Direction }

// onPaper is the direction that points up if nothing is turned.
const onPaper = routine.Centre

// frame returns how a view turns a passage in which these partners are shown.
func (v View) frame(p *floor.Path, passage int, shown [2]bool) frame {
	if v == Above {
		return frame{onPaper}
	}
	up := p.Start(passage)[seen(shown)].Facing
	if v == Opposite {
		up = up.Turned(4)
	}
	return frame{up}
}

// place converts a place in the hall to one on the drawing, in centimetres: X
// to the right, Y down.
func (f frame) place(p floor.Point) floor.Point {
	return p.Turned(routine.Turn(onPaper) - routine.Turn(f.up))
}

// direction converts a direction in the hall to one on the drawing: routine.LOD
// is right, routine.Wall down, routine.Against left, routine.Centre up.
func (f frame) direction(d routine.Direction) routine.Direction {
	return d.Turned(routine.Turn(onPaper) - routine.Turn(f.up))
}
