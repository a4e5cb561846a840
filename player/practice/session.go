package practice

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Wish is what a session is made for.
type Wish struct {
	Now     time.Time
	Minutes float64
	Goal    routine.Tempo // 0 is the sheet's own
	By      time.Time     // the day on which the goal is to be danced; zero for none
	Dancers routine.Dancers
	Couple  bool          // each partner's own marks count
	Every   time.Duration // of dancing between two breathers; 0 is usualEvery
}

// Our own choices: how long people dance at an exercise and then breathe, and the
// tempi, in per cent of the sheet's, of who has danced nothing yet.
const (
	usualEvery = 8 * time.Minute
	breath     = 30 * time.Second

	firstTempo   = 70.0
	rung         = 5.0
	warmUpSlower = 15.0 // below today's level
	joinSlower   = 10.0
	longestClimb = 5 // passes
	duePasses    = 3
	shakyPasses  = 4
	mostShaky    = 8
	mostWholes   = 3
)

// How much of what is left after the warm-up and the whole routine is for joins,
// and for joins and figures together; the rest is for the ladder (our own choice).
const joinShare, pieceShare = 0.4, 0.8

// warmUpShare is how much of what is left beside the whole routine the warm-up may take
// (our own choice).
const warmUpShare = 0.2

// Session is what to practise, in order. It is left and resumed by how many of
// its exercises are done.
type Session struct {
	Title     string     `json:"title"`
	Dance     string     `json:"dance"`
	Made      time.Time  `json:"made"`
	Level     float64    `json:"level"` // the tempo that is danced clean, in per cent of the sheet's
	Today     float64    `json:"today"` // the one to reach today
	Goal      float64    `json:"goal"`
	Exercises []Exercise `json:"stretches"`
	Done      int        `json:"done"`
}

// Takes is how long all of s takes.
func (s Session) Takes() (all time.Duration) {
	for _, st := range s.Exercises {
		all += st.Takes
	}
	return all
}

// Next is the exercise to dance; ok is false after the last.
func (s Session) Next() (next Exercise, ok bool) {
	if s.Done >= len(s.Exercises) {
		return Exercise{}, false
	}
	return s.Exercises[s.Done], true
}

// Fits reports whether a session that was kept can be led through on a timeline: whether all
// that is left of it can be danced.
func (s Session) Fits(timeline *player.Timeline) bool {
	fits := func(st Exercise) bool {
		takes := 0 <= st.Takes && st.Takes <= 24*time.Hour
		if st.Kind == Breather {
			return takes
		}
		playable := func(percent float64) bool {
			return player.SlowestPercent <= percent && percent <= player.FastestPercent
		}
		t := st.Tempi
		return takes && 0 <= st.From && st.From < st.To && st.To <= len(timeline.Score.Passages) &&
			!st.Part.Empty() && timeline.Start <= st.Part.From && st.Part.To <= timeline.End &&
			playable(t.Start) && playable(t.Top) && (t.Gain == 0 || t.Gain >= player.LeastGain && t.Start <= t.Top) &&
			0 < st.Passes && st.Passes <= mostPasses
	}
	return len(s.Exercises) > 0 && 0 <= s.Done && s.Done <= len(s.Exercises) && !slices.ContainsFunc(s.Exercises[s.Done:], func(st Exercise) bool { return !fits(st) })
}

// mostPasses is more than an exercise of any session has.
const mostPasses = 999

// After is s with one more exercise done.
func (s Session) After() Session {
	s.Done = min(s.Done+1, len(s.Exercises))
	return s
}

// NewSession plans a session: a warm-up, shaky joins, figures that are due, a
// ladder of tempi, the whole routine, and breathers between. It lasts no longer
// than is wished for, unless dancing the routine once takes longer; it ends earlier
// when more would only repeat what is known. A timeline on which nothing is danced
// has an empty one.
func NewSession(timeline *player.Timeline, past *History, w Wish) Session {
	p := newPlanner(timeline, past, w)
	s := Session{Title: timeline.Score.Title, Dance: timeline.Score.Dance.Name, Made: w.Now, Level: p.level, Today: p.today, Goal: p.goal}
	if len(timeline.Score.Passages) == 0 {
		return s
	}
	s.Exercises = p.withBreathers(p.exercises())
	return s
}

// planner makes one session.
type planner struct {
	maker     maker
	past      *History
	wish      Wish
	day       Day
	pieces    []pieceAt
	level     float64
	today     float64
	goal      float64
	left      time.Duration
	breathers int
}

// place is where in a score a piece is danced first.
type pieceAt struct {
	Piece
	passage int // the second one's for a join
}

