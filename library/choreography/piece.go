package choreography

import (
	"cmp"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// piece is a figure, or a part of one that is danced by itself, in one of its ways.
type piece struct {
	figure   *routine.Figure // as the library charts it
	way      *routine.Figure // as it is danced
	from, to int             // rows
}

// item returns the piece as an item of an order, which names the figure and leaves the way open.
func (p *piece) item() routine.Item {
	item := routine.Whole(p.figure)
	item.From, item.To = p.from, p.to
	return item
}

// danced returns the piece as an item that is danced in the piece's own way.
func (p *piece) danced() routine.Item {
	item := p.item()
	item.Figure = p.way
	return item
}

func (p *piece) name() string          { return p.figure.Part(p.from, p.to) }
func (p *piece) length() routine.Beats { return p.way.Length(p.from, p.to) }
func (p *piece) usual() bool           { return p.way == p.figure }

func (p *piece) whole() bool { return p.from == 0 && p.to == len(p.figure.Rows) }

// goesOn reports whether next is the same figure from where the piece stops.
func (p *piece) goesOn(next *piece) bool { return p.figure == next.figure && p.to == next.from }

// ways returns a whole figure in each of its ways, the usual one first, and then its parts in each of
// theirs.
func ways(fig *routine.Figure) (all [][]piece) {
	all = append(all, waysOf(fig, 0, len(fig.Rows)))
	for _, p := range fig.Parts {
		all = append(all, waysOf(fig, p.From, p.To))
	}
	return all
}

// waysOf returns some rows of a figure in each of their ways.
func waysOf(fig *routine.Figure, from, to int) (list []piece) {
	for _, way := range fig.PartWays(from, to) {
		list = append(list, piece{fig, way, from, to})
	}
	return list
}

// goesRound reports whether a partner turns by half a turn or more.
func goesRound(fig *routine.Figure) bool {
	for _, p := range routine.Partners() {
		var sum routine.Turn
		for i := range fig.Rows {
			sum += fig.Rows[i].Steps[p].Turns()
		}
		if max(sum, -sum) >= 4 {
			return true
		}
	}
	return false
}

// sideless returns the words of a figure's name without those that tell a side; ok is false if none
// does.
func sideless(fig *routine.Figure) (rest string, ok bool) {
	words := strings.Fields(strings.ToLower(fig.Name))
	n := len(words)
	words = slices.DeleteFunc(words, func(word string) bool { return word == "left" || word == "right" })
	return strings.Join(words, " "), len(words) < n
}

// sided reports whether two figures are one figure danced to the left and to the right, which calls for
// the other side: their names differ only in the side, they are mirror images, and neither goes round.
func sided(a, b *routine.Figure) bool {
	one, ok := sideless(a)
	other, too := sideless(b)
	return ok && too && one == other && a != b && mirrors(a, b) && !goesRound(a) && changesFoot(a)
}

// changesFoot reports whether the leader ends a figure with the other foot free than it began with.
func changesFoot(fig *routine.Figure) bool {
	n := 0
	for i := range fig.Rows {
		if fig.Rows[i].Steps[routine.Leader].Moves() {
			n++
		}
	}
	return n%2 == 1
}

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

// usualLength returns a bar or, if most figures take less, what those in the middle do.
func usualLength(d *routine.Dance, figs []*routine.Figure) routine.Beats {
	lengths := []routine.Beats{d.Metre.Bar()}
	for _, fig := range figs {
		lengths = append(lengths, fig.Length(0, len(fig.Rows)))
	}
	slices.Sort(lengths)
	return min(d.Metre.Bar(), lengths[len(lengths)/2])
}
