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

// Wish is what a session is planned for.
type Wish struct {
	Now     time.Time
	Minutes float64
	Goal    routine.Tempo // 0 for the sheet's own
	By      time.Time     // the day on which the goal should be reached; zero for none
	Dancers routine.Dancers
	Couple  bool          // whether each partner's own marks count
	Every   time.Duration // dancing time between two breathers; 0 for usualEvery
}

// Our own choices: times of dancing and of rest, tempi in per cent of the sheet's, and numbers of
// run-throughs. The firstTempo is for a couple that has danced nothing yet.
const (
	usualEvery = 8 * time.Minute
	breath     = 30 * time.Second

	firstTempo   = 70.0
	rung         = 5.0
	warmUpSlower = 15.0 // below the level
	pieceSlower  = 10.0
	longestClimb = 5 // run-throughs
	duePasses    = 3
	shakyPasses  = 4
	mostShaky    = 8
	mostWholes   = 3
)

// The share of the time left after the warm-up and the whole routine that joins may take, and joins and
// figures together; the ladder gets the rest (our own choice).
const joinShare, pieceShare = 0.4, 0.8

// warmUpShare is the share of the time beside the whole routine that the warm-up may take (our own
// choice).
const warmUpShare = 0.2

// Session is what to practise, in order. Done is all that changes as it is danced, left and resumed.
type Session struct {
	Title     string     `json:"title"`
	Dance     string     `json:"dance"`
	Made      time.Time  `json:"made"`
	Level     float64    `json:"level"` // the tempo danced clean so far, in per cent of the sheet's
	Today     float64    `json:"today"` // the tempo to reach today
	Goal      float64    `json:"goal"`
	Exercises []Exercise `json:"stretches"`
	Done      int        `json:"done"`
}

// Takes returns how long all of s takes.
func (s Session) Takes() (all time.Duration) {
	for _, st := range s.Exercises {
		all += st.Takes
	}
	return all
}

// Next returns the exercise to dance; ok is false after the last.
func (s Session) Next() (next Exercise, ok bool) {
	if s.Done >= len(s.Exercises) {
		return Exercise{}, false
	}
	return s.Exercises[s.Done], true
}

// Fits reports whether a session that was kept can still be danced on a timeline: whether all exercises
// that are left are valid there.
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

// mostPasses is more than any planned exercise has.
const mostPasses = 999

// After returns s with one more exercise done.
func (s Session) After() Session {
	s.Done = min(s.Done+1, len(s.Exercises))
	return s
}

// NewSession plans a session: a warm-up, shaky joins, figures that are due, a ladder of tempi, the
// whole routine, and breathers between them. It takes no longer than wished, unless one run-through of
// the routine does; it is shorter when more would only repeat what is known. It is empty for a timeline
// without steps.
func NewSession(timeline *player.Timeline, past *History, w Wish) Session {
	p := newPlanner(timeline, past, w)
	s := Session{Title: timeline.Score.Title, Dance: timeline.Score.Dance.Name, Made: w.Now, Level: p.level, Today: p.today, Goal: p.goal}
	if len(timeline.Score.Passages) == 0 {
		return s
	}
	s.Exercises = p.withBreathers(p.exercises())
	return s
}

// planner plans one session.
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

