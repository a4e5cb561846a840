package choreography

import (
	"cmp"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// mostOpeners is how many moves with one figure a routine may choose from to begin with.
const mostOpeners = 3

// opening is how a routine begins.
type opening int

const (
	anyhow     opening = iota
	asSequence         // with what begins one of the dance's usual sequences
	asUsual            // with what begins the most usual one or, if there is none, with one of the easiest figures
)

// openers returns the moves with which a routine may begin, the most usual first.
func openers(g *graph, figs []*routine.Figure, as opening) (moves []*move) {
	sequences := g.dance.Sequences
	switch {
	case as == anyhow:
		return []*move{nil}
	case as == asUsual && len(sequences) > 0:
		sequences = sequences[:1]
	}
	for _, names := range sequences {
		moves = append(moves, beginningWith(g, names[0])...)
	}
	if len(moves) == 0 && len(figs) > 0 && as == asUsual {
		return usualOpeners(g, figs)
	}
	return moves
}

// beginningWith returns some moves that begin with a figure.
func beginningWith(g *graph, name string) (moves []*move) {
	for _, e := range g.from(0) {
		if _, _, ok := e.move.first().figure.Named(name); ok && e.move.first().whole() && len(moves) < mostOpeners && !slices.Contains(moves, e.move) {
			moves = append(moves, e.move)
		}
	}
	return moves
}

// usualOpeners returns figures of the lowest level that are as long as most, begin in the hold in which the
// first does, and leave it no further than open facing. Those called basic come first; in a dance that begins
// along the line of dance, those that travel, and those charted from there before those that can begin
// anywhere.
func usualOpeners(g *graph, figs []*routine.Figure) (moves []*move) {
	hold := usualHold(figs[0])
	along := g.dance.Travels && !facesWall(g.dance)
	rank := map[*move]int{}
	for _, e := range g.from(0) {
		m, fig := e.move, e.move.first().figure
		switch {
		case m.set, !m.first().whole(), m.length() < g.figure:
			continue
		case usualHold(fig)&hold == 0, !settles(fig), !g.dance.Travels && changesFoot(fig):
			continue
		}
		if _, met := rank[m]; !met {
			moves = append(moves, m)
		}
		rank[m] = 10 * fig.Rank()
		if !strings.Contains(strings.ToLower(fig.Name), "basic") {
			rank[m] += 3
		}
		if along && e.goes.by.X < travelling {
			rank[m] += 5
		}
		if along && fig.Starts.Facing[routine.Leader].Stand == routine.NoStand {
			rank[m] += 2
		}
	}
	slices.SortStableFunc(moves, func(a, b *move) int { return cmp.Compare(rank[a], rank[b]) })
	moves = slices.DeleteFunc(moves, func(m *move) bool { return rank[m] >= rank[moves[0]]+10 })
	return moves[:min(len(moves), mostOpeners)]
}

// facesWall reports whether a dance begins facing the wall, as paso doble and samba do.
func facesWall(d *routine.Dance) bool { return d.UsualStart != nil && d.UsualStart.To == routine.Wall }

// travelling is how far, in centimetres, a figure goes along the line of dance at least if it travels.
const travelling = 60
