package routine_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// led returns a sheet of a dance with a line in its settings.
func led(dance, line string) string {
	figure := map[string]string{"waltz": "Box step", "cha-cha": "Closed basic"}[dance]
	return fmt.Sprintf("---\ndance: %s\n%s\n---\n\n## Order\n\n1. %s\n", dance, line, figure)
}

func TestLeadIn(t *testing.T) {
	for _, tt := range []struct {
		dance, line string
		want        int
	}{
		{"waltz", "title: Lantern waltz", routine.UsualLeadIn},
		{"waltz", "lead-in: 2", 2},
		{"waltz", "lead-in: 2 bars", 2},
		{"waltz", "Lead-In: 1 bar", 1},
		{"waltz", "lead-in: 0", 0},
		{"waltz", "lead-in: none", 0},
		{"waltz", "lead-in: 4 measures", 4},
		{"waltz", "lead-in: 6 counts", 2},
		{"cha-cha", "lead-in: 8 counts", 2},
		{"cha-cha", "lead-in: 16 beats", 4},
		{"cha-cha", "count in: 2 bars", 2},
		{"cha-cha", "count-in: 2 bars", 2},
		{"cha-cha", "Einzähler: 2 Takte", 2},
		{"cha-cha", "décompte: 2 mesures", 2},
		{"cha-cha", "Conteo previo: 8 tiempos", 2},
		{"cha-cha", "conteggio iniziale: 2 battute", 2},
	} {
		text := led(tt.dance, tt.line)
		score, found := routine.Read("quay.md", []byte(text), shipped())
		require.False(t, routine.HasErrors(found), "%s: %v", tt.line, found)
		assert.Equal(t, tt.want, score.LeadIn(), tt.line)
		tidy, _ := routine.Tidy("quay.md", []byte(text), shipped())
		again, found := routine.Read("quay.md", tidy, shipped())
		assert.Empty(t, found, tt.line)
		assert.Equal(t, tt.want, again.LeadIn(), "%s, tidied", tt.line)
		if _, value, _ := strings.Cut(tt.line, ": "); strings.HasPrefix(tt.line, "lead-in") {
			assert.Contains(t, string(tidy), tt.line)
			assert.Equal(t, value, routine.TopSetting(tidy, "lead-in"))
		}
	}
	score, found := routine.Read("quay.md", []byte("dance: waltz\nlead-in: 3 bars\n\n## Order\n\n1. Box step\n"), shipped())
	require.False(t, routine.HasErrors(found))
	assert.Equal(t, 3, score.LeadIn(), "without lines of ---")
}

// TestLeadInsThatCanNotBe are reported where they stand, and the usual one is counted.
func TestLeadInsThatCanNotBe(t *testing.T) {
	for _, tt := range []struct{ line, message string }{
		{"lead-in: 5", `"5" is more than 4 bars`},
		{"lead-in: 32 counts", `"32 counts" is more than 4 bars`},
		{"lead-in: 6 counts", `"6 counts" does not fill bars of 4 beats`},
		{"lead-in: -1", `"-1" is not a lead-in`},
		{"lead-in: 1.5 bars", `"1.5 bars" is not a lead-in`},
		{"lead-in: long", `"long" is not a lead-in`},
		{"lead-in: 2 bars of clicks", `"2 bars of clicks" is not a lead-in`},
		{"lead-in: 99999 bars", `"99999 bars" is not a lead-in`},
		{"lead-in:", "lead-in has no value"},
	} {
		score, found := routine.Read("quay.md", []byte(led("cha-cha", tt.line)), shipped())
		at := place{"bad-value", 3, 10}
		if tt.line == "lead-in:" {
			at.column--
		}
		require.Equal(t, []place{at}, places(found), tt.line)
		assert.Equal(t, tt.message, found[0].Message)
		assert.Equal(t, routine.UsualLeadIn, score.LeadIn())
	}
	_, found := routine.Read("quay.md", []byte(led("cha-cha", "led-in: 2")), shipped())
	require.Equal(t, []place{{"unknown-setting", 3, 1}}, places(found))
	assert.Contains(t, found[0].Hint, "lead-in")
	_, found = routine.Read("quay.md", []byte("---\ndance: quay march\nmetre: x\nlead-in: 8 counts\n---\n\n## Order\n\n1. Sway\n"), shipped())
	assert.Contains(t, places(found), place{"bad-value", 3, 8}, "the metre")
}
