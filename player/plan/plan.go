// Package plan draws the floor: in dots for a terminal, and as SVG for paper.
package plan

import (
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// View is where one looks from.
type View uint8

// The views. What is up in a drawing: for Behind, where the leader faces as the
// figure begins, or the follower if she is shown alone; for Opposite, where that
// back is, as a class sees a teacher who faces it; for Above, the centre of the
// room, so that the first line of dance goes to the right, whatever the couple does.
const (
	Behind View = iota
	Opposite
	Above
)

// Views is how many there are.
const Views = 3

// Of names v as a teacher does, where some partners are shown.
func (v View) Of(shown [2]bool) string {
	return [Views]string{"from behind the " + seen(shown).String(), "from opposite", "from above"}[v]
}

// seen is who is looked at from behind.
func seen(shown [2]bool) routine.Partner {
	if shown == [2]bool{routine.Follower: true} {
		return routine.Follower
	}
	return routine.Leader
}

// Scene is a moment of a routine on the floor.
type Scene struct {
	Path    *floor.Path
	Passage int
	Danced  int     // rows of the passage that have begun
	Shown   [2]bool // whose feet are drawn
	View    View
}

// frame turns the hall so that one direction is up in a drawing.
type frame struct{ up routine.Direction }

// onPaper is the direction that is up if nothing is turned.
const onPaper = routine.Centre

// frame is how a view turns a passage of which some partners are shown.
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

// place is a place of the hall on the drawing, in centimetres: X to the right,
// Y downwards.
func (f frame) place(p floor.Place) floor.Place {
	return p.Turned(routine.Turn(onPaper) - routine.Turn(f.up))
}

// direction is a direction of the hall on the drawing: routine.LOD is to the
// right, routine.Wall down, routine.Against to the left, routine.Centre up.
func (f frame) direction(d routine.Direction) routine.Direction {
	return d.Turned(routine.Turn(onPaper) - routine.Turn(f.up))
}
