package floor

import (
	"math"

	"dance.example/slowquick/routine"
)

// Path is where a couple is throughout a score.
type Path struct {
	Score  *routine.Score
	starts []Couple // before each passage
	End    Couple
	faults []fault
}

type fault struct {
	passage, row int
	kind         kind
	position     routine.Position // the one that is missed
	off          float64          // by how much, in centimetres
	way          Point            // from where the follower should be to where she is, as the leader sees it
	from         int              // the row since which it is missed
}

type kind uint8

const (
	missed  kind = iota // the follower is not in a position's region
	tooNear             // the bodies touch
	tooFar              // the arms can't hold
)

// Trace dances a score. The leader starts at the origin, and both face and hold
// as the score says.
func Trace(s *routine.Score) *Path { return TraceFrom(s, Point{}) }

// TraceFrom dances a score with the leader starting at a given point.
func TraceFrom(s *routine.Score, start Point) *Path {
	p := &Path{Score: s, starts: make([]Couple, len(s.Passages))}
	t := tracer{stride: s.Stride}
	t.couple[routine.Leader].Body = start
	for i := range s.Passages {
		t.begin(s, i)
		p.starts[i] = t.couple
		t.passage(&s.Passages[i])
		for _, f := range t.faults {
			f.passage = i
			p.faults = append(p.faults, f)
		}
	}
	p.End = t.couple
	return p
}

// Start returns the couple before a passage.
func (p *Path) Start(passage int) Couple { return p.starts[passage] }

// after returns the couple after a passage.
func (p *Path) after(i int) Couple {
	if next := i + 1; next < len(p.starts) && p.Score.Passages[next].Joined {
		return p.starts[next]
	}
	couples := p.Passage(i)
	return couples[len(couples)-1]
}

// Passage returns the couple before passage i and after each of its rows.
func (p *Path) Passage(i int) []Couple {
	t := tracer{stride: p.Score.Stride, couple: p.starts[i]}
	t.passage(&p.Score.Passages[i])
	couples := make([]Couple, 0, len(t.rows)+1)
	couples = append(couples, p.starts[i])
	for _, r := range t.rows {
		couples = append(couples, r.couple)
	}
	return couples
}

// tracer dances one passage after another; the package comment says how.
type tracer struct {
	stride routine.Stride
	couple Couple
	rows   []traced
	pool   int                 // the first row since the couple was last in a position
	inV    bool                // the couple stands in a V
	hold   routine.PositionSet // the couple's body hold; 0 for none
	faults []fault
}

// traced is a row after it was danced.
type traced struct {
	couple Couple
	placed [2][2]int // the row in which each foot got to its place; -1 before the first
	spread [2]float64
	round  float64    // how far turning together takes the partners around each other
	share  [2]float64 // how much of that each partner goes
}

// begin puts the couple where a passage begins, unless it is joined to the last one.
func (t *tracer) begin(s *routine.Score, i int) {
	p := &s.Passages[i]
	if i > 0 && p.Joined {
		return
	}
	leader := t.couple[routine.Leader].Body
	var facing [2]routine.Direction
	for _, q := range routine.Partners() {
		facing[q] = p.Begins.Facing[q].Turned(-routine.CornerTurn * routine.Turn(p.Corners))
	}
	follower := leader.Plus(usual(p.Begins.Positions).facing(facing[routine.Leader]))
	for q, body := range [2]Point{leader, follower} {
		weight := p.Begins.Free[q].Other()
		if weight == routine.NoFoot {
			weight = [2]routine.Foot{routine.RF, routine.LF}[q]
		}
		t.couple[q] = standing(body, facing[q], weight)
	}
}

func (t *tracer) passage(p *routine.Passage) {
	t.rows, t.pool, t.faults = t.rows[:0], 0, t.faults[:0]
	t.inV = inV(p, -1)
	t.hold = lasting(p.Begins.Positions)
	if t.hold.Has(routine.OutsidePartner) || t.hold.Has(routine.LeftOutside) {
		t.hold = 1 << routine.Closed // comes into line, unless the first step says that it goes outside
	}
	for row := p.From; row < p.To; row++ {
		t.row(p, &p.Figure.Rows[row])
	}
	t.judge(p)
	if n := len(t.rows); n > 0 {
		t.couple = t.rows[n-1].couple
	}
}

