package practice

import (
	"cmp"
	"slices"

	"dance.example/slowquick/routine"
)

// pieceAt is a piece and where the score first dances it.
type pieceAt struct {
	Piece
	passage int // a join's second passage
}

// placesOf returns a score's pieces, each where it is first danced.
func placesOf(s *routine.Score) (list []pieceAt) {
	seen := map[Piece]bool{}
	add := func(pl pieceAt) {
		if !seen[pl.Piece] {
			seen[pl.Piece] = true
			list = append(list, pl)
		}
	}
	figures := figuresOf(s)
	for i, fig := range figures {
		if i > 0 && s.Passages[i].Joined {
			add(pieceAt{Piece{figures[i-1], fig}, i})
		}
		add(pieceAt{Piece{Figure: fig}, i})
	}
	return list
}

// urgency says why a piece needs practice; the most urgent last.
type urgency uint8

const (
	slow     urgency = iota // known, but not yet at today's tempo
	due                     // likely to be forgotten soon
	unjudged                // danced, but nobody said how it went
	fresh                   // never danced
	shaky                   // it went wrong
)

// String says so in the dancer's words.
func (u urgency) String() string {
	return [...]string{"not yet at today's tempo", "due again", "how does it go?", "new", "it went wrong"}[u]
}

// need says who needs a piece, and how much.
type need struct {
	pieceAt
	who     []routine.Partner
	amount  float64       // the sum over who of the likelihood that it is forgotten
	urgency urgency       // the greatest of theirs
	tempo   routine.Tempo // the fastest at which it went wrong since it was clean; 0 if it did not
}

// place counts pieces in the order of the routine: its first figure is 0, the join to its second 1.
func (n need) place() int {
	if n.Join() {
		return 2*n.passage - 1
	}
	return 2 * n.passage
}

// apart reports whether a need is met more than once a day: by repeating, and in its place.
func (n need) apart() bool { return n.urgency >= fresh }

// needOf returns how much a partner needs a piece on a day, at a tempo; ok is false if not at all. A
// join is learnt with its figures, and needs practice of its own only when it went wrong.
func needOf(r *Record, join bool, d Day, tempo routine.Tempo) (u urgency, ok bool) {
	switch {
	case r.Shaky() || len(r.open) > 0:
		return shaky, true
	case join:
		return 0, false
	case r.Passes == 0:
		return fresh, true
	case r.New():
		return unjudged, true
	case r.Due() <= d:
		return due, true
	}
	return slow, r.Best < tempo
}

// needsOf returns the pieces that some dancers need: first those that more of them need, then the more
// urgent, then those more likely forgotten. What only one partner needs takes turns with what only the
// other does, so that a session too short for all of it is fair to both.
func needsOf(pieces []pieceAt, past *History, dancers routine.Dancers, d Day, tempo routine.Tempo) []need {
	var both []need
	var alone [2][]need
	for _, pl := range pieces {
		n := need{pieceAt: pl}
		for _, q := range dancers.Partners() {
			r := past.Of(pl.Piece, q)
			if u, ok := needOf(&r, pl.Join(), d, tempo); ok {
				n.who = append(n.who, q)
				n.amount += 1 - r.Recall(d)
				n.urgency = max(n.urgency, u)
				for _, mark := range r.open {
					n.tempo = max(n.tempo, mark.tempo)
				}
			}
		}
		switch {
		case len(n.who) == 1:
			alone[n.who[0]] = append(alone[n.who[0]], n)
		case len(n.who) > 1:
			both = append(both, n)
		}
	}
	for _, list := range [][]need{both, alone[0], alone[1]} {
		slices.SortStableFunc(list, func(a, b need) int {
			return cmp.Or(cmp.Compare(b.urgency, a.urgency), cmp.Compare(b.amount, a.amount))
		})
	}
	return append(both, inTurns(alone[0], alone[1])...)
}

// inTurns returns the elements of two lists by turns, then what is left of the longer.
func inTurns(a, b []need) (list []need) {
	for i := range max(len(a), len(b)) {
		if i < len(a) {
			list = append(list, a[i])
		}
		if i < len(b) {
			list = append(list, b[i])
		}
	}
	return list
}
