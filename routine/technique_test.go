package routine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// techniqueSheet is a turn as examiners write it, with the columns of technique charts (common practice).
const techniqueSheet = `---
dance: waltz
---

## Order

1. Lantern turn

## Lantern turn

| No. | Timing | Gentleman's steps | Alignment | Amount of turn | Rise and fall | Footwork | CBM | Sway |
|---|---|---|---|---|---|---|---|---|
| 1 | 1 | RF fwd | Facing DW | Commence to turn to R | Commence to rise at end of 1 | HT | CBM | – |
| 2 | 2 | LF to side | Backing DC | 1/4 between 1 and 2 | Continue to rise on 2 & 3 | T | | R |
| 3 | 3 | RF closes to LF | Backing LOD | 1/8 between 2–3, body completes turn | Up. Lower e/o 3 | T H | nil | to R |

| Step No | Beats | Ladies | Alignment | Amount of turn | Sway |
|---|---|---|---|---|---|
| 1 | 1 | LF bk | Backing DW | Start to turn R | straight |
| 2 | 2 | RF to side | Pointing LOD | 3/8 btw 1-2 | L |
| 3 | 3 | LF closes to RF | LOD | | L |
`

func TestATechniqueChartFoldsIntoTheSteps(t *testing.T) {
	tidy, found := routine.Tidy("lantern.md", []byte(techniqueSheet), shipped())
	require.Empty(t, found)
	sheet, found := routine.Parse("lantern.md", []byte(techniqueSheet), shipped())
	require.Empty(t, found)
	rows := sheet.Figures[0].Rows
	var cells []string
	for i := range rows {
		for p := range rows[i].Steps {
			cells = append(cells, rows[i].Steps[p].String())
		}
	}
	assert.Equal(t, []string{
		"RF forward, facing DW, HT, commence to rise at end, CBM (Commence to turn to R)", "LF back, backing DW (Start to turn R)",
		"LF side, 1/4 R, backing DC, T, sway R (Continue to rise on 2 & 3)", "RF side, 3/8 R, pointing LOD, sway L",
		"RF close, 1/8 R, backing LOD, TH, up, lower at end, sway R (body completes turn)", "LF close, facing LOD, sway L",
	}, cells)
	again, found := routine.Parse("tidy.md", tidy, shipped())
	require.Empty(t, found)
	assert.NotContains(t, string(tidy), "Sway")
	for i := range rows {
		for p := range rows[i].Steps {
			assert.Equal(t, rows[i].Steps[p].String(), again.Figures[0].Rows[i].Steps[p].String())
		}
	}
}

// TestTheColumnOfTurnsHasRanges, as charts give how far a turn may vary.
func TestTheColumnOfTurnsHasRanges(t *testing.T) {
	for cell, want := range map[string]string{
		"1/4 to 3/8 between 1 and 2":       "1/4 to 3/8 R",
		"1/4–3/8 R between 1 and 2":        "1/4 to 3/8 R",
		"3/8 to 1/4 to R btw 1-2":          "3/8 to 1/4 R",
		"R 1/4 to 3/8, between 1 and 2":    "1/4 to 3/8 R",
		"turn to R, ¼ to ⅜ between 1 & 2":  "1/4 to 3/8 R",
		"1/4 R (1/8 to 3/8) between 1–2":   "1/4 R (1/8 to 3/8)",
		"1/4 (1/8 to 3/8) between 1 and 2": "1/4 R (1/8 to 3/8)",
		"1/8 L to 1/8 R between 1 and 2":   "1/8 L to 1/8 R",
		"0 to 1/8 between 1 and 2":         "0 to 1/8 R",
		"1/4 between 1 and 2":              "1/4 R",
	} {
		text := strings.Replace(techniqueSheet, "1/4 between 1 and 2", cell, 1)
		sheet, found := routine.Parse("lantern.md", []byte(text), shipped())
		require.Empty(t, found, cell)
		s := sheet.Figures[0].Rows[1].Steps[routine.Leader]
		assert.Equal(t, want, s.Varies.Text(s.Turn), cell)
		assert.NotContains(t, s.Note, "1/", cell)
	}
	for cell, code := range map[string]routine.Code{
		"1/4 to 1/4 between 1 and 2":                      "turn-range",
		"1/4 (3/8 to 1/2) between 1 and 2":                "turn-range",
		"1/4 to 3/8 between 1 and 2, 1/8 between 1 and 2": "turn-range",
	} {
		_, found := routine.Parse("lantern.md", []byte(strings.Replace(techniqueSheet, "1/4 between 1 and 2", cell, 1)), shipped())
		require.Len(t, found, 1, cell)
		assert.Equal(t, code, found[0].Code, cell)
	}
}

// TestTechniqueThatContradictsTheStep: a cell beside the step can't say something else than the step.
func TestTechniqueThatContradictsTheStep(t *testing.T) {
	for old, test := range map[string]struct {
		new  string
		code routine.Code
	}{
		"| Facing DW |":              {"| Facing river |", "unknown-direction"},
		"RF fwd | Facing DW":         {"RF fwd, facing wall | Facing DW", "said-twice"},
		"LF to side | Backing DC":    {"LF to side, 1/8 R | Backing DC", "said-twice"},
		"Commence to turn to R |":    {"|", "turn-unreadable"},
		"RF closes to LF | Backing":  {"RF closes to LF, HT | Backing", "said-twice"},
		"| 1 | 1 | RF fwd | Facing":  {"| 1 | 1 | RF fwrd | Facing", "unknown-word"},
		"| 1 | 1 | LF bk | Backing ": {"| 1 | 1 | LF bk | Backing DC ", "alignment-contradicted"},
	} {
		require.Contains(t, techniqueSheet, old)
		found := routine.Check("lantern.md", []byte(strings.Replace(techniqueSheet, old, test.new, 1)), shipped())
		require.NotEmpty(t, found, old)
		assert.Equal(t, test.code, found[0].Code, "%s: %v", test.new, found)
	}
}

// TestColumnsUnderTheirUsualNames: the partners and the count, as teachers head their columns.
func TestColumnsUnderTheirUsualNames(t *testing.T) {
	chart := func(count, leader, follower string) string {
		return "---\ndance: cha-cha\n---\n\n## Order\n\n1. Lantern step\n\n## Lantern step\n\n|" + count + "|" + leader + "|" + follower + "|\n|---|---|---|\n" +
			"|2|LF forward|RF back|\n|3|RF replace|LF replace|\n|4|LF side|RF side|\n|&|RF close|LF close|\n|1|LF side|RF side|\n"
	}
	for _, names := range [][3]string{
		{"Beats", "Gent", "Lady"}, {"Counts", "Gents", "Ladies"}, {"Timing", "Gentleman's steps", "Lady’s steps"}, {"Beat", "Lead/Man", "Follow/Lady"}, {"COUNT", "He", "She"},
		{"Rhythm", "Men", "Women"}, {"**Count**", "Man's part", "Woman's part"}, {"Time", "Leaders", "Followers"}, {"Music", "Gentlemen", "Ladies'"}, {"Count:", "Lead", "Follow"},
	} {
		sheet, found := routine.Parse("lantern.md", []byte(chart(names[0], names[1], names[2])), shipped())
		require.Empty(t, found, "%v", names)
		require.Len(t, sheet.Figures, 1, "%v", names)
		assert.Equal(t, [2]bool{true, true}, sheet.Figures[0].Has, "%v", names)
	}
}
