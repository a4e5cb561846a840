package choreography

import (
	"math"
	"math/rand/v2"

	"dance.example/slowquick/routine"
)

// rules are what a routine keeps to. Compose gives some up if nothing fills the bars otherwise.
type rules struct {
	phrase  routine.Beats // a figure begins each time this has passed; 0 for never
	unit    routine.Beats // the couple is back where the opening can be danced each time this has passed; 0 for never
	again   bool          // and at the end
	returns bool          // at least 1/leastReturns of it comes back
	corners bool          // on a floor, it takes a corner if it has cornerBars
	sets    bool          // figures that belong together are danced together
	opens   opening
	anyRow  bool // a figure may be danced any number of times in a row
}

const (
	leastReturns = 4 // at least 1/leastReturns of a routine is danced again
	mostShare    = 4 // at best, no figure takes more than 1/mostShare of the routine
	cornerBars   = 32
	leastBack    = 50  // centimetres; less against the line of dance is nothing
	inARow       = 2   // how many times a move may be danced in a row
	patience     = 150 // moves tried for a plan, besides some for each bar
	eachBar      = 4
	wholeFails   = 30 // as many more, for a whole routine that can't be danced
	onAFloor     = 20 // the same on a floor
)

// place is how far a routine has got.
type place struct {
	at   int // an outcome
	left routine.Beats
	had  uint8 // which of the wished figures were danced
	lane lane  // on a floor, roughly
	came bool  // round a corner, if the routine must
}

// spot is a place on the grid, and small, as very many are kept.
type spot struct {
	at, left            int32
	behind, beside      int16
	across, first, came bool
	had                 uint8
}

func (p *place) spot() spot {
	return spot{int32(p.at), int32(p.left), int16(p.lane.behind), int16(p.lane.beside), p.lane.across, p.lane.first, p.came, p.had}
}

// composer fills one plan.
type composer struct {
	*graph
	wish   *Wish
	rules  rules
	plan   []section
	opener *move
	usual  int           // how many openings are more usual
	share  routine.Beats // the most one figure may take; each may be danced twice anyway

	fills map[spot]bool // whether the rest can be filled at all, ignoring shares, places and returns
	homes map[int]bool

	met    map[*move]int // how often moves were danced in the routines found so far
	random *rand.Rand
	tried  int
	faulty int // the step that must be another, or noStep
	steps  []danceStep
	taken  map[*routine.Figure]routine.Beats
}

const noStep = math.MaxInt

// danceStep is a move in a routine.
type danceStep struct {
	edge
	at     routine.Beats // since the start
	corner bool          // taken after it
	lane   lane          // after it
}

func (c *composer) total() routine.Beats { return c.wish.length(c.dance) }

func (c *composer) corners() bool { return c.dance.Travels && c.wish.Floor != (routine.Room{}) }

// mustCorner reports whether a routine goes round the room, and is long enough for a corner.
func (c *composer) mustCorner() bool {
	return c.rules.corners && c.corners() && !facesWall(c.dance) && c.wish.Bars >= cornerBars
}
