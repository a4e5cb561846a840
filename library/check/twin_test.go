package check_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// resembling returns the notes that a figure in a sheet resembles one of the library.
func resembling(sheet string) (notes []routine.Finding) {
	_, found := check.Sheet("own.md", []byte(sheet), shipped())
	for _, f := range found {
		if f.Code == "figure-resembles" {
			notes = append(notes, f)
		}
	}
	return notes
}

// TestAFigureUnderAnotherName that is exactly the library's is the dancer's own, and nothing is said of it.
func TestAFigureUnderAnotherName(t *testing.T) {
	list := charts(t)
	require.Greater(t, len(list), 250)
	for _, c := range list {
		c.name = "Jetty step"
		assert.Empty(t, resembling(c.sheet(false)), "%s", c.sheet(false))
	}
}

// TestAFigureOfYourOwn is noted only where one slip of the pen makes it the library's.
func TestAFigureOfYourOwn(t *testing.T) {
	const basic = "| 1 | LF forward | RF back |\n| 2 | RF replace | LF replace |\n| 3-4 | LF close | RF close |\n" +
		"| 5 | RF back | LF forward |\n| 6 | LF replace | RF replace |\n| 7-8 | RF close | LF close |\n"
	const turn = "| 1 | LF forward | RF back |\n| 2 | RF replace | LF replace |\n| 3-4 | LF close | RF close |\n" +
		"| 5 | RF forward, 1/4 L | LF forward |\n| 6 | LF replace, 1/2 L | RF replace |\n| 7-8 | RF close, 1/4 L | LF close |\n"
	const side = "| 1 | LF side | RF side |\n| 2 | RF replace | LF replace |\n| 3-4 | LF close | RF close |\n" +
		"| 5 | RF side | LF side |\n| 6 | LF replace | RF replace |\n| 7-8 | RF close | LF close |\n"
	change := func(rows string, pairs ...string) string { return strings.NewReplacer(pairs...).Replace(rows) }
	for _, c := range []struct {
		name, facts, columns, rows, noted string
	}{
		{"one step goes elsewhere", "", "", change(basic, "| RF back | LF", "| RF side | LF"), "Basic step"},
		{"which may be meant", "- ends: closed\n", "", change(basic, "| RF back | LF", "| RF side | LF"), ""},
		{"both partners go elsewhere", "", "", change(basic, "| RF back | LF forward", "| RF side | LF side"), ""},
		{"another hold", "- starts: left side\n", "", change(basic, "| RF back | LF", "| RF side | LF"), ""},
		{"another family", "- family: on 2\n", "", change(basic, "| RF back | LF", "| RF side | LF"), ""},
		{"a smaller step", "", "", change(basic, "| RF back | LF", "| RF small back | LF"), ""},
		{"the partners exchanged", "", "Follower | Leader", basic, "Basic step"},
		{"and the first feet said", "- starts: closed, leader RF free, follower LF free\n", "Follower | Leader", basic, ""},
		{"the partners do the same", "", "Follower | Leader", side, ""},
		{"a turn is left out", "", "", change(turn, "LF replace, 1/2 L", "LF replace"), "Leader's left turn"},
		{"the other way", "", "", change(turn, "LF replace, 1/2 L", "LF replace, 1/2 R"), "Leader's left turn"},
		{"overturned", "", "", change(turn, "RF close, 1/4 L", "RF close, 3/8 L"), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.columns == "" {
				c.columns = "Leader | Follower"
			}
			notes := resembling("---\ndance: salsa\n---\n\n## Order\n\n1. Jetty step\n\n## Jetty step\n\n" + c.facts + "\n| Count | " + c.columns + " |\n|---|---|---|\n" + c.rows)
			if c.noted == "" {
				assert.Empty(t, notes)
				return
			}
			require.Len(t, notes, 1)
			assert.Equal(t, routine.Note, notes[0].Severity)
			assert.Contains(t, notes[0].Message, c.noted)
		})
	}
}
