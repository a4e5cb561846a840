package choreography

import (
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// move is what a plan chooses at once: a figure, a part of one, or a set of figures that belong
// together. Each is given in all its ways.
type move struct {
	pieces [][]piece // one after the other, each in its ways
	set    bool
}

func (m *move) first() *piece { return &m.pieces[0][0] }

// figures returns the figures of a move, each once.
func (m *move) figures() (figs []*routine.Figure) {
	for _, ways := range m.pieces {
		if fig := ways[0].figure; !slices.Contains(figs, fig) {
			figs = append(figs, fig)
		}
	}
	return figs
}

func (m *move) length() (sum routine.Beats) {
	for _, ways := range m.pieces {
		sum += ways[0].length()
	}
	return sum
}

// mostClosers is how many ways a set of one kind may be closed.
const mostClosers = 3

// moves returns all moves of figures. If sets is true, a figure that calls for its mirror image is only
// danced in a set: to one side and the other, or to one side, the other and the first again, closed by
// a figure that goes round.
func moves(d *routine.Dance, figs []*routine.Figure, sets bool) (all []move) {
	sidedWith := map[*routine.Figure]*routine.Figure{}
	if sets {
		for _, a := range figs {
			for _, b := range figs {
				if sided(a, b) && len(Parted(d, a, b, a)) == 0 {
					sidedWith[a] = b
				}
			}
		}
	}
	for _, fig := range figs {
		other := sidedWith[fig]
		if other == nil {
			for _, ways := range ways(fig) {
				all = append(all, move{pieces: [][]piece{ways}})
			}
			continue
		}
		all = append(all, setOf(fig, other))
		closers := 0
		for _, closer := range figs {
			if closers < mostClosers && sidedWith[closer] == nil && goesRound(closer) && changesFoot(closer) && len(Parted(d, other, fig, closer)) == 0 {
				all = append(all, setOf(fig, other, fig, closer))
				closers++
			}
		}
	}
	all = append(all, sequences(d, figs)...)
	all = append(all, turnsToBothSides(d, figs)...)
	return append(all, outAndBack(d, figs)...)
}

// sequences returns the sequences of a dance that figures can make.
func sequences(d *routine.Dance, figs []*routine.Figure) (all []move) {
	for _, names := range d.Sequences {
		m := move{set: true}
		for _, name := range names {
			if p, ok := pieceNamed(figs, name); ok {
				m.pieces = append(m.pieces, p)
			}
		}
		if len(m.pieces) == len(names) {
			all = append(all, m)
		}
	}
	return all
}

// pieceNamed returns a figure, or a part of one, in all its ways.
func pieceNamed(figs []*routine.Figure, name string) (ways []piece, ok bool) {
	for _, fig := range figs {
		if from, to, ok := fig.Named(name); ok {
			return waysOf(fig, from, to), true
		}
	}
	return nil, false
}

// listed returns the figures that a dance's sequences name; nil if it has none.
func listed(d *routine.Dance, figs []*routine.Figure) (listed map[*routine.Figure]bool) {
	for _, names := range d.Sequences {
		if listed == nil {
			listed = map[*routine.Figure]bool{}
		}
		for _, name := range names {
			if ways, ok := pieceNamed(figs, name); ok {
				listed[ways[0].figure] = true
			}
		}
	}
	return listed
}

// turnsToBothSides returns sets of a turn to the right and the same to the left with what links them, as
// the natural turn, the right foot change, the reverse turn and the left foot change of a waltz.
func turnsToBothSides(d *routine.Dance, figs []*routine.Figure) (all []move) {
	for _, right := range figs {
		rest, natural := strings.CutPrefix(right.Name, "Natural ")
		for _, left := range figs {
			if !natural || left.Name != "Reverse "+rest {
				continue
			}
			there, back := link(d, right, left, figs), link(d, left, right, figs)
			if len(there) == 1 && len(back) == 1 && !sided(there[0], back[0]) {
				all = append(all, setOf(right, there[0], left, back[0]), setOf(left, back[0], right, there[0]))
			}
		}
	}
	return all
}

// outAndBack returns sets of a figure that leads into an unusual hold, and the easiest ones that lead out
// of it again, as the hockey stick after the fan. Where the first begins on the other foot than the
// dance, half a basic, or whatever is easiest, comes before.
func outAndBack(d *routine.Dance, figs []*routine.Figure) (all []move) {
	for _, out := range figs {
		if settles(out) || usualHold(out)&ordinary == 0 {
			continue
		}
		backs := 0
		for _, back := range figs {
			if backs == mostClosers || usualHold(back)&ordinary != 0 || !settles(back) || len(Parted(d, out, back)) > 0 {
				continue
			}
			backs++
			all = append(all, setOf(out, back))
			if before := link(d, figs[0], out, figs); len(before) == 1 && !d.Travels {
				all = append(all, setOf(before[0], out, back))
			}
		}
	}
	return all
}

// setOf returns a set of whole figures.
func setOf(figs ...*routine.Figure) (m move) {
	for _, fig := range figs {
		m.pieces = append(m.pieces, ways(fig)[0])
	}
	m.set = true
	return m
}

// link returns the easiest figures that link two; nil if none do, or none are needed.
func link(d *routine.Dance, a, b *routine.Figure, figs []*routine.Figure) []*routine.Figure {
	join := Between(d, a, b)
	if links := join.Link(figs, 1); len(links) > 0 {
		return links[0]
	}
	return nil
}
