package floor_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// ordered returns a sheet of a dance's figures, which begin as front says.
func ordered(dance, front, order string) string {
	text := "---\ndance: " + dance + "\n" + front + "---\n\n## Order\n\n"
	for i, name := range strings.Split(order, "; ") {
		text += fmt.Sprintf("%d. %s\n", i+1, name)
	}
	return text
}

// TestAgainstTheLineOfDance: figures of a dance that travels go along the line of dance. Walks, locks and
// changes are begun facing it or diagonally (ballroomguide.com, Beginner Waltz, Beginner Quickstep and the
// charts' lists of what precedes; ithacadance.com for the American foxtrot); what ends backing goes on back
// (dancecentral.info, Quickstep practice routine). The rest is common practice.
func TestAgainstTheLineOfDance(t *testing.T) {
	const line = "against-line-of-dance"
	for _, test := range []struct {
		dance, front, order string
		item                int // the one that is wrong; 0 if none is
		message, hint       string
	}{
		{"quickstep", "", "Quarter turn; Forward lock", 2, "Forward lock takes the couple 0.6 m against the line of dance: it begins facing DW against LOD", "ends facing DW, LOD or DC"},
		{"quickstep", "", "Natural spin turn; Forward lock", 2, "Forward lock takes", ""},
		{"quickstep", "", "Chassé reverse turn; Forward lock × 3; RF walk", 2, "1.5 m against", ""}, // not again for what follows
		{"quickstep", "", "Forward lock; RF walk; Back lock", 3, "Back lock takes the couple 1.5 m against", "ends backing LOD, DW or DC"},
		{"waltz", "", "Natural spin turn; RF closed change", 2, "RF closed change begins facing DW against LOD, where it isn't danced", ""},
		{"waltz", "", "Drag hesitation; LF closed change", 2, "LF closed change begins facing DC against LOD", ""},
		{"waltz", "", "Natural turn, steps 1–3; Closed impetus; Natural turn", 3, "Closed impetus ends backing DC against LOD and goes on back, but Natural turn begins forward", ""},
		{"quickstep", "", "Natural turn, steps 1–3; Closed impetus; Natural turn", 3, "Closed impetus ends backing", ""},
		{"waltz", "faces: wall\n", "LF closed change; RF closed change; LF closed change; RF closed change; LF closed change; RF closed change", 1, "LF closed change begins facing wall", "\"faces\""},
		{"tango", "faces: against LOD\n", "Two walks", 1, "1.1 m against", "\"faces\""},
		{"social foxtrot", "", "Forward basic × 2; Back basic", 2, "1.0 m against", ""},
		{"foxtrot", "faces: DC\n", "Feather step; Reverse turn; Three step; Feather finish", 4, "Three step ends forward, but Feather finish begins back", "begins forward"},
		{"viennese waltz", "", "Natural turn; RF forward change; RF backward change", 0, "", ""}, // can't be joined, which is another finding

		{"quickstep", "", "Quarter turn; Progressive chassé; Forward lock", 0, "", ""},
		{"quickstep", "", "Natural turn, steps 1–3; Back lock; Running finish; Forward lock", 0, "", ""},
		{"social foxtrot", "faces: against LOD\n", "Back basic × 2", 0, "", ""},
		{"social foxtrot", "", "Left box turn × 3; Right rock turn; Side balance", 0, "", ""}, // they stay where they are
		{"viennese waltz", "", "Progressive hesitation × 2; Left box turn × 2", 0, "", ""},
		{"waltz", "faces: against LOD\n", "Box step × 2; Hesitation step", 0, "", ""},
		{"tango", "", "Two walks curving left; Open reverse turn; Progressive link; Promenade link; Progressive link", 0, "", ""},
		{"foxtrot", "", "Checked reverse turn; Basic weave", 0, "", ""}, // a check turns back
		{"rumba", "faces: against LOD\n", "Closed basic", 0, "", ""},
	} {
		t.Run(test.dance+"/"+test.order, func(t *testing.T) {
			found := findingsIn(ordered(test.dance, test.front, test.order))
			var lines []routine.Finding
			for _, f := range found {
				if f.Code == line {
					lines = append(lines, f)
				}
			}
			if test.item == 0 {
				assert.Empty(t, lines)
				return
			}
			require.Len(t, lines, 1, "%v", found)
			assert.Equal(t, 5+strings.Count(test.front, "\n")+test.item+1, lines[0].Span.Start.Line)
			assert.Contains(t, lines[0].Message, test.message)
			assert.Contains(t, lines[0].Hint, test.hint)
		})
	}
}

// TestACornerIsNotAgainstTheLineOfDance: where a corner is taken, a figure may go along the old side or the
// new one.
func TestACornerIsNotAgainstTheLineOfDance(t *testing.T) {
	text := func(corner string) string {
		return "---\ndance: social foxtrot\nfaces: LOD\n---\n\n## Order\n\n1. Forward basic\n2. Left rock turn\n" + corner + "3. Forward basic × 2\n"
	}
	found := findingsIn(text(""))
	require.Equal(t, []place{{"against-line-of-dance", 10, 4}}, places(found), "%v", found)
	assert.Contains(t, found[0].Message, "begins facing centre")
	assert.Contains(t, found[0].Hint, "\"- corner: after\" below Left rock turn")
	assert.Empty(t, findingsIn(text("   - corner: after\n")))
}

// TestOwnFiguresAgainstTheLineOfDance: a sheet's own figures are judged by where they take the couple.
// If it is not known where a routine begins, nobody says that it begins the wrong way.
func TestOwnFiguresAgainstTheLineOfDance(t *testing.T) {
	back := []string{"1 | LF back | RF forward", "2 | RF back | LF forward", "3 | LF close | RF close"}
	codes := func(facts, order string) []place {
		return places(routine.Objections(findingsIn(sheet("", order, facts, back...))))
	}
	assert.Equal(t, []place{{"against-line-of-dance", 8, 4}}, codes("closed", ""), "sheet faces LOD")
	free := strings.Replace(sheet("", "", "closed", back...), "faces: LOD\n", "", 1)
	assert.Empty(t, routine.Objections(findingsIn(free)))
	turning := []string{"1 | LF forward, 1/4 L | RF back, 1/4 L", "2 | RF forward, 1/4 L | LF back, 1/4 L", "3 | LF close | RF close",
		"1 | RF back | LF forward", "2 | LF side | RF side", "3 | RF close | LF close"}
	assert.Empty(t, routine.Objections(findingsIn(sheet("", " × 2", "closed", turning...))), "there and back again")
}
