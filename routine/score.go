package routine

// Score is a routine danced through: every figure on its exact beat.
type Score struct {
	Title    string
	Dance    *Dance
	Known    bool // what the dance is
	Defines  bool // the sheet itself says what its dance is
	Tempo    Tempo
	Faces    *Alignment // the leader's at the start; nil if not said
	Style    CountStyle
	Floor    Room // zero if not said
	Stride   Stride
	Rhythm   Rhythm
	Music    Music
	Items    []Item
	Passages []Passage
	Figures  []*Figure // that the sheet itself tells
	// Start is the beat of the first step, End the beat after the last. Beat 0
	// is the first of the first bar.
	Start, End Beats
}

// Passage is one time through a figure, or through the part of it that is danced.
type Passage struct {
	Item     int // which of Items
	Round    int // which of its times, from 0
	Figure   *Figure
	From, To int // rows
	Start    Beats
	End      Beats // where the next passage starts, or its own end
	Begins   Couple
	Ends     PositionSet
	// Held are the positions in which the couple may be after each row, from
	// From on; 0 as long as it is still in the one it began in.
	Held []PositionSet
	// Corners is how many corners of the room were taken before, each of which
	// turns the line of dance, and all directions with it, a quarter to the left.
	Corners int
	// Joined says that nothing is known to part it from the passage before.
	Joined bool

	facings facings // all pairs that the couple may begin in
	moved   effect
	left    couple // as it leaves the couple, any corner taken
}

// Couple is how two partners stand.
type Couple struct {
	Free      [2]Foot // NoFoot if it may be either
	Positions PositionSet
	Facing    [2]Direction // one pair of all that fit
}

// At is the beat of a row.
func (p *Passage) At(row int) Beats {
	return p.Start + p.Figure.Rows[row].At - p.Figure.Rows[p.From].At
}

// CornerTurn is what a corner adds to a direction that is told by the line of
// dance: who faced the centre faces the new line of dance.
const CornerTurn Turn = 2

// settle chooses, of the directions in which the couple may dance, one pair for
// each passage, so that each begins as the one before it ended, and leaves only
// the positions that suit what follows. It goes from the end, where most is known.
func (s *Score) settle() {
	for i := len(s.Passages) - 1; i >= 0; i-- {
		p := &s.Passages[i]
		if both := p.Begins.Positions & p.Ends; p.moved.stays && both != 0 {
			p.Begins.Positions = both // what follows may have told it
		}
		if i > 0 && p.Joined && s.Passages[i-1].Ends&p.Begins.Positions != 0 {
			s.Passages[i-1].Ends &= p.Begins.Positions
		}
		may := p.facings
		if i+1 < len(s.Passages) && s.Passages[i+1].Joined && !p.moved.lost {
			next := &s.Passages[i+1]
			after := onePair(next.Begins.Facing)
			for _, q := range Partners() {
				after = after.turned(q, -p.moved.turns[q]-CornerTurn*Turn(next.Corners-p.Corners))
			}
			if after&may != 0 {
				may &= after
			}
		}
		p.Begins.Facing = may.likely(s.Dance.Travels)
	}
}

// Alone is a score in which f is danced once, from some of the positions that
// it may start in.
func (f *Figure) Alone(d *Dance, stride Stride, from PositionSet) *Score {
	out := &Score{Title: f.Name, Dance: d, Known: true, Tempo: d.Tempo(), Stride: stride, Rhythm: d.Rhythm}
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
		Ends: e.apply(begins).positions, Held: e.held, facings: begins.facings, moved: e}}
	out.settle()
	return out
}

// InOrder is a score in which items, whose figures are known, are danced one
// after the other, the leader facing as said, or, if nil, as they begin; and
// what is found in it. The findings have no places.
func InOrder(d *Dance, faces *Alignment, items ...Item) (*Score, []Finding) {
	s := &Sheet{Dance: d, Faces: faces, Stride: d.Stride, Rhythm: d.Rhythm, Tempo: d.Tempo(), Order: items, src: newSource(nil), danceKnown: true}
	c := checker{findings: &findings{src: s.src}, sheet: s}
	score := c.score()
	return score, c.list
}

// After is the moment after a passage, as it was found to leave the couple.
func (s *Score) After(passage int) Outcome {
	p := &s.Passages[passage]
	end := p.Start + p.Figure.Length(p.From, p.To)
	return Outcome{couple: p.left, at: end.Into(s.Dance.Metre.Bar()), last: end - p.At(p.To-1), begun: true}
}
