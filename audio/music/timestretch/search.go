package timestretch

import (
	"math"
	"slices"
)

// What a way through a passage costs. Each jump also costs how badly it joins,
// see matcher.load.
const (
	jumpCost   = 0.06 // a jump, even if it joins perfectly
	maskedCost = 0.35 // a splice that an attack masks
	dueCost    = 0.03 // each block in which dueMost is due
	anchorCost = 6.0  // 10 ms due at an anchor
	astrayMost = 0.05 // the most that may be due at a passage's anchors before its fades are shortened
	thriceCost = 0.5  // a jump that repeats what the one before has repeated
	endCost    = 0.5  // 10 ms due at the end of a passage without an attack
	missedCost = 0.05 // dueTrust due at an attack
	roomless   = 4.0  // ms due at an attack without room for its splice, at a cost of 1
)

// dueCell is the resolution of what is due, in values of Source.mono. Of two
// ways that end in one cell, only the cheaper is kept.
const dueCell = 4

// search returns the cheapest set of jumps through the passage that the matcher
// has loaded, by dynamic programming over the places for a jump and what is due
// there. All jumps go the same way. Kept reports whether anchors stay near
// their places and, if a masked splice is due, it has room.
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

// cell returns the index for what is due; anything beyond dueMost is in the
// first or last cell.
func (p *planner) cell(due float64) int {
	l := &p.source.lengths
	return int((min(max(due, -l.most), l.most)+l.most)/l.cell + 0.5)
}

// left returns what is due after jumps that sum to sum, in frames.
func (p *planner) left(undone float64, sum int32) float64 {
	return undone - float64(sum)*float64(p.source.lengths.thin)
}

// clear makes row k one in which no state is reached.
func (p *planner) clear(k int) {
	p.rows[k] = sized(p.rows[k], p.cell(math.Inf(1))+1)
	for i := range p.rows[k] {
		p.rows[k][i].sum = unreached
	}
}

// readOn goes from place k-1 to k without a jump.
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

// consider ends a jump at place k. A jump must not begin before the last one
// has faded in. Nothing may be heard (nearly) three times, unless there is too
// little between two attacks to manage otherwise.
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

// blocks returns how many blocks that many values of Source.mono reach into.
func blocks(values int32) int { return (int(values) + blockLength - 1) / blockLength }

// leap ends a jump by back values at place k. The states it continues are those
// at place before, where the sound was still read without it.
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

// line is the map across what a jump repeats or skips.
type line struct{ from, to point }

// at returns the map at in.
func (l line) at(in float64) float64 {
	return l.from.out + (in-l.from.in)*(l.to.out-l.from.out)/(l.to.in-l.from.in)
}

// look sets over to the anchors that a jump from place before to place k passes
// over, and those in its fade.
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

// line returns the map across a jump by back values to place k, see spliceTo.
func (p *planner) line(k int, back int32) line {
	l := p.source.lengths
	length, fade := float64(max(back, -back))*float64(l.thin), float64(p.match.fade*l.block)
	if back < 0 {
		return line{point{-length, -length}, point{fade, fade - length}}
	}
	return line{point{-length, -length}, point{fade, fade + length}}
}

// withLast returns the map across a jump to place k that follows state s. If it
// repeats part of what the last jump repeats, the line runs across both, see
// edit.add.
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

// joining reports whether the last jump is still fading in at place k. An
// anchor there was counted with that jump.
func (p *planner) joining(s *state, k int) bool {
	return s.node >= 0 && k < int(p.nodes[s.node].place)+p.match.fade
}

// cheapest returns the last node of the cheapest way that keeps to the tempo at
// frame end.
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

// way returns the jumps up to a node, in order.
func (p *planner) way(last int32) []node {
	var way []node
	for i := last; i >= 0; i = p.nodes[i].before {
		way = append(way, p.nodes[i])
	}
	slices.Reverse(way)
	return way
}

// lagCost returns the cost of being due frames from one's place for a block.
func (p *planner) lagCost(due float64) float32 {
	l := &p.source.lengths
	over := max(0, math.Abs(due)/l.most-dueEasy/dueMost) / (1 - dueEasy/dueMost)
	return dueCost * float32(over*over)
}

// displaced returns how bad it is that due frames are due at an anchor: 1 for
// 10 ms.
func (p *planner) displaced(due float64) float32 {
	l := p.source.lengths
	over := max(0, math.Abs(due)-float64(l.of(anchorTrust))) / float64(l.of(10-anchorTrust))
	return float32(over * over)
}

// attackCost returns the cost of due frames (0 or more) still due where an
// attack follows: they need a masked splice, for which lacking frames of room
// may be missing.
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

// lacking returns how many frames of room are missing, between the last jump
// and the attack at frame end, for the masked splice that makes up due frames.
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