func (t *tracer) row(p *routine.Passage, r *routine.Row) {
	index := len(t.rows)
	now := traced{couple: t.couple, placed: [2][2]int{{-1, -1}, {-1, -1}}}
	if index > 0 {
		now.couple, now.placed = t.rows[index-1].couple, t.rows[index-1].placed
	}
	stride := t.stride
	if row := p.From + index; p.Figure.Length(row, row+1) < routine.Beat {
		stride.Forward, stride.Side = min(stride.Forward, stride.Short), min(stride.Side, stride.Short)
	}
	before := now.couple
	alike := t.turnAlike(r, &before)
	for q := range now.couple {
		now.couple[q].turn(&r.Steps[q], points(&r.Steps[q]) || alike && points(&r.Steps[1-q]))
	}
	turned := now.couple[0].Facing != before[0].Facing || now.couple[1].Facing != before[1].Facing
	t.inV = inV(p, index) || t.inV && !turned
	var open Point
	if t.inV {
		open = openEnd(&now.couple)
	}
	for q := range now.couple {
		t.step(&now, index, q, &r.Steps[q], stride, open)
	}
	for q := range now.couple {
		if after := r.Steps[q].After; after != 0 {
			now.couple[q].rotate(after)
			t.inV = inV(p, index)
		}
	}
	now.round, now.share = t.together(r, &before, &now.couple), shares(r)
	t.rows = append(t.rows, now)
	t.close(p, r, index)
}

// close brings the couple into the position that it has after a row, and feet that will pivot near each other.
func (t *tracer) close(p *routine.Passage, r *routine.Row, index int) {
	couple := &t.rows[index].couple
	positions := t.holding(p.Held[index], couple)
	if index == len(p.Held)-1 {
		positions = p.Ends
	}
	if !positions.Unknown() {
		if p.Held[index] != 0 && index > 0 && waits(&r.Steps[0]) && waits(&r.Steps[1]) {
			t.lean()
		}
		t.fit(positions)
	}
	if r.Steps[0].StepsToPivot() && r.Steps[1].StepsToPivot() {
		couple.share()
	}
}

// turnAlike reports whether both bodies turn alike in a closed hold. Then, if one turns less than its foot, so does the other.
func (t *tracer) turnAlike(r *routine.Row, c *Couple) bool {
	return t.hold != 0 && nearly(1<<routine.Closed, c) && r.Steps[0].Turn+c[0].lag == r.Steps[1].Turn+c[1].lag
}

// waits reports whether a foot is only put where it will step next.
func waits(s *routine.Step) bool { return !s.Moves() && !s.OnTheSpot() }

// lean leaves it to the steps before the last row to bring the couple into a hold: what takes no weight takes nobody
// anywhere, so the feet that bear it were placed with the hold in mind.
func (t *tracer) lean() {
	last := len(t.rows) - 1
	before, now := &t.rows[last-1], &t.rows[last]
	for q := range now.spread {
		before.spread[q], now.spread[q] = math.Hypot(before.spread[q], now.spread[q]), 0
	}
	t.pool = min(t.pool, last-1)
}

// holding returns the position of the couple after a row, which may name it.
//
// A body hold lasts while the couple steps and turns together; one partner may be an eighth
// ahead of the other, and then a V may be about to close. With a hand hold, they may walk
// together, past each other, or apart.
func (t *tracer) holding(named routine.PositionSet, c *Couple) routine.PositionSet {
	switch {
	case named != 0 && !named.Unknown():
		t.hold = lasting(named)
		return named
	case !t.lasts(c):
		t.hold = 0
		return routine.AnyPosition
	case !t.hold.Allows(apart(c)) && nearly(1<<routine.Closed, c):
		return t.hold | 1<<routine.Closed
	}
	return t.hold
}

// apart returns the follower's direction less the leader's.
func apart(c *Couple) routine.Turn {
	return routine.Turn(c[routine.Follower].Facing) - routine.Turn(c[routine.Leader].Facing)
}

// lasts reports whether the partners still face as their body hold needs.
func (t *tracer) lasts(c *Couple) bool { return nearly(t.hold, c) }

