package routine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/routine"
)

// TestRank: a figure that does not say its level comes after all that do.
func TestRank(t *testing.T) {
	rank := func(level int) int { return (&routine.Figure{Level: level}).Rank() }
	assert.Less(t, rank(1), rank(2))
	assert.Less(t, rank(2), rank(15), "the highest that a sheet may name")
	assert.Less(t, rank(15), rank(0))
}
