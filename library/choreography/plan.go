package choreography

import (
	"cmp"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// section is a stretch of a routine, as planned. Sections of one letter are danced alike as far as
// they can be; A is the theme.
type section struct {
	letter   byte
	from, to routine.Beats
	again    bool // it was danced before
}

// rondo is the order of sections: the theme returns after each of the others. Common practice.
const rondo = "ABACABADAEACABAD"

// planned returns the sections of a routine as long as a number of bars: phrases, or halves or quarters
// of phrases where there are few. Its theme comes back if there is time for it.
func planned(d *routine.Dance, bars int) (plan []section) {
	unit := d.PhraseBars
	for _, parts := range []int{1, 2, 4} {
		if unit = max(1, d.PhraseBars/parts); bars >= 3*unit {
			break
		}
	}
	met := map[byte]bool{}
	for from := 0; from < bars; from += unit {
		letter := rondo[from/unit%len(rondo)]
		plan = append(plan, section{letter, routine.Beats(from) * d.Metre.Bar(), routine.Beats(min(bars, from+unit)) * d.Metre.Bar(), met[letter]})
		met[letter] = true
	}
	return plan
}

// at returns the section in which a beat of the routine lies.
func at(plan []section, danced routine.Beats) *section {
	i := slices.IndexFunc(plan, func(s section) bool { return danced < s.to })
	if i < 0 {
		i = len(plan) - 1
	}
	return &plan[i]
}

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

// usualHold returns the positions in which a figure starts; the closed hold if it does not say.
func usualHold(fig *routine.Figure) routine.PositionSet {
	return cmp.Or(fig.Starts.Positions, 1<<routine.Closed)
}

// settles reports whether a figure ends where the next can begin from an ordinary hold.
func settles(fig *routine.Figure) bool {
	ends := fig.Ends.Positions
	if fig.Ends.AsStarted || ends == 0 {
		ends = usualHold(fig)
	}
	return ends&ordinary != 0
}

// ordinary are the holds that need not be left again soon.
const ordinary = 1<<routine.Closed | 1<<routine.OpenFacing | 1<<routine.OutsidePartner