// nearly reports whether the partners face, to within an eighth, as some positions need.
func nearly(ps routine.PositionSet, c *Couple) bool {
	return ps.Allows(apart(c)) || ps.Allows(apart(c)-1) || ps.Allows(apart(c)+1)
}

// openEnd returns the direction of the open end of a V: midway between where
// the partners face.
func openEnd(c *Couple) Point {
	between := units[c[0].Facing].Plus(units[c[1].Facing])
	if between.length() < 0.1 {
		return Point{}
	}
	return between.Times(1 / between.length())
}

// judge finds where the partners pass through each other or lose each other's
// hands. It needs to know where they start.
func (t *tracer) judge(p *routine.Passage) {
	hands, known := holdsHands(p.Begins.Positions), !p.Begins.Positions.Unknown()
	worst := fault{}
	before := &t.couple
	for i := range t.rows {
		r := &t.rows[i]
		if ps := p.Held[i]; ps != 0 && !ps.Unknown() {
			hands, known = holdsHands(ps), true
		}
		distance := r.couple.Apart().length()
		near := distance
		if r.round == 0 { // partners who turn together go round each other
			near = nearestPass(before, &r.couple)
		}
		f := fault{row: i, from: i}
		near += math.Hypot(r.spread[0], r.spread[1])
		switch tooNearBy, tooFarBy := float64(routine.Touching)-near, distance-float64(routine.Reaching); {
		case tooNearBy > 0:
			f.kind, f.off = tooNear, tooNearBy
		case hands && tooFarBy > 0:
			f.kind, f.off = tooFar, tooFarBy
		}
		if known && f.off > worst.off {
			worst = f
		}
		before = &r.couple
	}
	if worst.off > slack {
		t.faults = append(t.faults, worst)
	}
}

// nearestPass returns how near two bodies come on the straight ways from one
// row to the next.
func nearestPass(before, after *Couple) float64 {
	from := before[routine.Follower].Body.Minus(before[routine.Leader].Body)
	way := after[routine.Follower].Body.Minus(after[routine.Leader].Body).Minus(from)
	if way == (Point{}) {
		return from.length()
	}
	along := min(max(-from.dot(way)/way.dot(way), 0), 1)
	return from.Plus(way.Times(along)).length()
}

// step dances one partner's part of a row.
func (t *tracer) step(now *traced, index, q int, s *routine.Step, stride routine.Stride, open Point) {
	if s.CrossesV() {
		open = Point{}
	}
	after := 0.0
	if t.lasts(&now.couple) {
		after = late(s)
	}
	spread := now.couple[q].step(s, stride, open, after)
	if s.Foot == routine.NoFoot || s.Pivots() {
		return
	}
	placed := &now.placed[q]
	was := placed[s.Foot-routine.LF]
	if s.Way == routine.Replace || s.Way == routine.InPlace {
		// Back to where the foot stood: this undoes any variation since then.
		for k := max(t.pool, was+1); k < index; k++ {
			t.rows[k].spread[q], t.rows[k].round = 0, 0
		}
	} else {
		placed[s.Foot-routine.LF] = index
	}
	if s.Way == routine.Close {
		*placed = [2]int{index, index} // so that the feet stay together
	}
	now.spread[q] = spread
}

// together returns how far partners who turn alike take each other round. When they pivot or swivel in a
// body hold one may turn more than the other, as in a slip pivot: they go round by what both turn. When only
// one does, as in a twist turn, the other goes round as far as that one turns.
func (t *tracer) together(r *routine.Row, before, after *Couple) float64 {
	var turn [2]routine.Turn
	for q := range turn {
		turn[q] = r.Steps[q].Turns() + before[q].lag - after[q].lag
	}
	amount := [2]float64{math.Abs(float64(turn[0])), math.Abs(float64(turn[1]))}
	eighths := min(amount[0], amount[1])
	spots := [2]bool{r.Steps[0].OnTheSpot(), r.Steps[1].OnTheSpot()}
	switch alike := before[0].Facing.To(after[0].Facing) == before[1].Facing.To(after[1].Facing); {
	case alike:
		eighths = amount[0]
	case t.hold == 0 || turn[0]*turn[1] < 0 || spots == [2]bool{}:
		return 0
	case spots[0] != spots[1]:
		eighths = (amount[0] + amount[1]) / 2
	}
	angle := eighths * math.Pi / 4
	return 2 * after.Apart().length() * math.Abs(math.Sin(angle/2))
}

