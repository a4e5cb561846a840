package routine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"dance.example/slowquick/routine"
)

// TestRangesOfTurn: what may vary is read in the ways that people write it, and written in one.
func TestRangesOfTurn(t *testing.T) {
	for text, want := range map[string]struct {
		usual, from, to routine.Turn
		written         string
	}{
		"1/4 to 3/8 R":                {2, 2, 3, "1/4 to 3/8 R"},
		"3/8 to 1/8 L":                {-3, -3, -1, "3/8 to 1/8 L"},
		"1/8 to 1/4 L":                {-1, -2, -1, "1/8 to 1/4 L"},
		"1/4 R (1/8 to 3/8)":          {2, 1, 3, "1/4 R (1/8 to 3/8)"},
		"1/4 L (1/8 to 3/8)":          {-2, -3, -1, "1/4 L (1/8 to 3/8)"},
		"1/4 R (1/4 to 3/8)":          {2, 2, 3, "1/4 to 3/8 R"},
		"1/4 or 3/8 R":                {2, 2, 3, "1/4 to 3/8 R"},
		"1/4-3/8 R":                   {2, 2, 3, "1/4 to 3/8 R"},
		"¼–⅜R":                        {2, 2, 3, "1/4 to 3/8 R"},
		"1/4 R to 3/8 R":              {2, 2, 3, "1/4 to 3/8 R"},
		"R 1/4 to 3/8":                {2, 2, 3, "1/4 to 3/8 R"},
		"a quarter to a half R":       {2, 2, 4, "1/4 to 1/2 R"},
		"90° to 135° to the right":    {2, 2, 3, "1/4 to 3/8 R"},
		"0 to 1/8 R":                  {0, 0, 1, "0 to 1/8 R"},
		"1/8 to 0 L":                  {-1, -1, 0, "1/8 to 0 L"},
		"1/8 R to 1/8 L":              {1, -1, 1, "1/8 R to 1/8 L"},
		"1/8 R (1/8 L to 1/4 R)":      {1, -1, 2, "1/8 R (1/8 L to 1/4 R)"},
		"0 (1/8 L to 1/8 R)":          {0, -1, 1, "0 (1/8 L to 1/8 R)"},
		"1 to 1 1/4 R":                {8, 8, 10, "1 to 1 1/4 R"},
		"1/4 R":                       {2, 0, 0, "1/4 R"},
		"1/4 R (on 1 to 3)":           {2, 0, 0, "1/4 R (on 1 to 3)"},
		"1/4 bis 3/8 rechts":          {2, 2, 3, "1/4 to 3/8 R"},
		"turning 1/4 to 3/8 R":        {2, 2, 3, "1/4 to 3/8 R"},
		"1/4 R (1/8 to 3/8) (gently)": {2, 1, 3, "1/4 R (1/8 to 3/8) (gently)"},
	} {
		s := step(t, "LF side, "+text)
		assert.Equal(t, want.usual, s.Turn, text)
		assert.Equal(t, routine.Range{From: want.from, To: want.to}, s.Varies, text)
		assert.Equal(t, "LF side, "+want.written, s.String(), text)
	}
	s := step(t, "LF back, 1/2 R after (3/8 to 5/8), pivot")
	assert.Equal(t, routine.Range{From: 3, To: 5}, s.VariesAfter)
	assert.Equal(t, "LF back, 1/2 R (3/8 to 5/8) after, pivot", s.String())
	assert.Equal(t, s, step(t, "LF back, 1/2 R (3/8 to 5/8) after, pivot"))
	assert.Equal(t, "RF close (1 to 3)", ptr(step(t, "RF close (1 to 3)")).String(), "a note")
}

func ptr(s routine.Step) *routine.Step { return &s }

// TestRangesReadAsWritten: whatever range there is, its text is read as the same.
func TestRangesReadAsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := func(name string) routine.Turn { return routine.Turn(rapid.IntRange(-12, 12).Draw(t, name)) }
		ends := [2]routine.Turn{turn("one end"), turn("the other")}
		s := routine.Step{Foot: routine.LF, Way: routine.Side, Varies: routine.Range{From: min(ends[0], ends[1]), To: max(ends[0], ends[1])}}
		if !s.Varies.Varies() {
			s.Varies = routine.Range{}
		}
		s.Turn = max(min(turn("usual"), s.Varies.To), s.Varies.From)
		if rapid.Bool().Draw(t, "after") {
			s.Turn, s.After, s.Varies, s.VariesAfter = 0, s.Turn, routine.Range{}, s.Varies
		}
		assert.Equal(t, s, step(t, s.String()), s.String())
	})
}

// TestRangesThatMakeNoSense are reported where they stand, each once.
func TestRangesThatMakeNoSense(t *testing.T) {
	for text, column := range map[string]int{
		"1/4 R (3/8 to 1/8)":  16, // backwards
		"1/4 R (3/8 to 1/2)":  16, // the usual one is outside
		"1/4 to 1/4 R":        10,
		"foot 1/8 to 1/4 R":   15,
		"1/8 R, 1/4 to 3/8 R": 17,
		"1/4 to 3/8 R, 1/8 R": 24,
	} {
		_, found := routine.ParseStep("LF side, " + text)
		if assert.Len(t, found, 1, text) {
			assert.Equal(t, column, found[0].Span.Start.Column, "%s: %s", text, found[0].Message)
		}
	}
	_, found := routine.ParseStep("LF side, 1/4 to 3/8")
	if assert.Len(t, found, 1) {
		assert.Equal(t, routine.Code("turn-unreadable"), found[0].Code)
	}
}

// TestOtherAlignments: a figure may begin on several alignments, the usual one first; both partners turn with it.
func TestOtherAlignments(t *testing.T) {
	for text, written := range map[string]string{
		"closed, facing DW or LOD":                             "closed, facing DW or LOD",
		"facing DW or facing LOD or the wall, closed":          "closed, facing DW or LOD or wall",
		"closed, backing DC or LOD":                            "closed, backing DC or LOD",
		"closed, facing DW or backing LOD":                     "closed, facing DW or against LOD",
		"closed, follower facing DC or LOD":                    "closed, follower facing DC or LOD",
		"closed, facing DW or LOD, follower backing DW or LOD": "closed, facing DW or LOD, follower backing DW or LOD",
	} {
		s, found := routine.ParseStance(text)
		assert.Empty(t, found, text)
		assert.Equal(t, written, s.String())
		again, found := routine.ParseStance(written)
		assert.Empty(t, found, written)
		again.At = s.At
		assert.Equal(t, s, again)
	}
	s, _ := routine.ParseStance("closed, facing DW or LOD or wall")
	assert.Equal(t, []routine.Turn{-1, 1}, s.Or)
	for _, bad := range []string{"closed, facing DW or DW", "closed, facing DW or LOD, follower backing DW or wall", "closed, facing DW or LOD or LOD"} {
		_, found := routine.ParseStance(bad)
		assert.Len(t, found, 1, bad)
	}
}
