package motion

import (
	"math"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Foot is a foot at one moment.
type Foot struct {
	Pose
	Lift   float64 // from 0, on the floor, to 1, in mid swing
	Weight float64 // how much of the body's weight it carries, from 0 to 1
}

// Dancer is a partner at one moment.
type Dancer struct {
	Feet [2]Foot // LF, RF
	Body Pose
	Next Next
}

// Next is the step that comes next. Its foot is NoFoot if there is none.
type Next struct {
	Foot    routine.Foot
	Pose            // where the foot will stand
	Passage int     // of the step
	Row     int     // of the step, in its figure; from 0
	Way     Way     // of the foot, from where it stood
	Gone    float64 // how much of the way is done, from 0 to 1; see [Way.At]
	Gait    Gait
}

// Gait is what a foot does on a step besides going there.
type Gait uint8

// The gaits: most steps; back onto the foot where it stands; and without weight.
const (
	Steps Gait = iota
	Replaces
	Touches
)

// Scene is a couple at one moment.
type Scene struct {
	Couple  [2]Dancer
	Holds   [2]Hold
	Passage int     // whose step began last or, before the first, begins first
	Row     int     // of that step, in its figure; -1 before the first
	Swung   float64 // how much of the time of a swing has passed, from 0 to 1
}

// Motion is how a couple moves along a path. It is immutable.
type Motion struct {
	path   *floor.Path
	keys   []key // in order of at; the first is how the couple stands before the first step
	around bool  // the last key is the first step of the next time round
}

// key is the couple on the beat on which a row begins.
type key struct {
	at           float64 // in beats
	passage, row int     // row is -1 before the first
	dancers      [2]stance
	grips        [2]grip
}

// stance is a partner on a beat.
type stance struct {
	feet   [2]Pose
	weight [2]float64
	body   Pose
	speed  Pose         // of the body, for each beat
	foot   routine.Foot // that stepped; NoFoot for none
	gait   Gait
	way    Way // of that foot
	next   int // the key of the next step; 0 for none
}

// New returns the motion along a path from its first step to its last. Before and after,
// the couple stands. It is nil for a path without steps.
func New(path *floor.Path) *Motion {
	m := &Motion{path: path}
	for i := range path.Score.Passages {
		m.add(i)
	}
	if len(m.keys) < 2 {
		return nil
	}
	m.settle()
	for i := 1; i < len(m.keys); i++ {
		m.step(i)
	}
	m.glide()
	return m
}

// near returns the angle in the same direction as a that is nearest to b.
func near(a, b float64) float64 { return a + 8*math.Round((b-a)/8) }

// add adds the keys of a passage, with feet where floor has them.
func (m *Motion) add(passage int) {
	score := m.path.Score
	p := &score.Passages[passage]
	couples := m.path.Passage(passage)
	if len(couples) < 2 {
		return
	}
	if len(m.keys) == 0 {
		m.begin(passage, &couples[0])
	}
	grips := gripped(p, couples)
	for k := 1; k < len(couples); k++ {
		now := key{at: p.At(p.From + k - 1).Float(), passage: passage, row: p.From + k - 1}
		row, before := &p.Figure.Rows[now.row], &m.keys[len(m.keys)-1]
		was := &couples[k-1]
		if k == 1 && passage > 0 && !p.Joined {
			was = nil
		}
		for q := range now.dancers {
			now.dancers[q] = before.dancers[q].after(&row.Steps[q], was, &couples[k], q)
		}
		now.grips = grips[k]
		m.keys = append(m.keys, now)
	}
}

// lead is how long before its first step a couple begins to move, in beats.
const lead = 1.0

// begin adds the key of the couple that stands before the first passage.
func (m *Motion) begin(passage int, c *floor.Couple) {
	p := &m.path.Score.Passages[passage]
	start := key{at: p.Start.Float() - lead, passage: passage, row: -1, grips: holding(p.Begins.Positions, c).by(p.Begins.Hands).grips}
	for q := range c {
		d, s := &c[q], &start.dancers[q]
		s.body = Pose{d.Body, float64(d.Facing)}
		for f := range s.feet {
			print := d.Foot(routine.LF + routine.Foot(f))
			s.feet[f] = Pose{print.At, s.body.Angle + float64(d.Facing.To(print.Toward))}
		}
		if d.Weight != routine.NoFoot {
			s.weight[d.Weight-routine.LF] = 1
		}
	}
	m.keys = append(m.keys, start)
}

// after returns how a partner q stands after a step. Was is the couple before it, or nil if
// that is not where the partner stood.
func (s *stance) after(step *routine.Step, was, is *floor.Couple, q int) stance {
	d := &is[q]
	next := stance{weight: s.weight, body: s.body, feet: s.feet}
	turn := closest(d.Facing, s.body.Angle, float64(step.Turns()))
	next.body = Pose{d.Body, s.body.Angle + turn}
	if !step.Stands() && !step.Pivots() {
		next.foot = step.Foot
	}
	for f := range next.feet {
		foot := routine.LF + routine.Foot(f)
		print := d.Foot(foot)
		by := turn
		if was != nil && foot != next.foot && print.Toward == was[q].Foot(foot).Toward {
			by = 0 // the body turns alone
		}
		next.feet[f] = Pose{print.At, s.feet[f].Angle + closest(print.Toward, s.feet[f].Angle, by)}
	}
	switch {
	case next.foot == routine.NoFoot:
	case step.Weight == routine.None:
		next.gait = Touches
	default:
		part := 1.0
		if step.Weight == routine.Part || step.Weight == routine.Split {
			part = 0.5
		}
		next.weight[next.foot-routine.LF], next.weight[next.foot.Other()-routine.LF] = part, 1-part
		if step.Way == routine.Replace {
			next.gait = Replaces
		}
	}
	return next
}

// closest returns the turn nearest to t that leads from an angle to a direction.
func closest(d routine.Direction, angle, t float64) float64 {
	return near(float64(d)-angle, t)
}

// settle puts every foot where it will be when it next moves, and finds the next steps.
func (m *Motion) settle() {
	for i := len(m.keys) - 2; i >= 0; i-- {
		now, after := &m.keys[i], &m.keys[i+1]
		begins := after.passage != now.passage && !m.path.Score.Passages[after.passage].Joined
		for q := range now.dancers {
			s, then := &now.dancers[q], &after.dancers[q]
			s.next = then.next
			if then.foot != routine.NoFoot {
				s.next = i + 1
			}
			for f := range s.feet {
				if !begins && then.foot != routine.LF+routine.Foot(f) {
					s.feet[f].At = then.feet[f].At
				}
			}
		}
	}
}

// step works out the way of the feet that arrive on key i.
func (m *Motion) step(i int) {
	for q := range m.keys[i].dancers {
		s, before := &m.keys[i].dancers[q], &m.keys[i-1].dancers[q]
		if s.foot == routine.NoFoot {
			continue
		}
		f := s.foot - routine.LF
		stand := Pose{s.feet[1-f].At, (before.feet[1-f].Angle + s.feet[1-f].Angle) / 2}
		side := floor.Point{Y: 2*float64(f) - 1}
		s.way = wayPast(before.feet[f].At, s.feet[f].At, stand, turned(side, (before.body.Angle+s.body.Angle)/2))
	}
}

// glide works out the speeds of the bodies.
func (m *Motion) glide() {
	for i := range m.keys {
		for q := range m.keys[i].dancers {
			s := &m.keys[i].dancers[q]
			s.speed = Pose{}
			if i == 0 || i == len(m.keys)-1 {
				continue
			}
			before, after := &m.keys[i-1], &m.keys[i+1]
			h0, h1 := m.keys[i].at-before.at, after.at-m.keys[i].at
			was, will := before.dancers[q].body, after.dancers[q].body
			s.speed.At.X = slope(was.At.X, s.body.At.X, will.At.X, h0, h1)
			s.speed.At.Y = slope(was.At.Y, s.body.At.Y, will.At.Y, h0, h1)
			s.speed.Angle = slope(was.Angle, s.body.Angle, will.Angle, h0, h1)
		}
	}
	if last := len(m.keys) - 1; m.around { // as on the first step, so that the loop has no seam
		for q := range m.keys[last].dancers {
			first, again := &m.keys[1].dancers[q], &m.keys[last].dancers[q]
			again.speed = Pose{turned(first.speed.At, again.body.Angle-first.body.Angle), first.speed.Angle}
		}
	}
}