func newPlanner(timeline *player.Timeline, past *History, w Wish) *planner {
	p := &planner{maker: maker{timeline}, past: past, wish: w, day: DayOf(w.Now), pieces: placesOf(timeline.Score)}
	p.goal = 100
	if w.Goal != 0 {
		p.goal = percentOf(timeline, w.Goal)
	}
	p.goal = roundPercent(p.goal)
	p.level = roundPercent(min(p.danced(), p.goal))
	p.today = p.target()
	p.left = time.Duration(w.Minutes * float64(time.Minute))
	p.breathers = int(p.left / (p.every() + breath))
	p.left -= time.Duration(p.breathers) * breath
	return p
}

func (p *planner) every() time.Duration { return cmp.Or(p.wish.Every, usualEvery) }

// placesOf lists a score's pieces, each where it is danced first and whole.
func placesOf(s *routine.Score) (list []pieceAt) {
	seen := map[Piece]bool{}
	add := func(pl pieceAt) {
		if !seen[pl.Piece] {
			seen[pl.Piece] = true
			list = append(list, pl)
		}
	}
	for i := range s.Passages {
		fig := FigureOf(s.Dance, s.Passages[i].Figure)
		if i > 0 && s.Passages[i].Joined {
			add(pieceAt{Piece{FigureOf(s.Dance, s.Passages[i-1].Figure), fig}, i})
		}
		add(pieceAt{Piece{Figure: fig}, i})
	}
	return list
}

// partners are those whose records count.
func (p *planner) partners() (list []routine.Partner) {
	for _, q := range routine.Partners() {
		if p.wish.Dancers.Include(q) {
			list = append(list, q)
		}
	}
	return list
}

// danced is the tempo that all partners danced clean, in per cent of the
// sheet's: of the whole routine, else of the figure that is slowest.
func (p *planner) danced() float64 {
	best := math.Inf(1)
	for _, q := range p.partners() {
		own := p.past.Whole(q)
		if own == 0 {
			own = p.slowest(q)
		}
		best = min(best, percentOf(p.maker.line, own))
	}
	if best == 0 {
		return firstTempo
	}
	return best
}

// slowest is the fastest clean tempo of the figure for which that is slowest; 0
// if a figure was never clean.
func (p *planner) slowest(q routine.Partner) (t routine.Tempo) {
	for i, pl := range p.pieces {
		if r := p.past.Of(pl.Piece, q); !pl.Join() && (i == 0 || r.Best < t) {
			t = r.Best
		}
	}
	return t
}

// target is today's tempo: a day's share of the way to the goal, or a rung where
// no day is named.
func (p *planner) target() float64 {
	gain := rung
	if !p.wish.By.IsZero() {
		days := max(int(DayOf(p.wish.By)-p.day), 0)
		gain = (p.goal - p.level) / float64(days+1)
	}
	return roundPercent(min(p.level+gain, p.goal))
}

// exercises fills the time, without breathers.
func (p *planner) exercises() []Exercise {
	b, dancers := p.maker, p.wish.Dancers
	all := len(b.line.Score.Passages)
	whole := b.passages(Whole, 0, all, dancers, steady(p.today), 1)
	whole.Why = "all of it, once more"
	p.left -= whole.Takes
	list := p.warmUp()
	for _, s := range list {
		p.left -= s.Takes
	}
	left := p.left
	joins, figures := p.shaky(), p.due()
	taken := p.fit(joins, left-time.Duration(joinShare*float64(left)))
	taken = append(taken, p.fit(figures, left-time.Duration(pieceShare*float64(left)))...)
	climb := p.climb()
	p.lengthen(taken)
	list = append(append(list, taken...), climb...)
	for whole.Passes < mostWholes {
		more := b.passages(Whole, 0, all, dancers, steady(p.today), whole.Passes+1)
		if more.Takes-whole.Takes > p.left {
			break
		}
		p.left -= more.Takes - whole.Takes
		more.Why = whole.Why
		whole = more
	}
	return append(list, whole)
}

// fit takes, in order, those exercises that leave at least so much time.
func (p *planner) fit(list []Exercise, leave time.Duration) (fits []Exercise) {
	for _, s := range list {
		if p.left-s.Takes >= max(leave, 0) {
			p.left -= s.Takes
			fits = append(fits, s)
		}
	}
	return fits
}

// lengthen spends the time that is left on what went wrong, a pass for each in
// turn. What is merely due gains nothing by more passes on the same day.
func (p *planner) lengthen(list []Exercise) {
	for range mostShaky {
		for i, s := range list {
			if s.Passes < shakyPasses || s.Passes >= mostShaky {
				continue
			}
			longer := s
			longer.Passes, longer.Takes = s.Passes+1, 0
			if longer = p.maker.make(longer); longer.Takes-s.Takes <= p.left {
				p.left -= longer.Takes - s.Takes
				list[i] = longer
			}
		}
	}
}