// pieceAt is a piece and where the score first dances it.
type pieceAt struct {
	Piece
	passage int // a join's second passage
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

// placesOf returns a score's pieces, each where it is first danced.
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

// danced returns the tempo that all partners have danced clean, in per cent of the sheet's: for the
// whole routine or, if that was never clean, by their slowest figure.
func (p *planner) danced() float64 {
	best := math.Inf(1)
	for _, q := range p.wish.Dancers.Partners() {
		own := p.past.Whole(q)
		if own == 0 {
			own = p.slowest(q)
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
func (p *planner) slowest(q routine.Partner) (t routine.Tempo) {
	for i, pl := range p.pieces {
		if r := p.past.Of(pl.Piece, q); !pl.Join() && (i == 0 || r.Best < t) {
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
func (p *planner) exercises() []Exercise {
	b, dancers := p.maker, p.wish.Dancers
	all := len(b.timeline.Score.Passages)
	whole := b.passages(Whole, 0, all, dancers, steady(p.today), 1)
	whole.Why = "all of it, once more"
	p.left -= whole.Takes
	list := p.warmUp()
	for _, s := range list {
		p.left -= s.Takes
	}
	left := p.left
	joins := p.needed(func(r *Record, pl pieceAt) bool { return pl.Join() && r.Shaky() })
	figures := p.needed(func(r *Record, pl pieceAt) bool { return !pl.Join() && r.Needs(p.day) })
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

// fit takes, in order, the exercises that leave at least this much time.
func (p *planner) fit(list []Exercise, leave time.Duration) (fits []Exercise) {
	for _, s := range list {
		if p.left-s.Takes >= max(leave, 0) {
			p.left -= s.Takes
			fits = append(fits, s)
		}
	}
	return fits
}

// lengthen spends the time left on what went wrong, one run-through for each in turn. What is merely
// due gains nothing from more run-throughs on the same day.
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

// warmUp dances, slowly, as much from the start as its share of the time allows.
func (p *planner) warmUp() []Exercise {
	b := p.maker
	slow := steady(roundPercent(p.level - warmUpSlower))
	for to := len(b.timeline.Score.Passages); to > 0; to-- {
		s := b.passages(WarmUp, 0, to, p.wish.Dancers, slow, 1)
		if s.Takes <= time.Duration(warmUpShare*float64(p.left)) {
			s.Why = "slowly, to get warm"
			return []Exercise{s}
		}
	}
	return nil
}

// need says who needs a piece, and how much.
type need struct {
	pieceAt
	who    []routine.Partner
	amount float64 // the sum over who of the likelihood that it is forgotten
	shaky  bool
	fresh  bool // new to at least one of them
}

// needs returns the wanted pieces: first those more partners need, then shaky ones, then those seen
// before, then those more likely forgotten.
func (p *planner) needs(wanted func(*Record, pieceAt) bool) (list []need) {
	for _, pl := range p.pieces {
		n := need{pieceAt: pl}
		for _, q := range p.wish.Dancers.Partners() {
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

// compareBool orders false before true.
func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// dancers returns who dances a piece: one partner alone only if the couple marks separately and the other
// does not need it.
func (p *planner) dancers(n need) routine.Dancers {
	if p.wish.Couple && p.wish.Dancers == routine.Both && len(n.who) == 1 {
		return routine.Alone(n.who[0])
	}
	return p.wish.Dancers
}

// why says why a piece is practised and, for a couple, who needs it.
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

// needed returns exercises for the wanted pieces.
func (p *planner) needed(wanted func(*Record, pieceAt) bool) (list []Exercise) {
	tempi := Tempi{Start: roundPercent(p.level - pieceSlower), Gain: rung, Top: p.level}
	for _, n := range p.needs(wanted) {
		passes := duePasses
		if n.shaky {
			passes = shakyPasses
		}
		var s Exercise
		if n.Join() {
			s = p.maker.join(ShakyJoin, n.passage, p.dancers(n), tempi, passes)
		} else {
			s = p.maker.passages(DueFigure, n.passage, n.passage+1, p.dancers(n), tempi, passes)
		}
		s.Why = p.why(n)
		list = append(list, s)
	}
	return list
}

// climb returns the ladder up to today's tempo, with as many rungs as there is time for. There is none
// for those who have reached the goal.
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
		s := b.passages(TempoLadder, 0, len(b.timeline.Score.Passages), p.wish.Dancers, tempi, passes)
		if s.Takes <= p.left {
			p.left -= s.Takes
			s.Why = fmt.Sprintf("towards %s", b.timeline.Score.Dance.TempoText(b.timeline.Score.Tempo.Scaled(p.goal)))
			return []Exercise{s}
		}
	}
	return nil
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
