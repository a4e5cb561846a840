package practice

import "time"

// Spell is an exercise of practice: what is danced until a breather or a pause. The zero
// value never ends.
type Spell struct {
	Every  time.Duration // of dancing after which it is over; 0 for never
	danced time.Duration
	told   time.Duration // danced when it was told last that it is over
}

// Dance adds what was danced.
func (s *Spell) Dance(d time.Duration) { s.danced += d }

// Danced is what was danced in all.
func (s *Spell) Danced() time.Duration { return s.danced }

// Over reports whether enough was danced, once so much more is.
func (s *Spell) Over(more time.Duration) bool {
	return s.Every > 0 && s.danced-s.told+more > s.Every
}

// Told says that who dances knows that it is over. It is over again after as much more.
func (s *Spell) Told() { s.told = s.danced }

// Rest begins anew.
func (s *Spell) Rest() { s.danced, s.told = 0, 0 }
