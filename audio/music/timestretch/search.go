package timestretch

import (
	"math"
	"slices"
)

// What a way through a passage costs. A jump also costs what it joins badly,
// see matcher.load.
const (
	jumpCost   = 0.06 // of a jump that joins perfectly
	maskedCost = 0.35 // of a splice that an attack masks
	dueCost    = 0.03 // of each block in which dueMost is due
	anchorCost = 6.0  // where 10 ms are due at an anchor
	astrayMost = 0.05 // more due at the anchors of a passage makes its fades shorter
	thriceCost = 0.5  // of a jump that repeats what the one before it has repeated
	endCost    = 0.5  // where 10 ms are due at the end of a passage, if there is no attack
	missedCost = 0.05 // where dueTrust is due at an attack
	roomless   = 4.0  // ms that may be due, at a cost of 1, where there is no room for that splice
)

// dueCell is the raster of what is due, in values of Source.mono: of two ways
// that are nearer, only the better one is kept.
const dueCell = 4

// state is the best way so far to be at a place with so much due.
type state struct {
	cost   float32
	sum    int32   // of its jumps, in values of Source.mono; back is positive
	node   int32   // its last jump, -1 for none
	astray float32 // how much is due at the anchors on it, see displaced
}

const unreached = math.MinInt32

func (s *state) reached() bool { return s.sum != unreached }

// node is a jump on a way, and the one before it.
type node struct {
	place, lag int32
	before     int32
}

// search finds the jumps through the passage that the matcher has loaded which
// together cost least, by dynamic programming over the places for a jump and
// what is due there. All jumps go the same way. Kept tells whether anchors are
// near their places and there is room for the splice that the attack masks, if
// one is due.
func (p *planner) search(back bool, end int64, attacked bool) (way []node, kept bool) {
	m, l := &p.match, p.source.lengths
	for len(p.rows) <= m.blocks {
		p.rows = append(p.rows, nil)
	}
	p.nodes = p.nodes[:0]
	p.clear(0)
	p.rows[0][p.cell(p.dueAt(m.from))] = state{node: -1}
	anchor := p.tempo.after(m.from)
	for k := 1; k <= m.blocks; k++ {
		in := m.from + int64(k*l.block)
		undone := p.dueAt(in)
		p.clear(k)
		p.readOn(k, undone)
		for _, c := range m.at(k) {
			p.consider(k, c, back, undone)
		}
		for ; anchor < len(p.tempo) && p.tempo[anchor].In < in+int64(l.block); anchor++ {
			for i := range p.rows[k] {
				if s := &p.rows[k][i]; s.reached() && !p.joining(s, k) {
					d := p.displaced(p.left(undone, s.sum))
					s.cost, s.astray = s.cost+anchorCost*d, s.astray+d
				}
			}
		}
	}
	last, kept := p.cheapest(end, attacked)
	return p.way(last), kept
}

// cell is the index for what is due, the last one for all that is more.
func (p *planner) cell(due float64) int {
	l := &p.source.lengths
	return int((min(max(due, -l.most), l.most)+l.most)/l.cell + 0.5)
}

// left is what is due after jumps, in frames.
func (p *planner) left(undone float64, sum int32) float64 {
	return undone - float64(sum)*float64(p.source.lengths.thin)
}

// clear makes a row in which no state is reached.
func (p *planner) clear(k int) {
	n := p.cell(math.Inf(1)) + 1
	if cap(p.rows[k]) < n {
		p.rows[k] = make([]state, n)
	}
	p.rows[k] = p.rows[k][:n]
	for i := range p.rows[k] {
		p.rows[k][i].sum = unreached
	}
}

// readOn goes from the place before k to k without a jump.
func (p *planner) readOn(k int, undone float64) {
	row := p.rows[k]
	for _, s := range p.rows[k-1] {
		if !s.reached() {
			continue
		}
		due := p.left(undone, s.sum)
		s.cost += p.lagCost(due)
		if to := &row[p.cell(due)]; !to.reached() || s.cost < to.cost {
			*to = s
		}
	}
}

// consider ends a jump at place k. It begins after the jump before it is joined;
// nor is anything heard three times, or nearly so, unless there is too little
// between two attacks to make do.
func (p *planner) consider(k int, c choice, back bool, undone float64) {
	lag := int32(c.lag)
	if !back {
		p.leap(k-p.match.fade-blocks(lag), k, -lag, c.cost+jumpCost, undone)
		return
	}
	once, again := max(p.match.fade, blocks(3*lag/4)), max(p.match.fade, blocks(lag/4))
	p.leap(k-once, k, lag, c.cost+jumpCost, undone)
	if again < once {
		p.leap(k-again, k, lag, c.cost+jumpCost+thriceCost, undone)
	}
}

// blocks is over how many of them so many values of Source.mono reach.
func blocks(values int32) int { return (int(values) + blockLength - 1) / blockLength }

// leap ends a jump, by so many values back, at place k. At a place before, the
// sound was still read on.
func (p *planner) leap(before, k int, back int32, cost float32, undone float64) {
	if before < 0 {
		return
	}
	p.look(before, k)
	alone := p.line(k, back)
	row := p.rows[k]
	for i := range p.rows[before] {
		s := &p.rows[before][i]
		if !s.reached() {
			continue
		}
		due, cost, astray := p.left(undone, s.sum), s.cost+cost, s.astray
		if len(p.over) > 0 {
			line := p.withLast(alone, s, k)
			for _, a := range p.over {
				d := p.displaced(due + a.out - line.at(a.in))
				cost, astray = cost+anchorCost*d, astray+d
			}
		}
		if to := &row[p.cell(p.left(undone, s.sum+back))]; !to.reached() || cost < to.cost {
			p.nodes = append(p.nodes, node{int32(k), max(back, -back), s.node})
			*to = state{cost, s.sum + back, int32(len(p.nodes) - 1), astray}
		}
	}
}

