package typed_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestAFigureIsTyped of six counts, with the follower's steps filled in; it is danced in the order, saved and copied
// into the handbook.
func TestAFigureIsTyped(t *testing.T) {
	path := filepath.Join(t.TempDir(), "quay.md")
	answers, kept := session(t, path, nil, "add closed basic", "figure Lantern sway", "step forward", "step", "step side", "step back", "step", "step side",
		"undo", "redo", "follower 6 side, (look up)", "leader 1 back", "add fan", "remove 2", "undo", "undo", "done", "figure lantern sway", "handbook", "handbook", "leave", "save", "quit")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, `---
dance: rumba
---

# Quay

## Order

1. Closed basic
2. Lantern sway

## Lantern sway

- starts: closed or open facing, leader LF free, follower RF free

| Count | Leader                           | Follower                         |
|:-----:|----------------------------------|----------------------------------|
|   2   | LF back                          | RF forward                       |
|   3   | RF replace                       | LF replace                       |
|  4-1  | LF side                          | RF side                          |
|   2   | RF back                          | LF forward                       |
|   3   | LF replace                       | RF replace                       |
|  4-1  | RF side                          | LF side, (look up)               |
`, string(text))
	for _, says := range []string{
		"Lantern sway is begun. It starts in closed or open facing, leader LF free, follower RF free.", "Next is count 3: leader, RF free, usually RF replace; follower, LF free, then LF replace.",
		"6: count 4-1, leader RF side, follower LF side.\n", "Lantern sway is in the order.\n1: Closed basic", "2: Lantern sway, bar 3. You are here.\n4 bars",
		"lantern.md holds something else. Say \"handbook\" again", "Copied to lantern.md", "Saved as " + path,
	} {
		assert.Contains(t, answers, says)
	}
	assert.Equal(t, string(text), kept[len(kept)-1])
}

// TestFigureCommandsSayWhatTheyNeed, and change nothing without it.
func TestFigureCommandsSayWhatTheyNeed(t *testing.T) {
	for command, says := range map[string]string{
		"figure": "a figure needs a name", "step moonwise": "That can't be done", "take 1": "Take which?", "ways": "1: RF replace.", "ways 1 follower": "follower, row 1, RF free:\n1: RF back.",
		"ways 9": "Which row? The figure has 1 row", "leader 1": "What is written there?", "count 1 moon": "is not a count", "redo": "nothing further", "help": "writes the leader's step on the next count",
		"read": "1: count 2, leader LF forward, follower RF back.", "order": "The order is empty", "leave": "The order is empty",
	} {
		answers, kept := session(t, "quay.md", nil, "figure Lantern sway", "step forward", command)
		assert.Contains(t, answers, says, command)
		assert.Equal(t, kept[1], kept[len(kept)-1], command)
	}
	answers, _ := session(t, "quay.md", nil, "figure Lantern sway", "handbook", "done", "step forward", "ways", "take 2", "leader 2 LF side", "handbook", "drop", "redo", "figure Lantern sway", "undo", "undo")
	for _, says := range []string{"Lantern sway has no steps yet", "2: count 3, leader RF", "2: count 3, leader LF side", "   error: ", "something is wrong with Lantern sway yet", "Lantern sway is thrown away.\nThe order is empty", "nothing to redo", "Lantern sway isn't begun."} {
		assert.Contains(t, answers, says)
	}
}

// TestAFigureIsPutInOnce, and one without steps is not kept, as on the screen.
func TestAFigureIsPutInOnce(t *testing.T) {
	_, kept := session(t, "", nil, "figure Lantern sway", "step forward", "done", "figure lantern sway", "step", "done")
	assert.Equal(t, 1, strings.Count(kept[len(kept)-1], ". Lantern sway"), kept[len(kept)-1])
	_, kept = session(t, "", nil, "figure Lantern sway", "leave")
	assert.NotContains(t, kept[len(kept)-1], "Lantern sway")
}
