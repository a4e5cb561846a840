package routine

import (
	"cmp"
	"fmt"
	"slices"
)

// Score is a routine danced through: every figure on its exact beat.
type Score struct {
	Sheet    // with the figures of its items
	Passages []Passage
	// Start is the beat of the first step, End the beat after the last. Beat 0 is the first beat of the
	// first bar.
	Start, End Beats
}

// Passage is one item's figure, or a part of it, as danced once.
type Passage struct {
	Item     int // index into Items
	Round    int // which of the item's times, from 0
	Figure   *Figure
	From, To int // rows
	Start    Beats
	End      Beats // where the next passage starts, or its own end
	Begins   Couple
	Ends     PositionSet
	// Held are the positions in which the couple may be after each row, starting with From; 0 while the
	// couple is still in the position it began in.
	Held []PositionSet
	// Hands are held after each row; 0 while they are held as the passage began.
	Hands []HandsSet
	// Corners is how many corners of the room were taken before. Each turns the line of dance, and all
	// directions with it, a quarter to the left.
	Corners int
	// Joined says that the passage before is known and fits.
	Joined bool

	facings facings // all pairs that the couple may begin in
	moved   effect
	left    couple // as it leaves the couple, after any corner
}

// Couple is how the two partners stand.
type Couple struct {
	Free      [2]Foot // NoFoot if either may be free
	Positions PositionSet
	Hands     HandsSet     // 0 if not known
	Facing    [2]Direction // one of the pairs that fit
}

// At returns the beat of a row, which counts from 0 in the figure.
func (p *Passage) At(row int) Beats {
	return p.Start + p.Figure.Rows[row].At - p.Figure.Rows[p.From].At
}

// CornerTurn is what a corner adds to a direction relative to the line of dance: a dancer who faced the
// centre faces the new line of dance.
const CornerTurn Turn = 2

// settle chooses one pair of directions for each passage, so that each begins as the one before it
// ended and what follows can be danced, and keeps only the positions that suit what follows. Where the
// leader may begin on several alignments, it is the first of opening that he can.
func (s *Score) settle(opening []Alignment) {
	for i := len(s.Passages) - 1; i >= 0; i-- {
		p := &s.Passages[i]
		if both := p.Begins.Positions & p.Ends; p.moved.stays && both != 0 {
			p.Begins.Positions = both // the next passage may have narrowed it
		}
		if i > 0 && p.Joined && s.Passages[i-1].Ends&p.Begins.Positions != 0 {
			s.Passages[i-1].Ends &= p.Begins.Positions
		}
		if turn, ok := s.between(i, i+1); ok {
			p.facings = cmp.Or(p.facings&turn(s.Passages[i+1].facings, -1), p.facings)
		}
	}
	for i := range s.Passages {
		p := &s.Passages[i]
		may := p.facings
		for _, a := range opening {
			if begun := may.where(Leader, setOf(int(a.Direction()))); i == 0 && begun != 0 {
				may = begun
				break
			}
		}
		if turn, ok := s.between(i-1, i); ok {
			may = cmp.Or(may&turn(onePair(s.Passages[i-1].Begins.Facing), +1), may)
		}
		p.Begins.Facing = may.likely(s.Dance.Travels)
	}
}

// openings returns the alignments on which the routine may begin, the best first: those on which the most of
// its figures are properly begun, and among these where such routines usually begin. It returns none if
// nothing is known of either.
func (s *Score) openings() (list []Alignment) {
	if usual := s.Dance.UsualStart; usual != nil {
		list = append(list, *usual)
	}
	if len(s.Passages) > 0 && s.Passages[0].From == 0 {
		list = append(list, s.Passages[0].Figure.Begun...)
	}
	if len(list) == 0 {
		return nil
	}
	list = append(list, everywhere()...)
	amiss := map[Direction]int{}
	for _, a := range list {
		amiss[a.Direction()] = s.amiss(a.Direction())
	}
	slices.SortStableFunc(list, func(a, b Alignment) int { return amiss[a.Direction()] - amiss[b.Direction()] })
	return list
}

// amiss returns how many figures are not properly begun if the leader begins facing d.
func (s *Score) amiss(d Direction) (n int) {
	for i := range s.Passages {
		p := &s.Passages[i]
		if i > 0 {
			before := &s.Passages[i-1]
			if !p.Joined || before.moved.lost {
				return n
			}
			d = d.Turned(before.moved.turns[Leader] + CornerTurn*Turn(p.Corners-before.Corners))
		}
		here := func(a Alignment) bool { return a.Direction() == d }
		if begun := p.Figure.Begun; p.From == 0 && len(begun) > 0 && !slices.ContainsFunc(begun, here) {
			n++
		}
	}
	return n
}

