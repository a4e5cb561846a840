package routine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// TestShareOfAFigure: halves, bars, and the first or last steps of a figure are found where it has them; where it has
// not, the item is asked for steps.
func TestShareOfAFigure(t *testing.T) {
	for text, want := range map[string][2]int{
		"Natural turn, first half":            {0, 3},
		"2nd half of the Natural turn":        {3, 6},
		"Half of Natural turn":                {0, 3},
		"½ Natural turn":                      {0, 3},
		"Last half Natural turn":              {3, 6},
		"Natural turn (second half)":          {3, 6},
		"Natural turn – first bar":            {0, 3},
		"Natural turn (bar 2) — smoothly":     {3, 6},
		"Natural turn, bars 1-2":              {0, 6},
		"Natural turn, last 3 steps":          {3, 6},
		"First 4 of Natural turn":             {0, 4},
		"First three steps Natural turn":      {0, 3},
		"Natural turn (first 3 steps only)":   {0, 3},
		"Natural turn — only the second half": {3, 6},
		"Natural turn, half × 2":              {0, 3},
		"Natural turn, first part":            {},
		"Natural turn, bar 3":                 {},
		"Whisk, last half":                    {}, // it has three steps
	} {
		src := []byte("---\ndance: waltz\n---\n\n## Order\n\n1. " + text + "\n")
		for _, form := range []string{"as written", "tidy"} {
			score, found := routine.Read("share.md", src, shipped())
			require.Len(t, score.Items, 1, text)
			if want == [2]int{} {
				require.Len(t, found, 1, text)
				assert.Equal(t, routine.Code("steps-range"), found[0].Code, text)
				assert.Contains(t, found[0].Hint, "steps 1–", text)
			} else {
				assert.Equal(t, want, [2]int{score.Items[0].From, score.Items[0].To}, "%s, %s: %v", text, form, found)
			}
			src, _ = routine.Tidy("share.md", src, shipped())
		}
	}
}
