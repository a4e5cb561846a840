package practice

import "time"

// Spell is the dancing up to a breather or a pause. The zero value never ends.
type Spell struct {
	Every  time.Duration // how much dancing it lasts; 0 for ever
	danced time.Duration
	told   time.Duration // how much had been danced when Told was last called
}

// Dance adds dancing.
func (s *Spell) Dance(d time.Duration) { s.danced += d }

// Danced returns how much was danced since the last rest.
func (s *Spell) Danced() time.Duration { return s.danced }

// Over reports whether the spell will be over after this much more dancing.
func (s *Spell) Over(more time.Duration) bool {
	return s.Every > 0 && s.danced-s.told+more > s.Every
}

// Told says that the dancers know it is over. It is over again after another Every.
func (s *Spell) Told() { s.told = s.danced }

// Rest begins a new spell.
func (s *Spell) Rest() { s.danced, s.told = 0, 0 }
