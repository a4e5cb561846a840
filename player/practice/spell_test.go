package practice_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player/practice"
)

// TestASpellIsOver after its length, again after as much more, and not for those who have rested.
func TestASpellIsOver(t *testing.T) {
	s := practice.Spell{Every: 20 * time.Minute}
	s.Dance(15 * time.Minute)
	assert.False(t, s.Over(0))
	assert.True(t, s.Over(6*time.Minute))
	s.Dance(6 * time.Minute)
	assert.True(t, s.Over(0))
	s.Told()
	assert.False(t, s.Over(0))
	s.Dance(21 * time.Minute)
	assert.True(t, s.Over(0))
	assert.Equal(t, 42*time.Minute, s.Danced())
	s.Rest()
	s.Dance(19 * time.Minute)
	assert.False(t, s.Over(0))

	never := practice.Spell{}
	never.Dance(24 * time.Hour)
	assert.False(t, never.Over(0))
}
