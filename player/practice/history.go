package practice

import (
	"slices"
	"time"

	"dance.example/slowquick/routine"
)

// Piece is what is learnt: a figure, or the join of two. Pieces are comparable.
type Piece struct {
	Figure Figure
	Then   Figure // the second figure of a join; zero for a figure
}

// Join reports whether p is the join of two figures.
func (p Piece) Join() bool { return p.Then != Figure{} }

// String returns p's name: "Spot turn", or "Spot turn into Time step" for a join.
func (p Piece) String() string {
	if p.Join() {
		return p.Figure.Name + " into " + p.Then.Name
	}
	return p.Figure.Name
}

// Record is what is known about one partner and one piece.
type Record struct {
	Memory               // of the days on which it was judged
	Passes int           // run-throughs that danced it, judged or not
	Judged int           // of these, how often somebody said how it went
	Marks  int           // and how often that it went wrong
	Last   time.Time     // when it was danced last; zero if never
	Best   routine.Tempo // the fastest run-through that was judged clean; 0 if there is none
	recent uint8         // the latest that were judged, the last one in the lowest bit; 1 is marked
	open   []openMark

	day   Day // the last day on which it was judged, which is not yet part of Memory
	grade Grade
}

// openMark is a mark that no clean run-through has made good.
type openMark struct {
	at    time.Time
	tempo routine.Tempo
}

// A piece is shaky if shakyMarks of its last shakyOf run-throughs were marked (our own choice).
const shakyOf, shakyMarks = 5, 2

// Shaky reports whether the last run-through that was judged was marked, or several of the last ones.
func (r *Record) Shaky() bool {
	marks := 0
	for i := range min(shakyOf, r.Judged) {
		marks += int(r.recent >> i & 1)
	}
	return r.recent&1 == 1 || marks >= shakyMarks
}

// Needs reports whether a piece should be practised on day d.
func (r *Record) Needs(d Day) bool { return r.Shaky() || r.Due() <= d }

// pass adds one run-through, on a day not before the last.
func (r *Record) pass(at time.Time, d Day, tempo routine.Tempo, v Verdict) {
	r.Passes++
	r.Last = at
	if v == Unjudged {
		return
	}
	marked := v == WentWrong
	if r.Judged == 0 || d != r.day {
		r.settle()
		r.day, r.grade = d, Clean
		if marked {
			r.grade = Forgotten
		}
	} else if marked && r.grade == Clean {
		r.grade = Shaky
	}
	r.Judged++
	r.recent <<= 1
	if marked {
		r.Marks++
		r.recent |= 1
		r.open = append(r.open, openMark{at, tempo})
		return
	}
	r.Best = max(r.Best, tempo)
	r.open = slices.DeleteFunc(r.open, func(m openMark) bool { return m.tempo <= tempo })
}

// settle adds the last day to the memory.
func (r *Record) settle() {
	if r.Judged > 0 {
		r.Memory = r.Memory.After(r.day, r.grade)
	}
}

// History is what both partners have danced of a score's figures.
type History struct {
	known   *acquaintance
	records map[Piece]*[2]Record
	whole   [2]routine.Tempo // the fastest run-through of the whole routine that was judged clean
}

// NewHistory gathers what run-throughs, which must be in order of time, say about a score's figures. Days
// change at midnight in zone.
func NewHistory(s *routine.Score, passes []Kept, zone *time.Location) *History {
	return newHistory(newAcquaintance(s), passes, zone)
}

func newHistory(known *acquaintance, passes []Kept, zone *time.Location) *History {
	h := &History{known: known, records: map[Piece]*[2]Record{}}
	for i := range passes {
		h.add(&passes[i], zone)
	}
	for _, both := range h.records {
		for p := range both {
			both[p].settle()
		}
	}
	return h
}

// Of returns the record of a partner and a piece; it is empty if it was never danced.
func (h *History) Of(p Piece, partner routine.Partner) Record {
	if both := h.records[p]; both != nil {
		return both[partner]
	}
	return Record{}
}

// Whole returns the fastest tempo at which a partner danced the routine to its end and said that it was
// clean; 0 if never.
func (h *History) Whole(partner routine.Partner) routine.Tempo { return h.whole[partner] }

func (h *History) add(p *Kept, zone *time.Location) {
	figs := make([]Figure, len(p.Danced))
	for place := range p.Danced {
		figs[place] = h.known.now(p.Danced[place].Figure)
	}
	h.pieces(figs, p, DayOf(p.At.In(zone)))
	inPart := slices.ContainsFunc(p.Danced, func(d Danced) bool { return !d.Whole })
	if inPart || !slices.Equal(figs, h.known.order) {
		return
	}
	for _, partner := range routine.Partners() {
		if p.Clean(partner) {
			h.whole[partner] = max(h.whole[partner], p.Tempo)
		}
	}
}

// once is how one run-through danced a piece that may occur in it several times.
type once struct {
	counts bool // danced whole at least once
	went   [2]Verdict
}

// pieces adds a run-through, which danced figs, to the records of their pieces. Of a figure danced in
// part only a mark counts, as dancers often stop where they go wrong. A partner who marks something has
// danced it, whichever partner was shown.
func (h *History) pieces(figs []Figure, p *Kept, day Day) {
	danced := map[Piece]once{}
	add := func(piece Piece, place int, join bool) {
		o := danced[piece]
		o.counts = o.counts || join || p.Danced[place].Whole
		for _, partner := range routine.Partners() {
			o.went[partner] = max(o.went[partner], p.Verdict(place, join, partner))
		}
		danced[piece] = o
	}
	for place, fig := range figs {
		if fig == (Figure{}) {
			continue
		}
		add(Piece{Figure: fig}, place, false)
		if place > 0 && figs[place-1] != (Figure{}) {
			add(Piece{figs[place-1], fig}, place, true)
		}
	}
	for piece, o := range danced {
		for _, partner := range routine.Partners() {
			if went := o.went[partner]; went == WentWrong || o.counts && p.Dancers.Include(partner) {
				if h.records[piece] == nil {
					h.records[piece] = new([2]Record)
				}
				h.records[piece][partner].pass(p.At, day, p.Tempo, went)
			}
		}
	}
}

// acquaintance finds the present figures in what was danced before: by their steps, or else by their
// names.
type acquaintance struct {
	order   []Figure
	bySteps map[Figure]Figure // keyed by figures without a name
	byName  map[Figure]Figure // keyed by figures without steps
	met     map[Figure]Figure
}

func newAcquaintance(s *routine.Score) *acquaintance {
	a := &acquaintance{bySteps: map[Figure]Figure{}, byName: map[Figure]Figure{}, met: map[Figure]Figure{}}
	a.order = figuresOf(s)
	for _, fig := range a.order {
		a.met[fig] = fig
		if steps := (Figure{Dance: fig.Dance, Steps: fig.Steps}); a.bySteps[steps] == (Figure{}) {
			a.bySteps[steps] = fig
		}
		a.byName[Figure{Dance: fig.Dance, Name: routine.Key(fig.Name)}] = fig
	}
	return a
}

// now returns the score's figure that was danced as fig; zero if there is none.
func (a *acquaintance) now(fig Figure) Figure {
	now, ok := a.met[fig]
	if !ok {
		if now, ok = a.bySteps[Figure{Dance: fig.Dance, Steps: fig.Steps}]; !ok {
			now = a.byName[Figure{Dance: fig.Dance, Name: routine.Key(fig.Name)}]
		}
		a.met[fig] = now
	}
	return now
}
