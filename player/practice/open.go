package practice

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"dance.example/slowquick/routine"
)

// OpenMark is something that went wrong for a partner and has not been danced clean since, at least as
// fast as when it was marked.
type OpenMark struct {
	Piece
	Partner routine.Partner
	Tempo   routine.Tempo // the fastest at which it was marked; danced clean at that, it is gone
	At      time.Time     // when the run-through ended in which it was marked last
	Times   int           // in how many run-throughs it was marked
}

// Marks returns the marks that are open, newest first. A nil history has none.
func (h *History) Marks() (list []OpenMark) {
	if h == nil {
		return nil
	}
	for piece, both := range h.records {
		for _, partner := range routine.Partners() {
			m := OpenMark{Piece: piece, Partner: partner, Times: len(both[partner].open)}
			for _, o := range both[partner].open {
				m.Tempo, m.At = max(m.Tempo, o.tempo), o.at
			}
			if m.Times > 0 {
				list = append(list, m)
			}
		}
	}
	slices.SortFunc(list, func(a, b OpenMark) int {
		return cmp.Or(b.At.Compare(a.At), compareFigures(a.Figure, b.Figure), compareFigures(a.Then, b.Then), cmp.Compare(a.Partner, b.Partner))
	})
	return list
}

func compareFigures(a, b Figure) int {
	return cmp.Or(strings.Compare(a.Dance, b.Dance), strings.Compare(a.Name, b.Name), strings.Compare(a.Steps, b.Steps))
}

// PlaceOf returns where a score first dances a piece; ok is false if it doesn't.
func PlaceOf(s *routine.Score, piece Piece) (at Place, ok bool) {
	for _, p := range placesOf(s) {
		if p.Piece == piece {
			return Place{Passage: p.passage, Join: p.Join()}, true
		}
	}
	return Place{}, false
}

// Everything returns the history of all figures in some run-throughs, which must be in order of time,
// whatever the sheet. Figures of the same name or with the same steps are one, known as the one that was
// danced last. No routine is danced as a whole.
func Everything(passes []Kept, zone *time.Location) *History {
	return newHistory(acquaintedWith(passes), passes, zone)
}

// acquaintedWith knows each figure as the one of its name, or else of its steps, that was danced last.
func acquaintedWith(passes []Kept) *acquaintance {
	a := &acquaintance{bySteps: map[Figure]Figure{}, byName: map[Figure]Figure{}, met: map[Figure]Figure{}}
	for _, p := range slices.Backward(passes) {
		for _, d := range p.Danced {
			if _, met := a.met[d.Figure]; !met {
				a.meet(d.Figure)
			}
		}
	}
	return a
}

// meet takes in a figure that was danced before all those met already.
func (a *acquaintance) meet(fig Figure) {
	name, steps := Figure{Dance: fig.Dance, Name: routine.Key(fig.Name)}, Figure{Dance: fig.Dance, Steps: fig.Steps}
	now, known := a.byName[name]
	if !known {
		if now, known = a.bySteps[steps]; !known {
			now = fig
		}
	}
	a.met[fig], a.byName[name], a.bySteps[steps] = now, now, now
}

// Behind returns the marks of a run-through for which an open mark stands. The history must be one of
// [Everything], with that run-through.
func (h *History) Behind(m OpenMark, p *Kept) (marks []Mark) {
	piece := Piece{Figure: h.known.now(m.Figure)}
	if m.Join() {
		piece.Then = h.known.now(m.Then)
	}
	both := h.records[piece]
	if both == nil || !slices.ContainsFunc(both[m.Partner].open, func(o openMark) bool { return o.at.Equal(p.At) }) {
		return nil
	}
	for _, k := range p.Marks {
		if k.Partner == m.Partner && h.piece(p, k) == piece {
			marks = append(marks, k)
		}
	}
	return marks
}

// piece returns what a mark of a run-through is on.
func (h *History) piece(p *Kept, m Mark) Piece {
	fig := h.known.now(p.Danced[m.Place].Figure)
	if m.Join {
		return Piece{h.known.now(p.Danced[m.Place-1].Figure), fig}
	}
	return Piece{Figure: fig}
}
