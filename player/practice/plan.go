package practice

import (
	"cmp"
	"fmt"
	"math"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// How a session is made follows research on practice and memory. How much of each is our own choice,
// as are tempi, in per cent of the sheet's, and times.
//
// What was learnt with rests between is kept better than what was learnt without, also in movements
// that flow on as dancing does (T. D. Lee, E. D. Genovese, "Distribution of practice in motor skill
// acquisition", Research Quarterly for Exercise and Sport 59, 1988). Hence the breathers.
const (
	usualEvery = 8 * time.Minute
	breath     = 30 * time.Second
)

// The firstTempo is for dancers who have danced nothing yet. Even what is well known goes worse at
// first after a rest (J. A. Adams, "The second facet of forgetting: a review of warm-up decrement",
// Psychological Bulletin 58, 1961, as others cite it), so a session begins slowly.
const (
	firstTempo   = 70.0
	rung         = 5.0
	warmUpSlower = 15.0 // below the level
	warmUpShare  = 0.1  // of the time beside the run-through at the end
)

// Beginners learn better from repeating one thing, and those who know it from changing between several
// (M. A. Guadagnoli, T. D. Lee, "Challenge point", Journal of Motor Behavior 36, 2004). So what is new
// or went wrong is repeated, alone and then in its place, before it is mixed with the rest.
const (
	repeats       = 3
	placed        = 2
	repeatedShare = 0.4
)

// Taking turns makes practice harder and what is learnt last (J. B. Shea, R. L. Morgan, "Contextual
// interference effects …", Journal of Experimental Psychology: Human Learning and Memory 5, 1979), and
// a fixed order of turns does so as well as a random one (T. D. Lee, R. A. Magill, "The locus of
// contextual interference in motor-skill acquisition", Journal of Experimental Psychology: Learning,
// Memory, and Cognition 9, 1983). In each turn the first run-through is by heart and the next shows the
// steps: recalling something makes it last longer than seeing it again (H. L. Roediger, J. D. Karpicke,
// "Test-enhanced learning", Psychological Science 17, 2006, as others cite it).
const (
	turn        = 2 // run-throughs
	mostTurns   = 8 // of what is new or went wrong
	mostDue     = 2 // of what is due
	mostTooSlow = 2 // of what is only too slow
)

// Practice at several tempi prepares for one between them (R. Kerr, B. Booth, "Specific and varied
// practice of motor skill", Perceptual and Motor Skills 46, 1978; but J. H. A. van Rossum, "Schmidt's
// schema theory", Human Movement Science 9, 1990, finds little support for it in all studies together).
const (
	climbShare   = 0.2
	longestClimb = 5 // run-throughs
	variedShare  = 0.1
	variedSlower = 15.0
	variedFaster = 10.0
	swappedShare = 0.1
)

// More of what goes well already is a waste on the same day: it is soon forgotten (D. Rohrer and
// others, "The effect of overlearning on long-term retention", Applied Cognitive Psychology 19, 2005),
// while the same practice on another day lasts (C. H. Shea and others, "Spacing practice sessions across
// days benefits the learning of motor skills", Human Movement Science 19, 2000; N. J. Cepeda and others,
// "Distributed practice in verbal recall tasks", Psychological Bulletin 132, 2006). So a session ends
// early rather than go on for ever.
const (
	mostWholes = 4   // run-throughs beside the one at the end
	enough     = 0.9 // of the time wished; a session that is shorter says why
)

// NewSession plans a session: a warm-up; what went wrong and what is new, again and again and then in
// its place; all that is needed by turns; a ladder of tempi, other tempi, and the whole routine as it
// will be shown. Breathers are between. It takes no longer than wished, unless one run-through of the
// routine does; if it is shorter, its Why says why. It is empty for a timeline without steps.
func NewSession(timeline *player.Timeline, past *History, w Wish) Session {
	p := newPlanner(timeline, past, w)
	s := Session{Title: timeline.Score.Title, Dance: timeline.Score.Dance.Name, Made: w.Now, Level: p.level, Today: p.today, Goal: p.goal}
	if len(timeline.Score.Passages) == 0 {
		return s
	}
	s.Exercises = p.withBreathers(p.exercises())
	s.Tomorrow = p.tomorrow()
	s.Why = p.why(s.Takes())
	return s
}

// planner plans one session.
type planner struct {
	maker     maker
	past      *History
	wish      Wish
	day       Day
	needs     []need
	met       int // how many of them the session practises
	level     float64
	today     float64
	goal      float64
	left      time.Duration
	breathers int
}

func newPlanner(timeline *player.Timeline, past *History, w Wish) *planner {
	p := &planner{maker: maker{timeline}, past: past, wish: w, day: DayOf(w.Now)}
	pieces := placesOf(timeline.Score)
	p.goal = 100
	if w.Goal != 0 {
		p.goal = percentOf(timeline, w.Goal)
	}
	p.goal = roundPercent(p.goal)
	p.level = roundPercent(min(p.danced(pieces), p.goal))
	p.today = p.target()
	p.needs = needsOf(pieces, past, w.Dancers, p.day, timeline.Score.Tempo.Scaled(p.today))
	p.left = time.Duration(w.Minutes * float64(time.Minute))
	p.breathers = int(p.left / (p.every() + breath))
	p.left -= time.Duration(p.breathers) * breath
	return p
}

func (p *planner) every() time.Duration { return cmp.Or(p.wish.Every, usualEvery) }

// danced returns the tempo that all partners have danced clean, in per cent of the sheet's: for the
// whole routine or, if that was never clean, by their slowest figure.
func (p *planner) danced(pieces []pieceAt) float64 {
	best := math.Inf(1)
	for _, q := range p.wish.Dancers.Partners() {
		own := p.past.Whole(q)
		if own == 0 {
			own = p.slowest(pieces, q)
		}
		best = min(best, percentOf(p.maker.timeline, own))
	}
	if best == 0 {
		return firstTempo
	}
	return best
}

// slowest returns the lowest, over all figures, of the partner's best clean tempo; 0 if some figure was
// never clean.
func (p *planner) slowest(pieces []pieceAt, q routine.Partner) (t routine.Tempo) {
	for i, pl := range pieces {
		r := p.past.Of(pl.Piece, q)
		if !pl.Join() && (i == 0 || r.Best < t) {
			t = r.Best
		}
	}
	return t
}

// target returns today's tempo: a day's share of the way to the goal, or one rung up if there is no
// date.
func (p *planner) target() float64 {
	gain := rung
	if !p.wish.By.IsZero() {
		days := max(int(DayOf(p.wish.By)-p.day), 0)
		gain = (p.goal - p.level) / float64(days+1)
	}
	return roundPercent(min(p.level+gain, p.goal))
}

// exercises fills the time, without breathers.
func (p *planner) exercises() (list []Exercise) {
	test := p.test()
	p.left -= test.Takes
	all := p.left
	share := func(of float64) time.Duration { return min(time.Duration(of*float64(all)), p.left) }
	list = p.warmUp(share(warmUpShare))
	tempi := p.climb(share(climbShare * p.known()))
	tempi = append(tempi, p.varied(share(variedShare*p.known()))...)
	tempi = append(tempi, p.swapped(share(swappedShare))...)
	list = append(append(list, p.practise()...), tempi...)
	return append(append(list, p.wholes()...), test)
}

// known returns the share of the needs that are neither new nor shaky: whoever still goes wrong gains
// little by another tempo.
func (p *planner) known() float64 {
	all := len(p.maker.timeline.Score.Passages)
	unknown := 0
	for _, n := range p.needs {
		if n.apart() {
			unknown++
		}
	}
	return max(0, 1-float64(unknown)/float64(all))
}

// take takes an exercise if it lasts no longer than it may, and than there is time for.
func (p *planner) take(e Exercise, may time.Duration) bool {
	if e.Takes > min(may, p.left) {
		return false
	}
	p.left -= e.Takes
	return true
}

// whole returns an exercise on all of the routine.
func (p *planner) whole(kind Kind, tempi Tempi, passes int, why string) Exercise {
	e := p.maker.passages(kind, 0, len(p.maker.timeline.Score.Passages), p.wish.Dancers, tempi, passes)
	e.Why = why
	return e
}

// test returns the run-through at the end, by heart unless something is new.
func (p *planner) test() Exercise {
	e := p.whole(Whole, steady(p.today), 1, "as you will show it")
	if !p.learning() {
		e.ByHeart = 1
	}
	return e
}

// learning reports whether something is new to one of the dancers.
func (p *planner) learning() bool {
	for _, n := range p.needs {
		for _, q := range n.who {
			if r := p.past.Of(n.Piece, q); r.Passes == 0 {
				return true
			}
		}
	}
	return false
}

// warmUp dances, slowly, as much from the start as it may.
func (p *planner) warmUp(may time.Duration) []Exercise {
	slow := steady(roundPercent(p.level - warmUpSlower))
	for to := len(p.maker.timeline.Score.Passages); to > 0; to-- {
		e := p.maker.passages(WarmUp, 0, to, p.wish.Dancers, slow, 1)
		e.Why = "slowly, to get warm"
		if p.take(e, may) {
			return []Exercise{e}
		}
	}
	return nil
}

// climb returns the ladder up to today's tempo, with as many rungs as there may be. There is none for
// those who have reached the goal.
func (p *planner) climb(may time.Duration) []Exercise {
	if p.level >= p.goal {
		return nil
	}
	score := p.maker.timeline.Score
	for passes := longestClimb; passes > 1; passes-- {
		start := roundPercent(p.today - rung*float64(passes-1))
		if start < p.level-warmUpSlower {
			continue
		}
		e := p.whole(TempoLadder, Tempi{Start: start, Gain: rung, Top: p.today}, passes, "towards "+score.Dance.TempoText(score.Tempo.Scaled(p.goal)))
		if p.take(e, may) {
			return []Exercise{e}
		}
	}
	return nil
}

// varied returns the routine slower and faster than today, for those who know it.
func (p *planner) varied(may time.Duration) []Exercise {
	slower, faster := roundPercent(p.today-variedSlower), roundPercent(p.today+variedFaster)
	if p.learning() || faster-slower < player.LeastGain {
		return nil
	}
	e := p.whole(Varied, Tempi{Start: slower, Gain: faster - slower, Top: faster}, 2, "slower and faster than today's tempo")
	if p.take(e, may) {
		return []Exercise{e}
	}
	return nil
}

// swapped returns the routine in the other part, for those who dance both.
func (p *planner) swapped(may time.Duration) []Exercise {
	if !p.wish.Swap {
		return nil
	}
	e := p.whole(Swapped, steady(roundPercent(p.level-2*rung)), 1, "change parts")
	e.Dancers = e.Dancers.Swapped()
	if p.take(e, may) {
		return []Exercise{e}
	}
	return nil
}

// practise meets the needs, as many as there is time for: first what must be repeated, then all by turns.
// If time is left, it goes on with those that had none.
func (p *planner) practise() (list []Exercise) {
	for p.met < len(p.needs) {
		from, share := p.met, time.Duration(repeatedShare*float64(p.left))
		for ; p.met < len(p.needs); p.met++ {
			n := p.needs[p.met]
			repeated := p.repeated(n)
			takes := time.Duration(0)
			for _, e := range repeated {
				takes += e.Takes
			}
			if first := p.met == from; takes > p.left || takes > share && !first {
				break
			}
			share, p.left = share-takes, p.left-takes
			list = append(list, repeated...)
		}
		if p.met == from {
			break
		}
		list = append(list, p.turns(p.needs[from:p.met])...)
	}
	return list
}

// repeated returns the exercises that repeat a piece, alone and then in its place; none for one that is
// known.
func (p *planner) repeated(n need) []Exercise {
	if !n.apart() {
		return nil
	}
	list := []Exercise{p.alone(n, p.tempi(n), repeats)}
	if n.urgency == shaky {
		list = append(list, p.inPlace(n)...)
	}
	return list
}

// top returns the tempo at which a piece is to go well: the level or, if it went wrong at a faster one, that.
func (p *planner) top(n need) float64 {
	return max(p.level, roundPercent(percentOf(p.maker.timeline, n.tempo)))
}

// tempi returns those at which a piece is repeated.
func (p *planner) tempi(n need) Tempi {
	if n.urgency == slow {
		return Tempi{Start: p.level, Gain: rung, Top: max(p.level, p.today)}
	}
	top := p.top(n)
	return Tempi{Start: roundPercent(top - rung*float64(repeats-1)), Gain: rung, Top: top}
}

// alone returns an exercise on a piece alone.
func (p *planner) alone(n need, tempi Tempi, passes int) (e Exercise) {
	if n.Join() {
		e = p.maker.join(ShakyJoin, n.passage, p.dancers(n), tempi, passes)
	} else {
		e = p.maker.passages(DueFigure, n.passage, n.passage+1, p.dancers(n), tempi, passes)
	}
	e.Why = p.reason(n)
	return e
}

// inPlace returns an exercise on a piece with what comes before and after; none if that is all of the
// routine, or the piece alone.
func (p *planner) inPlace(n need) []Exercise {
	from, to := around(n.passage, n.Join(), len(p.maker.timeline.Score.Passages))
	if to-from < 2 {
		return nil
	}
	e := p.maker.passages(InPlace, from, to, p.dancers(n), steady(p.top(n)), placed)
	e.Why = n.what() + " in its place"
	return []Exercise{e}
}

// around returns the passages that a passage, or the join into it, has before and after it.
func around(passage int, join bool, all int) (from, to int) {
	if join {
		return passage - 1, passage + 1
	}
	return max(passage-1, 0), min(passage+2, all)
}

// what names a piece in the dancer's words.
func (n need) what() string {
	if n.Join() {
		return n.Figure.Name + " into " + n.Then.Name
	}
	return n.Figure.Name
}

// turns returns exercises on pieces by turns, while there is time, and while they gain by it.
func (p *planner) turns(needs []need) (list []Exercise) {
	for round := range mostTurns {
		took := false
		for _, run := range p.runs(needs, round) {
			if e := p.turn(run); p.take(e, p.left) {
				list, took = append(list, e), true
			}
		}
		if !took {
			break
		}
	}
	return list
}

// run is what is practised in one turn: a piece, or several that follow each other in the routine.
type run struct {
	first, last int // places
	need        need
}

// mostFigures is how many figures a run has at most (our own choice).
const mostFigures = 4

// runs returns the needs that have a turn in a round, joined to runs where they follow each other: that
// practises more in the same time, and in its place. Whose need comes first comes first.
func (p *planner) runs(needs []need, round int) (runs []run) {
	at := map[int]need{}
	for _, n := range needs {
		if most := [...]int{slow: mostTooSlow, due: mostDue, unjudged: mostDue, fresh: mostTurns, shaky: mostTurns}; round < most[n.urgency] {
			at[n.place()] = n
		}
	}
	for _, n := range needs {
		r := run{n.place(), n.place(), n}
		if _, ok := at[r.first]; !ok {
			continue
		}
		// A join that needs no practice comes along between two figures that do.
		more := func(from, by int) (to int, ok bool) {
			for _, to := range []int{from + by, from + 2*by} {
				also, ok := at[to]
				if ok && p.dancers(also) == p.dancers(n) && (to == from+by || !n.Join() && !also.Join()) {
					return to, true
				}
			}
			return 0, false
		}
		for r.last-r.first < 2*(mostFigures-1) {
			if to, ok := more(r.last, 1); ok {
				r.last = to
			} else if to, ok := more(r.first, -1); ok {
				r.first = to
			} else {
				break
			}
		}
		for place := r.first; place <= r.last; place++ {
			delete(at, place)
		}
		runs = append(runs, r)
	}
	return runs
}

// turn returns one turn of a run.
func (p *planner) turn(r run) Exercise {
	n, tempi := r.need, steady(p.top(r.need))
	if n.urgency == slow {
		tempi = p.tempi(n)
	}
	e := p.alone(n, tempi, turn)
	if r.first < r.last {
		e = p.maker.places(r.first, r.last, e)
	}
	e.Kind, e.ByHeart = Mixed, 1
	return e
}

// dancers returns who dances a piece: one partner alone only if the couple marks separately and the other
// does not need it.
func (p *planner) dancers(n need) routine.Dancers {
	if p.couple() && len(n.who) == 1 {
		return routine.Alone(n.who[0])
	}
	return p.wish.Dancers
}

func (p *planner) couple() bool { return p.wish.Couple && p.wish.Dancers == routine.Both }

// reason says why a piece is practised and, for a couple, who needs it.
func (p *planner) reason(n need) string {
	if !p.couple() {
		return n.urgency.String()
	}
	if len(n.who) == 1 {
		return n.urgency.String() + ", for the " + n.who[0].String()
	}
	return n.urgency.String() + ", for both"
}

// wholes returns run-throughs of the whole, in the time that is left; if that is too short for one, of
// the end, which is danced least when dancers begin anew after each mistake.
func (p *planner) wholes() []Exercise {
	if p.level >= p.goal {
		return nil
	}
	for passes := mostWholes; passes > 0; passes-- {
		if e := p.whole(Whole, steady(p.today), passes, "all of it"); p.take(e, p.left) {
			return []Exercise{e}
		}
	}
	all := len(p.maker.timeline.Score.Passages)
	for from := 1; from < all; from++ {
		e := p.maker.passages(Ending, from, all, p.wish.Dancers, steady(p.today), 1)
		e.Why = "the end is danced least"
		if p.take(e, p.left) {
			return []Exercise{e}
		}
	}
	return nil
}

// tomorrow names what needs practice and had no time.
func (p *planner) tomorrow() (list []string) {
	for _, n := range p.needs[p.met:] {
		list = append(list, n.what())
	}
	return list
}

// why says why a session that takes so long is not as long as wished; "" if it is.
func (p *planner) why(takes time.Duration) string {
	switch {
	case takes.Minutes() > p.wish.Minutes:
		return fmt.Sprintf("the whole routine alone takes longer than %g min", p.wish.Minutes)
	case takes.Minutes() >= enough*p.wish.Minutes:
		return ""
	case p.met < len(p.needs):
		return "nothing else fits in"
	case len(p.needs) == 0:
		return "everything is fresh: more of it today would soon be forgotten, so keep it for another day"
	}
	return "all that needs practice has had enough of it for a day: more today would soon be forgotten, more tomorrow lasts"
}

// withBreathers inserts breathers where enough was danced, as many as there is time for.
func (p *planner) withBreathers(list []Exercise) (out []Exercise) {
	spell := Spell{Every: p.every()}
	for i, s := range list {
		if i > 0 && p.breathers > 0 && spell.Over(s.Takes/2) {
			out = append(out, breather(breath))
			spell.Rest()
			p.breathers--
		}
		out = append(out, s)
		spell.Dance(s.Takes)
	}
	return out
}
