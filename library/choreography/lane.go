package choreography

import (
	"math"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// lane is where a couple is in a room, in centimetres: from the wall behind it, as it looks along the
// line of dance, and from the wall to its right.
type lane struct {
	behind, beside float64
	across         bool // on a side that runs along the room's width
	// On the first side the couple is put as near to the wall as it ever comes there: beside is how far
	// it is from where it came nearest so far.
	first bool
}

// How near to a wall a couple may dance, and from where on it may take the corner. Common practice,
// estimated.
const (
	margin      = 68
	usualBeside = 100
	cornerZone  = 315
)

// firstLane is where a routine begins.
var firstLane = lane{behind: 130, first: true}

func (l lane) moved(by floor.Point) lane {
	l.behind += by.X
	l.beside -= by.Y
	if l.first {
		l.beside = max(0, l.beside)
	}
	return l
}

// turned returns the lane after a corner.
func (l lane) turned(room routine.Room) lane {
	behind := l.beside
	if l.first {
		behind += usualBeside
	}
	return lane{behind: behind, beside: l.ahead(room), across: !l.across}
}

// ahead returns how far the wall ahead is.
func (l lane) ahead(room routine.Room) float64 {
	if l.across {
		return float64(room.Across) - l.behind
	}
	return float64(room.Along) - l.behind
}

func (l lane) within(room routine.Room) bool {
	return l.ahead(room) >= margin && l.behind >= margin && (l.first || l.beside >= margin)
}

// nearCorner reports whether a couple may take the corner: it has come to the end of its side, and will have
// most of the next before it.
func (l lane) nearCorner(room routine.Room) bool {
	next := l.turned(room)
	return l.ahead(room) <= cornerZone && 2*next.behind <= next.ahead(room)
}

// How exactly it is known, in centimetres, where a couple can go on from: less how far it is from the wall
// at its side, which matters only at the next corner.
const grid, sideGrid = 10, 40

// coarse is a lane to the nearest lines of the grid.
func (l lane) coarse() lane {
	l.behind, l.beside = grid*math.Round(l.behind/grid), sideGrid*math.Round(l.beside/sideGrid)
	return l
}