// shares returns how much of the way round each other each partner goes: whoever stays on
// the spot lets the other go round, and partners who do the same go half of it each.
func shares(r *routine.Row) [2]float64 {
	leader, follower := moves(&r.Steps[routine.Leader]), moves(&r.Steps[routine.Follower])
	switch {
	case leader > follower:
		return [2]float64{1, 0}
	case leader < follower:
		return [2]float64{0, 1}
	}
	return [2]float64{0.5, 0.5}
}

// moves ranks steps: 0 for one that stays where a foot stands, 1 for one that ends beside it or crossed over it,
// 2 for one that goes away from it.
func moves(s *routine.Step) int {
	_, travels := stepWay(s, routine.Stride{})
	switch {
	case !s.Moves(), s.Way == routine.Replace, s.Way == routine.InPlace, s.HeelTurns():
		return 0
	case !travels:
		return 1
	}
	return 2
}

// slack is the distance, in centimetres, up to which an error is not worth reporting.
const slack = 3.0

// reach returns how far the rows of the pool can take the partners from where
// their usual steps would.
func (t *tracer) reach() float64 {
	variance, round := 0.0, 0.0
	for _, r := range t.rows[t.pool:] {
		variance += r.spread[0]*r.spread[0] + r.spread[1]*r.spread[1]
		round += r.round
	}
	return 2*math.Sqrt(variance) + round + slack
}

// fit brings the couple into one of some positions.
func (t *tracer) fit(ps routine.PositionSet) {
	last := len(t.rows) - 1
	c := &t.rows[last].couple
	at := c.Apart()
	to, position := nearestOf(ps, at)
	reach := t.reach()
	if off := to.Distance(at) - reach; off > 0 {
		t.faults = append(t.faults, fault{row: last, kind: missed, position: position, off: to.Distance(at), way: at.Minus(to), from: t.missedFrom(position)})
	} else if position.Region().Hands {
		to = settled(at, to, usual(1<<position), reach)
	}
	missing := to.Minus(at)
	if missing != (Point{}) {
		t.spread(missing.facing(c[routine.Leader].Facing))
	}
	t.pool = last + 1
}

// settled returns how near to home, where partners usually are in a hold, they get. At is
// where they are, into where they must at least get, and reach how far they can go.
func settled(at, into, home Point, reach float64) Point {
	if home.Distance(at) <= reach {
		return home
	}
	rest := home.Minus(into)
	return into.Plus(rest.Times(max(0, reach-into.Distance(at)) / rest.length()))
}

// missedFrom returns the row since which a position is missed.
func (t *tracer) missedFrom(p routine.Position) int {
	row := len(t.rows) - 1
	for row > t.pool {
		at := t.rows[row-1].couple.Apart()
		if nearest(p.Region(), at) == at {
			break
		}
		row--
	}
	return row
}

// spread spreads a way, by which the follower must be farther from the leader,
// over the steps of the pool.
func (t *tracer) spread(missing Point) {
	pool := t.rows[t.pool:]
	weight := func(r *traced, q int) float64 {
		round := r.round * r.share[q]
		return r.spread[q]*r.spread[q] + round*round
	}
	total := 0.0
	for i := range pool {
		total += weight(&pool[i], 0) + weight(&pool[i], 1)
	}
	for q, sign := range [2]float64{-1, 1} {
		sum := Point{}
		sums := make([]Point, len(pool))
		for i := range pool {
			r := &pool[i]
			switch {
			case total > 0:
				sum = sum.Plus(missing.Times(sign * weight(r, q) / total))
			case q == int(routine.Follower) && i == len(pool)-1:
				sum = missing
			}
			sums[i] = sum
			d := &r.couple[q]
			d.Body = d.Body.Plus(sum)
			for f := range d.feet {
				if k := r.placed[q][f] - t.pool; k >= 0 {
					d.feet[f].At = d.feet[f].At.Plus(sums[k])
				}
			}
		}
	}
}