// between returns what takes facings at the start of one passage to those at the start of the next, or
// back; ok is false if that is not known.
func (s *Score) between(i, next int) (turn func(facings, Turn) facings, ok bool) {
	if i < 0 || next >= len(s.Passages) || !s.Passages[next].Joined || s.Passages[i].moved.lost {
		return nil, false
	}
	corners := CornerTurn * Turn(s.Passages[next].Corners-s.Passages[i].Corners)
	return func(f facings, way Turn) facings {
		for _, q := range Partners() {
			f = f.turned(q, way*(s.Passages[i].moved.turns[q]+corners))
		}
		return f
	}, true
}

// Alone returns a score in which f is danced once, from one of the given positions that it may start
// in.
func (f *Figure) Alone(d *Dance, stride Stride, from PositionSet) *Score {
	out := &Score{Sheet: Sheet{Title: f.Name, Dance: d, Known: true, Tempo: d.Tempo(), Stride: stride, Rhythm: d.Rhythm}}
	if len(f.Rows) == 0 {
		return out
	}
	item := Item{Name: f.Name, Figure: f, To: len(f.Rows), Times: 1, At: f.At}
	e := f.effect(0, item.To)
	begins := e.needs
	if narrowed := begins.positions & from; narrowed != 0 {
		begins.positions = narrowed
		begins.facings = begins.facings.apart(narrowed.difference())
	}
	out.Items = []Item{item}
	out.Start = f.start(d, 0)
	out.End = out.Start + f.Length(0, item.To)
	out.Passages = []Passage{{Figure: f, To: item.To, Start: out.Start, End: out.End, Begins: begins.shown(),
		Ends: e.apply(begins).positions, Held: e.held, Hands: e.hands, facings: begins.facings, moved: e}}
	out.settle(f.Begun)
	return out
}

// CanStart reports whether the turns in f allow it to start in a position.
func (f *Figure) CanStart(p Position) bool {
	return f.whole.needs.facings.apart(positionSet(p).difference()) != 0
}

// InOrder returns a score in which items, whose figures must be set, are danced one after the other,
// and its findings, which have no places. The leader starts with the alignment faces, or, if it is nil,
// as the first figure begins.
func InOrder(d *Dance, faces *Alignment, items ...Item) (*Score, []Finding) {
	s := &Sheet{Dance: d, Faces: faces, Stride: d.Stride, Rhythm: d.Rhythm, Tempo: d.Tempo(), Items: items, src: newSource(nil), Known: true}
	c := checker{findings: &findings{src: s.src}, sheet: s}
	score := c.score()
	return score, c.list
}

// After returns the state in which a passage was found to leave the couple.
func (s *Score) After(passage int) Outcome {
	p := &s.Passages[passage]
	end := p.Start + p.Figure.Length(p.From, p.To)
	return Outcome{couple: p.left, at: end.Into(s.Dance.Metre.Bar()), last: end - p.At(p.To-1), begun: true}
}

// PlaceOf says where in the order a passage is: "figure 2 of 3, time 1 of 2".
func (s *Score) PlaceOf(passage int) string {
	p := &s.Passages[passage]
	text := fmt.Sprintf("figure %d of %d", p.Item+1, len(s.Items))
	if times := s.Items[p.Item].Times; times > 1 {
		text += fmt.Sprintf(", time %d of %d", p.Round+1, times)
	}
	return text
}

// Turnable returns the turns by which the couple as a whole could begin otherwise: none, first, and others if
// the sheet doesn't say where the routine begins.
func (s *Score) Turnable() []Turn {
	turns := []Turn{0}
	if len(s.Passages) == 0 || s.Faces != nil {
		return turns
	}
	p := &s.Passages[0]
	for t := Turn(1); t < directions; t++ {
		if p.facings&onePair(p.Begins.Facing).turned(Leader, t).turned(Follower, t) != 0 {
			turns = append(turns, t)
		}
	}
	return turns
}

// Aligned reports whether the figure's chart says where in the hall the passage begins.
func (p *Passage) Aligned() bool {
	_, ok := p.moved.needs.facings.of(Leader).only()
	return ok
}
