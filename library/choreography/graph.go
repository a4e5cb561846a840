package choreography

import (
	"slices"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// graph says what can be danced from where. Outcomes are numbered from 0, the start; what leads on from
// one is worked out when it is first asked for.
type graph struct {
	dance    *routine.Dance
	moves    []move
	figure   routine.Beats            // what takes less only links figures
	listed   map[*routine.Figure]bool // those that the dance's sequences name; nil if it has none
	outcomes []routine.Outcome
	number   map[routine.Outcome]int
	onward   [][]edge
	joins    map[join]bool
	courses  map[begun]course
}

// edge is a move danced from an outcome, in ways that fit there.
type edge struct {
	move   *move
	danced []piece
	to     int
	takes  routine.Beats
	goes   course // of all its pieces, relative to the line of dance
}

// begun is a piece begun in a direction.
type begun struct {
	piece
	to routine.Direction
}

// course is how a piece moves a couple through the room: how far along the line of dance, and to the
// wall.
type course struct {
	by      floor.Point
	against bool // surely goes against the line of dance
}

// newGraph returns the graph of figures from a start, danced in sets or alone.
func newGraph(d *routine.Dance, start routine.Outcome, figs []*routine.Figure, sets bool) *graph {
	g := &graph{dance: d, moves: moves(d, figs, sets), figure: usualLength(d, figs), listed: listed(d, figs), number: map[routine.Outcome]int{}, joins: map[join]bool{}, courses: map[begun]course{}}
	g.numbered(start)
	return g
}

func (g *graph) numbered(o routine.Outcome) int {
	n, ok := g.number[o]
	if !ok {
		n = len(g.outcomes)
		g.number[o] = n
		g.outcomes = append(g.outcomes, o)
		g.onward = append(g.onward, nil)
	}
	return n
}

// from returns what can be danced from an outcome. It leaves out what goes against the line of dance.
func (g *graph) from(at int) []edge {
	if g.onward[at] == nil {
		list := []edge{}
		for i := range g.moves {
			list = g.dancedFrom(list, &g.moves[i], edge{move: &g.moves[i], to: at})
		}
		g.onward[at] = list
	}
	return g.onward[at]
}

// dancedFrom adds the ways to dance the rest of a move, of which e has danced some, to list: at most
// one for each outcome.
func (g *graph) dancedFrom(list []edge, m *move, e edge) []edge {
	done := len(e.danced)
	if done == len(m.pieces) {
		same := func(o edge) bool { return o.move == m && o.to == e.to && o.takes == e.takes }
		if e.takes <= 0 || slices.ContainsFunc(list, same) {
			return list
		}
		return append(list, e)
	}
	from := g.outcomes[e.to]
	for _, p := range m.pieces[done] {
		end, takes, parted := from.ThenPart(g.dance, p.way, p.from, p.to)
		if len(parted) > 0 {
			continue
		}
		next := e
		if g.dance.Travels {
			if to, known := from.Faces(routine.Leader); known {
				goes := g.course(begun{p, to})
				if goes.against {
					continue
				}
				next.goes.by = next.goes.by.Plus(goes.by)
			}
		}
		next.danced = append(slices.Clip(e.danced), p)
		next.to = g.numbered(end)
		next.takes += takes
		list = g.dancedFrom(list, m, next)
	}
	return list
}

// course returns how a piece begun in a direction goes through the room.
func (g *graph) course(b begun) course {
	c, ok := g.courses[b]
	if !ok {
		score, found := routine.InOrder(g.dance, &routine.Alignment{Stand: routine.Facing, To: b.to}, b.danced())
		c.by = floor.Trace(score).Travel()
		c.against = slices.ContainsFunc(floor.Check(score, found), func(f routine.Finding) bool { return f.Code == "against-line-of-dance" })
		g.courses[b] = c
	}
	return c
}

// join is two pieces danced one after the other, and whether a corner is taken between them.
type join struct {
	first, next piece
	corner      bool
}

// meet reports whether the partners still meet on the floor in a join.
func (g *graph) meet(j join) bool {
	fits, known := g.joins[j]
	if !known {
		first := j.first.danced()
		first.Corner = j.corner
		_, parted := danced(g.dance, []routine.Item{first, j.next.danced()})
		fits = len(parted) == 0
		g.joins[j] = fits
	}
	return fits
}

// corner returns the outcome after a corner of the room.
func (g *graph) corner(at int) int { return g.numbered(g.outcomes[at].Turned(routine.CornerTurn)) }
