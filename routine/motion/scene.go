package motion

import (
	"math"
	"sort"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// How long a foot swings: three quarters of the time that it has, but, if there is time,
// not less than a quick step takes, and not more than a slow one. In seconds; estimated.
const (
	shortSwing = 0.35
	longSwing  = 0.9
)

// swing returns how long a foot swings, in beats of a given length in seconds, in a gap
// between two steps.
func swing(gap, beat float64) float64 {
	return min(gap, max(0.75*gap, shortSwing/beat), longSwing/beat)
}

// find returns the last key that is not after a beat, and the one after it; both are the
// same where the couple stands.
func (m *Motion) find(beat float64) (i, j int) {
	i = sort.Search(len(m.keys), func(i int) bool { return m.keys[i].at > beat }) - 1
	i = max(i, 0)
	return i, min(i+1, len(m.keys)-1)
}

// Before returns the beat of the last step before a beat, or of the standing couple if there
// is none. In a lead-in to a step the couple stands as it did then:
//
//	m.At(max(beat, m.Before(begins)), length)
func (m *Motion) Before(beat float64) float64 {
	return m.keys[max(0, sort.Search(len(m.keys), func(i int) bool { return m.keys[i].at >= beat })-1)].at
}

// Path returns the path along which the couple moves.
func (m *Motion) Path() *floor.Path { return m.path }

// At returns the couple at a beat; length is that of a beat in seconds, at the tempo that is
// danced.
func (m *Motion) At(beat, length float64) (s Scene) {
	i, j := m.find(beat)
	from, to := &m.keys[i], &m.keys[j]
	s.Passage, s.Row = from.passage, from.row
	gap := to.at - from.at
	part, u := 0.0, 0.0
	if gap > 0 {
		d := swing(gap, length)
		part = min(max((beat-from.at)/gap, 0), 1)
		u = min(max((beat-(to.at-d))/d, 0), 1)
	}
	s.Swung = u
	for q := range s.Couple {
		s.Couple[q] = m.dancer(i, j, q, gap, part, u)
	}
	s.Holds = holds(from.grips, to.grips, u, s.Couple[routine.Leader].Body, s.Couple[routine.Follower].Body)
	return s
}

// dancer returns partner q between keys i and j, after a part of the gap and a part u of
// the swing.
func (m *Motion) dancer(i, j, q int, gap, part, u float64) (d Dancer) {
	from, to := &m.keys[i].dancers[q], &m.keys[j].dancers[q]
	done := soft(u)
	a, b, va, vb := &from.body, &to.body, &from.speed, &to.speed
	d.Body = Pose{
		floor.Point{X: hermite(a.At.X, b.At.X, va.At.X, vb.At.X, gap, part), Y: hermite(a.At.Y, b.At.Y, va.At.Y, vb.At.Y, gap, part)},
		hermite(a.Angle, b.Angle, va.Angle, vb.Angle, gap, part),
	}
	over := smoothstep((u - 0.7) / 0.3)
	for f := range d.Feet {
		was, will := from.feet[f], to.feet[f]
		foot := &d.Feet[f]
		foot.Angle = was.Angle + (will.Angle-was.Angle)*done
		foot.Weight = from.weight[f] + (to.weight[f]-from.weight[f])*over
		switch {
		case i != j && to.foot == routine.LF+routine.Foot(f):
			foot.At = to.way.At(done)
			if to.gait != Replaces {
				foot.Lift = math.Sin(math.Pi * done)
			}
		default:
			foot.At = between(was.At, will.At, done)
		}
	}
	if from.next == 0 {
		return d
	}
	k := &m.keys[from.next]
	s := &k.dancers[q]
	d.Next = Next{Foot: s.foot, Pose: s.feet[s.foot-routine.LF], Passage: k.passage, Row: k.row, Way: s.way, Gait: s.gait}
	if from.next == j {
		d.Next.Gone = done
	}
	return d
}

// holds returns the hands that are joined after a part u of the way from one hold to another.
func holds(from, to [2]grip, u float64, leader, follower Pose) (list [2]Hold) {
	for i := range list {
		g, firm := from[i], 1.0
		if from[i] != to[i] {
			if firm = 1 - 2*u; u > 0.5 {
				g, firm = to[i], 2*u-1
			}
		}
		if g != (grip{}) {
			list[i] = Hold{g.leader, g.follower, firm, g.meet(leader, follower)}
		}
	}
	return list
}

// Held returns which hands are joined as a passage begins, and after each of its rows, and where.
func Held(path *floor.Path, passage int) (list [][2]Hold) {
	couples := path.Passage(passage)
	for k, g := range gripped(&path.Score.Passages[passage], couples) {
		pose := func(q routine.Partner) Pose { return Pose{couples[k][q].Body, float64(couples[k][q].Facing)} }
		list = append(list, holds(g, g, 0, pose(routine.Leader), pose(routine.Follower)))
	}
	return list
}

// Done is a step that has been danced.
type Done struct {
	Partner routine.Partner
	Foot    routine.Foot
	Way     Way
	Age     float64 // in beats, since the foot arrived
}

// Trail calls do for each step of the last figure that was danced before a beat, up to an
// age in beats, the oldest first.
func (m *Motion) Trail(beat, age float64, do func(Done)) {
	i, _ := m.find(beat)
	first := i
	for first > 1 && m.keys[first-1].passage == m.keys[i].passage && beat-m.keys[first-1].at <= age {
		first--
	}
	for k := max(first, 1); k <= i; k++ {
		for _, q := range routine.Partners() {
			if d := &m.keys[k].dancers[q]; d.foot != routine.NoFoot && beat-m.keys[k].at <= age {
				do(Done{q, d.foot, d.way, beat - m.keys[k].at})
			}
		}
	}
}

// Steps returns the number of steps of a motion, the first of the next time round included.
func (m *Motion) Steps() int { return len(m.keys) - 1 }

// Step returns the beat of a step, which counts from 1; 0 is the couple before the first. It
// returns how the couple stands on it, with Next as it is while it stands there.
func (m *Motion) Step(i int) (beat float64, s Scene) {
	beat = m.keys[i].at
	return beat, m.At(beat, 1)
}
