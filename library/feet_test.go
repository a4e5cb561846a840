package library_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// weights returns the foot that takes a partner's weight, row by row: L, R, or · where the
// weight stays.
func weights(fig *routine.Figure, p routine.Partner) (letters string) {
	for i := range fig.Rows {
		switch s := &fig.Rows[i].Steps[p]; {
		case !s.Moves():
			letters += "·"
		case s.Foot == routine.LF:
			letters += "L"
		default:
			letters += "R"
		}
	}
	return letters
}

// TestFeetAreThoseOfLetterPatterns compares the charts with the letters, left and right, in
// which teachers hand figures down. The charts were not made from them.
func TestFeetAreThoseOfLetterPatterns(t *testing.T) {
	lib := shipped()
	for _, test := range []struct{ dance, figure, leader, follower, source string }{
		{"waltz", "box step", "LRLRLR", "RLRLRL", "common practice"},
		{"waltz", "drag hesitation", "LR·", "RL·", "common practice: the third closes without weight"},
		{"waltz", "hesitation waltz of 1914", "RLRL", "", "Vernon and Irene Castle, Modern Dancing, Harper 1914, p. 71, for the leader"},
		{"tango", "american tango basic", "LRLR·", "RLRL·", "common practice: the last is drawn to the other without weight"},
		{"single swing", "basic", "LRLR", "RLRL", "Wikibooks, Swing Dancing: left, right, back, replace; the follower opposite"},
		{"triple swing", "basic", "LRLRLRLR", "RLRLRLRL", "common practice: left right left, right left right, rock back left and right"},
		{"jive", "basic", "LRLRLRLR", "RLRLRLRL", "common practice: back, replace, left right left, right left right"},
		{"cha-cha", "closed basic", "LRLRLRLRLR", "RLRLRLRLRL", "common practice; three printed charts agree"},
		{"cha-cha", "side step to the left", "LRLRL", "RLRLR", "common practice"},
		{"cha-cha", "new york to the left side", "LRLRL", "RLRLR", "Philippine Department of Education, Physical Education 9 Learner's Material, draft 2014, p. 60"},
		{"cha-cha", "spot turn to the left", "RLRLR", "LRLRL", "the same, p. 60"},
		{"rumba", "closed basic", "LRLRLR", "RLRLRL", "common practice"},
		{"rumba", "american rumba box", "LRLRLR", "RLRLRL", "common practice: feet as the waltz box"},
		{"samba", "natural basic", "RLRLRL", "LRLRLR", "common practice"},
		{"samba", "back rocks", "RLRLRL", "LRLRLR", "common practice (a printed chart)"},
		{"paso doble", "sur place", "RLRLRLRL", "LRLRLRLR", "common practice: eight steps, right foot first"},
		{"paso doble", "basic movement", "RLRLRLRL", "LRLRLRLR", "common practice: eight steps, right foot first"},
		{"bachata", "side basic", "LRL·RLR·", "RLR·LRL·", "common practice: three steps and a tap, then from the foot that tapped"},
		{"merengue", "side basic", "LRLRLRLR", "RLRLRLRL", "common practice: a step on each beat"},
		{"salsa", "cross-body lead", "LRLRLR", "RLRLRL", "common practice"},
		{"argentine tango", "basic in eight", "RLRLRLRL", "LRLRLRLR", "common practice for steps 1–5; from memory for the last three"},
	} {
		c, ok := lib.Chapter(test.dance)
		require.True(t, ok, test.dance)
		fig, ok := lib.Figure(c.Dance, test.figure)
		require.True(t, ok, "%s: %s", test.dance, test.figure)
		assert.Equal(t, test.leader, weights(fig, routine.Leader), "%s: %s, the leader (%s)", test.dance, test.figure, test.source)
		if test.follower != "" {
			assert.Equal(t, test.follower, weights(fig, routine.Follower), "%s: %s, the follower (%s)", test.dance, test.figure, test.source)
		}
	}
}

// TestHandsThatAFigureNeeds: which hands a figure begins with where it can't be danced with others, all common practice.
func TestHandsThatAFigureNeeds(t *testing.T) {
	lib := shipped()
	for dance, figures := range map[string][]string{
		"rumba":            {"Curl", "Alemana to rope spinning"},
		"cha-cha":          {"Curl", "Alemana to rope spinning"},
		"jive":             {"Hip bump", "Chicken walks", "Overturned change of places left to right"},
		"west coast swing": {"Sugar push", "Left side pass", "Whip"},
	} {
		d, ok := lib.Dance(dance)
		require.True(t, ok, dance)
		for _, name := range figures {
			fig, ok := lib.Figure(d, name)
			require.True(t, ok, name)
			assert.Contains(t, fig.Starts.String(), "hands left to right", "%s: %s", dance, name)
		}
	}
}
