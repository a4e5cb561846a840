package drawing

import (
	"fmt"
	"math"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

// Moving draws how a couple moves in a whole path, a moment at a time, all on the same floor. It is immutable.
type Moving struct {
	path   *floor.Path
	motion *motion.Motion
	turn   routine.Turn // of the hall on paper
	bounds box          // of all that is drawn, in centimetres on the turned floor
	scale  float64
	shown  [2]bool
}

// The size of a moving picture, in millimetres: its feet are 12 where there is room.
const (
	movingWidth  = 90.0
	movingHeight = 90.0
	movingHead   = 12.0 // for the name and the count
	movingEdge   = 3.0
)

// NewMoving returns nil for a path without steps.
func NewMoving(path *floor.Path, o Options) *Moving {
	m := &Moving{path: path, motion: motion.New(path), shown: o.Shown, turn: routine.Turn(routine.Centre) - routine.Turn(o.Up)}
	if m.motion == nil {
		return nil
	}
	for i := range path.Score.Passages {
		for _, couple := range path.Passage(i) {
			for q, dancer := range couple {
				if !o.Shown[q] {
					continue
				}
				for _, foot := range []routine.Foot{routine.LF, routine.RF} {
					m.bounds = m.bounds.Including(dancer.Foot(foot).At.Turned(m.turn))
				}
				m.bounds = m.bounds.Including(dancer.Body.Turned(m.turn))
			}
		}
	}
	m.bounds = grown(m.bounds, 20) // for the length of a foot, and ways round the other
	size := m.bounds.Max.Minus(m.bounds.Min)
	m.scale = min(12/footLength, movingWidth/size.X, movingHeight/size.Y)
	return m
}

// Ends returns the beats between which the couple moves.
func (m *Moving) Ends() (from, to routine.Beats) {
	all := m.path.Score.Passages
	return all[0].Start, all[len(all)-1].End
}

// At draws the couple at a beat, of a length in seconds.
func (m *Moving) At(beat, length float64) Drawing {
	s := new(sheet)
	size := floor.Point{X: movingWidth + 2*movingEdge, Y: m.bounds.Max.Minus(m.bounds.Min).Y*m.scale + movingHead + 2*movingEdge}
	s.path(Look{Fill: white}, rectangle(box{Max: size}))
	scene := m.motion.At(beat, length)
	m.head(s, &scene)
	for q := range scene.Couple {
		if m.shown[q] {
			s.path(ended, torso(routine.Partner(q), m.on(scene.Couple[q].Body, 1)))
		}
	}
	for q := range scene.Couple {
		if m.shown[q] {
			m.next(s, routine.Partner(q), &scene.Couple[q].Next)
		}
	}
	for q := range scene.Couple {
		for f := range scene.Couple[q].Feet {
			if m.shown[q] {
				m.foot(s, routine.Partner(q), routine.LF+routine.Foot(f), &scene.Couple[q].Feet[f])
			}
		}
	}
	return Drawing{Size: size, Shapes: s.shapes, Scale: m.scale}
}

// head writes the figure, and the count that was danced last.
func (m *Moving) head(s *sheet, scene *motion.Scene) {
	passage := &m.path.Score.Passages[scene.Passage]
	at := floor.Point{X: movingEdge, Y: movingEdge + 4}
	s.write(at, nameLetters.within(movingWidth), passage.Name())
	text := m.path.Score.Dance.Name + " · " + m.path.Score.Dance.TempoText(m.path.Score.Tempo)
	if scene.Row >= 0 {
		text = fmt.Sprintf("step %d, count %s", scene.Row+1, passage.Figure.Rows[scene.Row].Count)
	}
	s.write(at.Plus(floor.Point{Y: 5}), factLetters.within(movingWidth), text)
}

// place returns where a place in the hall is on paper.
func (m *Moving) place(at floor.Point) floor.Point {
	spare := (movingWidth - m.bounds.Max.Minus(m.bounds.Min).X*m.scale) / 2
	return at.Turned(m.turn).Minus(m.bounds.Min).Times(m.scale).Plus(floor.Point{X: movingEdge + spare, Y: movingHead + movingEdge})
}

// on returns how the places of a foot or a body are put on paper; side is -1 for a left foot.
func (m *Moving) on(p motion.Pose, side float64) func(x, y float64) floor.Point {
	sin, cos := math.Sincos(p.Angle * math.Pi / 4)
	return func(x, y float64) floor.Point {
		y *= side
		return m.place(p.At.Plus(floor.Point{X: x*cos - y*sin, Y: x*sin + y*cos}))
	}
}

// next draws what is left of the way of the next step, and where it leads.
func (m *Moving) next(s *sheet, q routine.Partner, next *motion.Next) {
	if next.Foot == routine.NoFoot || next.Gait == motion.Replaces {
		return
	}
	m.sole(s, before, q, next.Foot, next.Pose)
	rest := next.Way.After(next.Gone)
	if rest.From.Distance(rest.To) < 8 {
		return
	}
	from, over, to := m.place(rest.From), m.place(rest.Over), m.place(rest.To)
	s.path(Look{Ink: inks[q], Width: 0.4}, Path{"MQ", []floor.Point{from, over, to}})
	s.tip(Look{Fill: inks[q]}, to, to.Minus(over))
}

// foot draws a foot: with the weight on it as on paper, else tinted.
func (m *Moving) foot(s *sheet, q routine.Partner, foot routine.Foot, f *motion.Foot) {
	look, ink := Look{Fill: white, Ink: inks[q], Width: footed}, inks[q]
	switch {
	case f.Weight < 0.5:
		look.Fill = tints[q]
	case foot == routine.RF:
		look.Fill, ink = inks[q], white
	}
	m.sole(s, look, q, foot, f.Pose)
	at := m.on(f.Pose, foot.Outward())(3, 0)
	s.text(ink, Text{Words: foot.String()[:1], At: at.Plus(floor.Point{Y: 0.36 * small}), Size: small, Bold: true, Anchor: Middle})
}

func (m *Moving) sole(s *sheet, l Look, q routine.Partner, foot routine.Foot, p motion.Pose) {
	on := m.on(p, foot.Outward())
	for _, list := range [][]floor.Point{soles[q].whole, soles[q].ball, soles[q].heel} {
		if list == nil {
			continue
		}
		s.path(l, curved(list, on))
		if soles[q].whole != nil {
			return // in one piece
		}
	}
}
