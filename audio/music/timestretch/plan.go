package timestretch

import "math"

// passage plans up to the next strong attack, or about as far as a passage may
// reach.
func (p *planner) passage() {
	l := p.source.lengths
	next := p.source.attackAfter(p.at.In)
	from := p.at.In
	if next > 0 {
		from = max(from, p.source.attacks[next-1]+l.of(afterAttack))
	}
	end, attacked := p.source.Len(), false
	if next < len(p.source.attacks) {
		end, attacked = p.source.attacks[next], true
	}
	if most := l.of(passageMost); end-p.at.In > 3*most/2 {
		end, attacked = p.tempo.anchorNear(p.at.In+most/2, p.at.In+most), false
	}
	to := end
	if attacked {
		to -= l.of(beforeAttack + maskedFade)
	}
	first := len(p.edit.splices)
	p.jumps(from, to, end, attacked)
	if attacked {
		p.masked(from, end)
	}
	for i := first; i < len(p.edit.splices); i++ {
		p.edit.splices[i].joined = p.join.join(p.source, &p.edit.splices[i-1], &p.edit.splices[i])
	}
	p.at = Anchor{In: end, Out: p.at.Out + end - p.at.In}
	p.edit.planned = p.at.Out
	p.edit.finish(p.source.Len())
	if end >= p.source.Len() {
		p.done = true
		p.match, p.join, p.rows, p.nodes = matcher{}, joiner{}, nil, nil // free the memory
	}
}

// jump adds a splice at which the reading, now at p.at, reaches frame in and
// moves by jump frames.
func (p *planner) jump(in, jump, fade int64) {
	at := Anchor{In: in, Out: p.at.Out + in - p.at.In}
	s := spliceTo(at, jump, fade)
	p.edit.add(s)
	p.at = Anchor{In: s.in, Out: s.out}
}

// jumpOf returns where a jump by length frames begins, and the jump, if later is
// the later of the two places that it joins.
func jumpOf(length, later int64, back bool) (in, jump int64) {
	if back {
		return later, -length
	}
	return later - length, length
}

// masked makes the splice just before the attack at frame end, if one is due.
// Nothing before frame from is repeated or skipped.
func (p *planner) masked(from, end int64) {
	l := p.source.lengths
	due := int64(math.Round(p.dueAt(end + l.of(markEarly))))
	if max(due, -due) <= l.of(dueTrust) {
		return
	}
	fade := l.of(maskedFade)
	last := end - l.of(beforeAttack) - fade // the latest that the later of its two places may be
	if n := len(p.edit.splices); n > 1 {
		// Not within the last jump's fade.
		from = max(from, p.edit.splices[n-1].to.In)
	}
	length := max(due, -due)
	if last-length < from {
		return // it would take in the attack before, so this stays due
	}
	best, bestJump, least := int64(-1), int64(0), math.Inf(1)
	trust := l.of(maskedTrust)
	earliest := max(last-l.of(maskedReach), from+length)
	for later := last; later >= earliest; later -= max(1, l.of(0.5)) {
		for d := -trust; d <= trust; d += max(1, l.of(0.1)) {
			in, jump := jumpOf(length+d, later, due > 0)
			if min(in, in+jump) < from {
				continue
			}
			if cost, ok := p.source.difference(in, in+jump, fade); ok && cost < least {
				best, bestJump, least = in, jump, cost
			}
		}
	}
	if best >= 0 {
		p.jump(best, bestJump, fade)
	}
}

// jumps makes the cheapest set of jumps for the passage [from, to) that keeps
// to the tempo at frame end; strictly, if there is an attack.
func (p *planner) jumps(from, to, end int64, attacked bool) {
	l := p.source.lengths
	start := p.due(p.at)
	if attacked {
		end += l.of(markEarly)
	}
	last := p.dueAt(end)
	if trust := float64(l.of(dueTrust)); math.Abs(start) <= trust && math.Abs(last) <= trust {
		return
	}
	refined := int64(l.thin) // refining moves a jump by no more
	from, to = from+refined, to-refined
	back := last > 0
	fade := fadeFor(l, to-from, int64(math.Abs(last)))
	var way []node
	for kept := false; !kept; {
		if from >= to || !p.match.load(p.source, from, to, fade) {
			return
		}
		way, kept = p.search(back, end, attacked)
		fade = int64(p.match.fade * l.block)
		if !kept {
			kept, fade = p.match.fade == fadeBlocks, fade/2
		}
	}
	for _, n := range way {
		in, jump := jumpOf(int64(n.lag)*int64(l.thin), p.match.from+int64(n.place)*int64(l.block), back)
		p.jump(in, p.source.refine(in, jump, fade, int64(l.thin/2+1)), fade)
	}
}