// warmUp dances as much from the start on as its share of the time allows, slowly.
func (p *planner) warmUp() []Exercise {
	b := p.maker
	slow := steady(roundPercent(p.level - warmUpSlower))
	for to := len(b.line.Score.Passages); to > 0; to-- {
		s := b.passages(WarmUp, 0, to, p.wish.Dancers, slow, 1)
		if s.Takes <= time.Duration(warmUpShare*float64(p.left)) {
			s.Why = "slowly, to get warm"
			return []Exercise{s}
		}
	}
	return nil
}

// need is who needs a piece, and how much.
type need struct {
	pieceAt
	who    []routine.Partner
	amount float64 // how likely one of them has forgotten it, added up
	shaky  bool
	fresh  bool // for one of them it is new
}

// needs lists pieces, those first that most partners need, then those most need.
func (p *planner) needs(wanted func(*Record, pieceAt) bool) (list []need) {
	for _, pl := range p.pieces {
		n := need{pieceAt: pl}
		for _, q := range p.partners() {
			r := p.past.Of(pl.Piece, q)
			if !wanted(&r, pl) {
				continue
			}
			n.who = append(n.who, q)
			n.amount += 1 - r.Recall(p.day)
			n.shaky = n.shaky || r.Shaky()
			n.fresh = n.fresh || r.New()
		}
		if len(n.who) > 0 {
			list = append(list, n)
		}
	}
	slices.SortStableFunc(list, func(a, b need) int {
		return cmp.Or(cmp.Compare(len(b.who), len(a.who)), compareBool(b.shaky, a.shaky), compareBool(a.fresh, b.fresh), cmp.Compare(b.amount, a.amount))
	})
	return list
}

// compareBool puts true after false.
func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// side is who dances what some need: one partner alone only where a couple has
// marks of its own.
func (p *planner) side(n need) routine.Dancers {
	if p.wish.Couple && p.wish.Dancers == routine.Both && len(n.who) == 1 {
		return routine.Alone(n.who[0])
	}
	return p.wish.Dancers
}

// why says who needs something and why.
func (p *planner) why(n need) string {
	reason := "due again"
	switch {
	case n.shaky:
		reason = "it went wrong"
	case n.fresh:
		reason = "new"
	}
	if p.wish.Couple && p.wish.Dancers == routine.Both {
		whose := "both"
		if len(n.who) == 1 {
			whose = "the " + n.who[0].String()
		}
		reason += ", for " + whose
	}
	return reason
}

// shaky are the joins that went wrong.
func (p *planner) shaky() (list []Exercise) {
	wanted := func(r *Record, pl pieceAt) bool { return pl.Join() && r.Shaky() }
	for _, n := range p.needs(wanted) {
		tempi := Tempi{Start: roundPercent(p.level - joinSlower), Gain: rung, Top: p.level}
		s := p.maker.join(ShakyJoin, n.passage, p.side(n), tempi, shakyPasses)
		s.Why = p.why(n)
		list = append(list, s)
	}
	return list
}

// due are the figures that are due.
func (p *planner) due() (list []Exercise) {
	wanted := func(r *Record, pl pieceAt) bool { return !pl.Join() && r.Needs(p.day) }
	for _, n := range p.needs(wanted) {
		passes := duePasses
		if n.shaky {
			passes = shakyPasses
		}
		tempi := Tempi{Start: roundPercent(p.level - joinSlower), Gain: rung, Top: p.level}
		s := p.maker.passages(DueFigure, n.passage, n.passage+1, p.side(n), tempi, passes)
		s.Why = p.why(n)
		list = append(list, s)
	}
	return list
}

// climb is the ladder to today's tempo: as many rungs as there is time for. Who
// dances at the goal's tempo needs none.
func (p *planner) climb() []Exercise {
	b := p.maker
	if p.level >= p.goal {
		return nil
	}
	for passes := longestClimb; passes > 1; passes-- {
		start := roundPercent(p.today - rung*float64(passes-1))
		if start < p.level-warmUpSlower {
			continue
		}
		tempi := Tempi{Start: start, Gain: rung, Top: p.today}
		s := b.passages(TempoLadder, 0, len(b.line.Score.Passages), p.wish.Dancers, tempi, passes)
		if s.Takes <= p.left {
			p.left -= s.Takes
			s.Why = fmt.Sprintf("towards %s", b.line.Score.Dance.TempoText(b.line.Score.Tempo.Scaled(p.goal)))
			return []Exercise{s}
		}
	}
	return nil
}

// withBreathers puts breathers, as many as there is time for, where enough was danced.
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
