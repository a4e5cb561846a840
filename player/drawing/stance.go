package drawing

import (
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

// stance is how a couple stands before or after some rows of a passage, and which hands are joined.
type stance struct {
	couple floor.Couple
	holds  [2]motion.Hold
}

// stance returns how the couple stands after that many of the rows that are drawn.
func (s *subject) stance(rows int) stance {
	return stance{s.couples[rows], motion.Held(s.drawer.path, s.index)[rows]}
}

// The size of a stance on paper, in millimetres.
const (
	stanceWidth  = 15.0
	stanceHeight = 13.5
	stanceWord   = 4.0  // of that, for the word below
	stanceScale  = 0.21 // at most, to a centimetre
)

// arms is how wide a couple's arms reach around the middle of a body, in centimetres.
const arms = 20.0

// stance draws how a couple stands, seen from above and turned as the hall is, in a room on paper: its bodies,
// the arms that hold, and the joined hands as dots. Below is a word.
func (s *sheet) stance(room box, word string, is stance, turn routine.Turn) {
	room.Max.Y -= stanceWord
	var b box
	for q := range is.couple {
		at := is.couple[q].Body.Turned(turn)
		b = b.Including(at.Plus(floor.Point{X: arms, Y: arms})).Including(at.Minus(floor.Point{X: arms, Y: arms}))
	}
	for _, h := range is.holds {
		if h.Leader != motion.NoHand {
			b = b.Including(h.At.Turned(turn))
		}
	}
	size, has := b.Max.Minus(b.Min), room.Max.Minus(room.Min)
	scale := min(stanceScale, (has.X-1)/size.X, (has.Y-1.5)/size.Y)
	on := func(at floor.Point) floor.Point {
		return at.Turned(turn).Minus(middle(b)).Times(scale).Plus(middle(room))
	}
	for _, q := range routine.Partners() {
		look := ended
		look.Ink = inks[q]
		s.body(look, q, on(is.couple[q].Body), is.couple[q].Facing.Turned(turn), scale*wide)
	}
	for _, h := range is.holds {
		for q, hand := range [...]motion.Hand{h.Leader, h.Follower} {
			if hand == motion.Left || hand == motion.Right {
				body := motion.Pose{At: is.couple[q].Body, Angle: float64(is.couple[q].Facing)}
				s.path(Look{Ink: inks[q], Width: 0.45}, line(on(motion.Shoulder(body, hand)), on(h.At)))
			}
		}
		if h.Leader != motion.NoHand {
			s.path(Look{Fill: black}, circle(on(h.At), 0.55))
		}
	}
	s.write(floor.Point{X: middle(room).X, Y: room.Max.Y + stanceWord - 1}, lettering{size: small, anchor: Middle}, word)
}

// wide is by how much a body is drawn larger where it hides no foot: to its real size.
const wide = 17 / shoulders