// point is in frames from where a jump ends, as it would be without the jump.
type point struct{ in, out float64 }

// line is how the map goes over what a jump repeats or skips.
type line struct{ from, to point }

// at is where the map is at in.
func (l line) at(in float64) float64 {
	return l.from.out + (in-l.from.in)*(l.to.out-l.from.out)/(l.to.in-l.from.in)
}

// look finds the anchors over which a jump to place k leads that is read on at
// a place before, or which lie where it is joined, and sets over.
func (p *planner) look(before, k int) {
	m, l := &p.match, p.source.lengths
	p.over = p.over[:0]
	later := float64(m.from + int64(k*l.block))
	for i := p.tempo.after(m.from + int64((before+1)*l.block)); i < len(p.tempo); i++ {
		a := p.tempo[i]
		in := float64(a.In) - later
		if in >= float64(m.fade*l.block) {
			return
		}
		p.over = append(p.over, point{in, float64(a.Out) - p.tempo.Out(later)})
	}
}

// line is that of a jump by so many values back to place k, see spliceTo.
func (p *planner) line(k int, back int32) line {
	l := p.source.lengths
	length, fade := float64(max(back, -back))*float64(l.thin), float64(p.match.fade*l.block)
	if back < 0 {
		return line{point{-length, -length}, point{fade, fade - length}}
	}
	return line{point{-length, -length}, point{fade, fade + length}}
}

// withLast is the line of a jump to place k after a state: if what it repeats
// reaches back into what the last jump repeats, of both, see edit.add.
func (p *planner) withLast(alone line, s *state, k int) line {
	if s.node < 0 || alone.to.out < alone.to.in {
		return alone
	}
	l, last := p.source.lengths, &p.nodes[s.node]
	length, apart := float64(last.lag)*float64(l.thin), float64((k-int(last.place))*l.block)
	if alone.to.in-alone.from.in <= apart {
		return alone
	}
	return line{point{-apart - length, -apart - 2*length}, alone.to}
}

// joining reports whether the last jump is still being joined at place k: an
// anchor there was counted with it.
func (p *planner) joining(s *state, k int) bool {
	return s.node >= 0 && k < int(p.nodes[s.node].place)+p.match.fade
}

// cheapest is the last node of the best way, if that is to be kept to the
// tempo until frame end.
func (p *planner) cheapest(end int64, attacked bool) (best int32, kept bool) {
	best, kept = -1, true
	least := float32(math.Inf(1))
	undone := p.dueAt(end)
	for _, s := range p.rows[p.match.blocks] {
		if !s.reached() {
			continue
		}
		due := math.Abs(p.left(undone, s.sum))
		on := s.astray < astrayMost
		if attacked {
			lacking := p.lacking(due, s, end)
			on = on && lacking <= 0
			s.cost += p.attackCost(due, lacking)
		} else {
			s.cost += endCost * p.displaced(due)
		}
		if s.cost < least {
			best, least, kept = s.node, s.cost, on
		}
	}
	return best, kept
}

// way is the jumps up to a node, in order.
func (p *planner) way(last int32) []node {
	var way []node
	for i := last; i >= 0; i = p.nodes[i].before {
		way = append(way, p.nodes[i])
	}
	slices.Reverse(way)
	return way
}

// lagCost is what it costs to be so many frames from one's place for a block.
func (p *planner) lagCost(due float64) float32 {
	l := &p.source.lengths
	over := max(0, math.Abs(due)/l.most-dueEasy/dueMost) / (1 - dueEasy/dueMost)
	return dueCost * float32(over*over)
}

// displaced is how bad it is that so many frames are due at an anchor: 1 for
// 10 ms.
func (p *planner) displaced(due float64) float32 {
	l := p.source.lengths
	over := max(0, math.Abs(due)-float64(l.of(anchorTrust))) / float64(l.of(10-anchorTrust))
	return float32(over * over)
}

// attackCost is what it costs that so many frames are due, in either
// direction, where an attack follows: they need a masked splice, which may be
// lacking room.
func (p *planner) attackCost(due, lacking float64) float32 {
	l := p.source.lengths
	trust := float64(l.of(dueTrust))
	if due <= trust {
		return missedCost * float32(due/trust)
	}
	cost := maskedCost + float32(due/float64(l.of(100)))
	if lacking > 0 {
		over := due / float64(l.of(roomless))
		cost += float32(over * over)
	}
	return cost
}

// lacking is by how much there is too little room between the last jump and the
// attack at frame end for the splice by what is due, which is masked.
func (p *planner) lacking(due float64, s state, end int64) float64 {
	l := p.source.lengths
	if due <= float64(l.of(dueTrust)) {
		return 0
	}
	joined := p.match.from
	if s.node >= 0 {
		joined += int64(int(p.nodes[s.node].place)+p.match.fade) * int64(l.block)
	}
	return float64(joined) + due - float64(end-l.of(markEarly+beforeAttack+maskedFade+3*maskedTrust))
}
