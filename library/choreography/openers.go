package choreography

import (
	"cmp"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// mostOpeners is how many figures a routine may choose from to begin with.
const mostOpeners = 3

// openers returns the moves with which a routine usually begins, the most usual first: figures of the
// lowest level that fill a bar, begin in the hold in which the dance's first figure does, and leave it
// no further than open facing. Those called basic come first; in a dance that begins along the line of
// dance, those that travel, and those charted from there before those that can begin anywhere.
func openers(g *graph, figs []*routine.Figure) []*move {
	if len(figs) == 0 {
		return nil
	}
	hold := usualHold(figs[0])
	type opening struct {
		move *move
		rank int
	}
	var list []opening
	for _, e := range g.from(0) {
		m := e.move
		fig := m.first().figure
		whole := m.first().from == 0 && m.first().to == len(fig.Rows)
		if m.set || !whole || m.length() < g.dance.Metre.Bar() || usualHold(fig)&hold == 0 || !settles(fig) || !g.dance.Travels && changesFoot(fig) {
			continue
		}
		rank := 10 * fig.Rank()
		if !strings.Contains(strings.ToLower(fig.Name), "basic") {
			rank += 3
		}
		along := g.dance.Travels && !facesWall(g.dance)
		if along && e.goes.by.X < travelling {
			rank += 5
		}
		if along && fig.Starts.Facing[routine.Leader].Stand == routine.NoStand {
			rank += 2
		}
		list = append(list, opening{m, rank})
	}
	slices.SortStableFunc(list, func(a, b opening) int { return cmp.Compare(a.rank, b.rank) })
	var moves []*move
	for _, o := range list {
		if o.rank >= list[0].rank+10 || len(moves) == mostOpeners {
			break
		}
		if !slices.Contains(moves, o.move) {
			moves = append(moves, o.move)
		}
	}
	return moves
}

// facesWall reports whether a dance begins facing the wall, as paso doble and samba do.
func facesWall(d *routine.Dance) bool { return d.UsualStart != nil && d.UsualStart.To == routine.Wall }

// travelling is how far, in centimetres, a figure goes along the line of dance at least if it travels.
const travelling = 60
