package routine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// TestWhereARoutineBegins: a sheet that does not say where the leader faces begins on its dance's usual
// alignment, if its figures can. Waltz and quickstep routines begin diagonally to the wall, foxtrots
// diagonally to the centre (ballroomguide.com, Beginner Waltz and Beginner Quickstep; dancecentral.info,
// foxtrot routines), the American foxtrot along the line of dance (ithacadance.com).
func TestWhereARoutineBegins(t *testing.T) {
	for _, test := range []struct {
		front, order string
		want         routine.Direction
	}{
		{"dance: waltz", "1. LF closed change\n", routine.DW},
		{"dance: waltz\nfaces: LOD", "1. LF closed change\n", routine.LOD},
		{"dance: waltz", "1. Box step\n2. Reverse turn\n", routine.DC}, // the box goes where the turn begins
		{"dance: waltz", "1. Reverse turn\n", routine.DC},
		{"dance: quickstep", "1. Forward lock × 2\n", routine.DW},
		{"dance: quickstep", "1. Back lock\n", routine.Against}, // backing the line of dance, as it is begun
		{"dance: foxtrot", "1. Three step\n", routine.DC},
		{"dance: social foxtrot", "1. Box step\n", routine.LOD},
		{"dance: social foxtrot", "1. Promenade walk\n", routine.Wall},
		{"dance: social foxtrot", "1. Side balance\n2. Promenade walk\n", routine.DW}, // the balance goes anywhere
		{"dance: rumba", "1. Closed basic\n", routine.Wall},
	} {
		text := "---\n" + test.front + "\n---\n\n## Order\n\n" + test.order
		score, found := routine.Read("boathouse.md", []byte(text), shipped())
		require.False(t, routine.HasErrors(found), "%v", found)
		assert.Equal(t, test.want, score.Passages[0].Begins.Facing[routine.Leader], text)
	}
}
