package practice_test

import "math"

// skill is how well a simulated dancer knows a piece. Days and the seconds danced so far are counted
// from the dancer's first.
type skill interface {
	// knows returns how likely the piece goes well.
	knows(day int, second float64) float64
	// dance practises it once.
	dance(day int, second float64, well bool)
}

// law makes the skill of a piece that is as easy as ease says, from 0 to 1. The schedule, FSRS, follows
// none of these laws.
type law struct {
	name string
	new  func(ease float64) skill
}

var laws = []law{
	{"shares and halves", func(ease float64) skill {
		return &halving{learns: 0.02 + 0.3*ease*ease, halfLife: 1 + 6*ease}
	}},
	{"power and exponential", func(ease float64) skill {
		return &power{exponent: 0.5 + ease, lasts: 2 + 6*ease}
	}},
	{"two stores", func(ease float64) skill {
		return &stores{learns: 0.02 + 0.18*ease}
	}},
	{"activation", func(ease float64) skill {
		return &activation{threshold: -0.704 - 2.3*ease}
	}},
}

// halving forgets half of what is known in halfLife days. Each run-through learns a share of what is
// missing, and one that goes well after some was forgotten makes the rest last longer. (All numbers are
// our own.)
type halving struct {
	known    float64
	learns   float64
	halfLife float64
	last     int // day
}

func (s *halving) knows(day int, _ float64) float64 {
	return s.known * math.Exp2(-float64(day-s.last)/s.halfLife)
}

func (s *halving) dance(day int, second float64, well bool) {
	before := s.knows(day, second)
	if well {
		s.halfLife *= 1 + 2*(1-before)
	}
	s.known, s.last = before+s.learns*(1-before), day
}

// power errs ever less by a power of how often the piece was danced (A. Newell, P. S. Rosenbloom,
// "Mechanisms of skill acquisition and the law of practice", in J. R. Anderson, Cognitive Skills and
// Their Acquisition, 1981), and forgets run-throughs exponentially, the more slowly the more was
// forgotten when it was danced again. (From memory; the numbers are our own.)
type power struct {
	times    float64
	exponent float64
	lasts    float64 // days
	last     int
}

func (s *power) left(day int) float64 { return s.times * math.Exp(-float64(day-s.last)/s.lasts) }

func (s *power) knows(day int, _ float64) float64 {
	return 1 - math.Pow(1+s.left(day), -s.exponent)
}

func (s *power) dance(day int, _ float64, _ bool) {
	kept := s.left(day)
	if s.times > 0 {
		s.lasts *= 1 + (1 - kept/s.times)
	}
	s.times, s.last = kept+1, day
}

// stores learns in two stores at once, from the same error: one that is fast, and lost to whatever is
// danced in between and overnight, and one that is slow and lasts. What is danced again at once is known
// by the fast store, so that the slow one learns little: practice by turns goes worse, and lasts.
// Sources: M. A. Smith, A. Ghazizadeh, R. Shadmehr, "Interacting adaptive processes with multiple
// timescales underlie short-term motor learning", PLoS Biology 4, 2006 (the fast store's rates and the
// least of the slow one's, from memory); J.-Y. Lee, N. Schweighofer, "Dual adaptation supports a
// parallel architecture of motor memory", Journal of Neuroscience 29, 2009 (the slow stores apart, the
// fast one shared). How much the slow store loses in a day, the less the more days it was danced on, is
// our own.
type stores struct {
	fast, slow float64
	learns     float64 // the slow store, of the error
	second     float64
	days, last int // on which it was danced
}

// The fast store keeps a share of itself from one thing danced to the next, and learns a share of the
// error; a thing lasts about trial seconds.
const (
	fastKeeps, fastLearns = 0.59, 0.21
	slowLoses             = 0.1 // the first day
	trial                 = 8.0
)

func (s *stores) at(day int, second float64) (fast, slow float64) {
	if day == s.last {
		fast = s.fast * math.Pow(fastKeeps, (second-s.second)/trial)
	}
	return fast, s.slow * math.Pow(1-slowLoses/float64(max(s.days, 1)), float64(day-s.last))
}

func (s *stores) knows(day int, second float64) float64 {
	fast, slow := s.at(day, second)
	return fast + slow
}

func (s *stores) dance(day int, second float64, _ bool) {
	fast, slow := s.at(day, second)
	missing := 1 - fast - slow
	if s.days == 0 || day != s.last {
		s.days++
	}
	s.fast, s.slow = fast+fastLearns*missing, slow+s.learns*missing
	s.second, s.last = second, day
}

// activation is the sum of what each time it was danced has left, which decays as a power of time, and
// faster if it was still active then: practice soon repeated is soon forgotten.
// Source: P. I. Pavlik, J. R. Anderson, "Practice and forgetting effects on vocabulary memory: an
// activation-based model of the spacing effect", Cognitive Science 29, 2005 (its numbers from memory).
// How much harder hard pieces are is our own.
type activation struct {
	threshold float64
	danced    []trace
}

type trace struct{ at, decay float64 }

const (
	decayScale, decayLeast = 0.217, 0.177
	noise                  = 0.255
	outside                = 0.025 // how much slower time goes outside of practice
	dayOutside             = 24 * 60 * 60 * outside
)

func (s *activation) sum(day int, second float64) (sum float64) {
	now := float64(day)*dayOutside + second
	for _, t := range s.danced {
		sum += math.Pow(max(now-t.at, 1), -t.decay)
	}
	return sum
}

func (s *activation) knows(day int, second float64) float64 {
	return 1 / (1 + math.Exp((s.threshold-math.Log(s.sum(day, second)))/noise))
}

func (s *activation) dance(day int, second float64, _ bool) {
	s.danced = append(s.danced, trace{float64(day)*dayOutside + second, decayScale*s.sum(day, second) + decayLeast})
}
