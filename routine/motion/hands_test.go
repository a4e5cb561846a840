package motion_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

// TestHandsAreJoinedAsTheSheetSays: the hands named where a figure starts hold until a step names others.
func TestHandsAreJoinedAsTheSheetSays(t *testing.T) {
	score, found := routine.Read("lantern.md", []byte("---\ndance: cha-cha\n---\n\n## Order\n\n1. Lantern step\n\n## Lantern step\n\n- starts: open facing, handshake\n\n"+
		"| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF back | RF back |\n| 3 | RF replace | LF replace |\n| 4 | LF side, both hands | RF side |\n| & | RF close, no hands | LF close |\n| 1 | LF side | RF side |\n"), library.Open())
	require.Empty(t, routine.Objections(found))
	m := motion.New(floor.Trace(score))
	type hands = [2]motion.Hand
	held := func(row int) (list []hands) {
		for _, h := range m.At(score.Passages[0].At(row).Float(), 0.5).Holds {
			if h.Leader != motion.NoHand {
				list = append(list, hands{h.Leader, h.Follower})
			}
		}
		return list
	}
	right, left := motion.Right, motion.Left
	assert.Equal(t, []hands{{right, right}}, held(0))
	assert.Equal(t, []hands{{right, right}}, held(1))
	assert.Equal(t, []hands{{left, right}, {right, left}}, held(2))
	assert.Empty(t, held(3))
	assert.Empty(t, held(4))
}
