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
	// On the first side the couple is put as near to the wall as it ever comes there. Nearest is that
	// distance, relative to where it begins; 0 on later sides.
	first   bool
	nearest float64
}

// How near to a wall a couple may dance, and from where on it may take the corner. Common practice,
// estimated.
const (
	margin     = 60
	cornerZone = 300
)

// firstLane is where a routine begins, and usualBeside how far from the wall a couple usually dances.
var firstLane = lane{behind: 130, first: true}

const usualBeside = 100

// coarse is a lane to the nearest grid of the floor, on which it is roughly known whether a routine can
// go on: how far from the wall behind, and whether on a side that runs along the room's width.
type coarse struct {
	behind int16
	across bool
}

const grid = 25 // centimetres

func (l lane) coarse() coarse { return coarse{int16(math.Round(l.behind / grid)), l.across} }

func (c coarse) lane() lane {
	return lane{behind: grid * float64(c.behind), beside: usualBeside, across: c.across}
}

func (l lane) moved(by floor.Point) lane {
	l.behind += by.X
	l.beside -= by.Y
	l.nearest = min(l.nearest, l.beside)
	return l
}

// turned returns the lane after a corner.
func (l lane) turned(room routine.Room) lane {
	behind := l.beside
	if l.first {
		behind += usualBeside - l.nearest
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

func (l lane) nearCorner(room routine.Room) bool { return l.ahead(room) <= cornerZone }
