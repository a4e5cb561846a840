package routine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/routine"
)

// TestFamiliesAreNotMixed: salsa on 1 and on 2 break on different beats, and American figures of the rumba
// are counted from 1, international ones from 2 (common practice).
func TestFamiliesAreNotMixed(t *testing.T) {
	for _, test := range []struct{ dance, order, want string }{
		{"salsa", "1. Basic step on 2\n2. Right turn\n3. Basic step\n4. Basic step on 2\n", "Right turn is danced on 1, but Basic step on 2, before it, on 2"},
		{"salsa", "1. Basic step\n2. Right turn\n", ""},
		{"salsa", "1. Basic step on 2 × 2\n", ""},
		{"rumba", "1. Closed basic\n2. American rumba box\n", "American rumba box is danced in the American style, but Closed basic, before it, in the international style"},
		{"rumba", "1. American rumba box × 2\n", ""},
		{"salsa", "1. Basic step on 2\n2. River step\n\n## River step\n\n- starts: closed, leader LF free, follower RF free\n\n" +
			"| Count | Leader | Follower |\n|---|---|---|\n| 1 | LF side | RF side |\n| 2 | RF close | LF close |\n| 3 | LF side | RF side |\n", ""}, // it goes with all
	} {
		_, found := routine.Read("boathouse.md", []byte("---\ndance: "+test.dance+"\n---\n\n## Order\n\n"+test.order), shipped())
		var messages []string
		for _, f := range found {
			if f.Code == "mixed-families" {
				assert.Len(t, f.Related, 1)
				messages = append(messages, f.Message)
			}
		}
		if test.want == "" {
			assert.Empty(t, messages, test.order)
		} else {
			assert.Equal(t, []string{test.want}, messages, test.order)
		}
	}
}
