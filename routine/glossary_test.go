package routine_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/glossary"
)

// assertExplained asserts that the entries of s are words of its cell, in order, and that
// nothing but joining words is left of the cell without them.
func assertExplained(t *testing.T, s routine.Step) {
	t.Helper()
	s.Note = ""
	cell, from := s.String(), 0
	left := " " + strings.ReplaceAll(cell, ",", " ") + " "
	for _, e := range glossary.Of(&s) {
		at := strings.Index(cell[from:], e.Word)
		if !assert.GreaterOrEqual(t, at, 0, "%q: %q is no word of it, or out of order", cell, e.Word) {
			return
		}
		from += at
		assert.NotEmpty(t, e.Meaning, cell)
		assert.LessOrEqual(t, utf8.RuneCountInString(e.Meaning), 70, e.Meaning)
	}
	words := glossary.Of(&s)
	slices.SortStableFunc(words, func(a, b glossary.Entry) int { return len(b.Word) - len(a.Word) }) // so that "back" takes nothing from "back to back"
	for _, e := range words {
		left = strings.ReplaceAll(left, " "+e.Word+" ", " ")
	}
	for _, word := range strings.Fields(left) {
		assert.Contains(t, []string{"in", "and"}, word, "%q has words without a meaning", cell)
	}
}

// TestEveryWordOfStepsHasAMeaning goes through the vocabulary.
func TestEveryWordOfStepsHasAMeaning(t *testing.T) {
	cells := []string{"–"}
	for _, foot := range []string{"LF", "RF"} {
		for _, phrase := range routine.Phrases() {
			cells = append(cells, foot+" "+phrase, foot+" side, "+phrase, foot+" small back, 3/8 L, facing DW, HT, CBMP, "+phrase)
		}
	}
	for _, size := range []string{"slightly", "small", "large"} {
		for w := routine.Forward; w <= routine.Across; w++ {
			cells = append(cells, fmt.Sprintf("LF %s %s", size, w), fmt.Sprintf("LF %s side and slightly %s", size, w))
		}
	}
	for _, stand := range []string{"facing", "backing", "pointing"} {
		for _, to := range routine.DirectionWords() {
			cells = append(cells, fmt.Sprintf("– %s %s", stand, to))
		}
	}
	parts := strings.Fields("H T B F W IE")
	for _, a := range parts {
		cells = append(cells, "LF side, "+a)
		for _, b := range parts {
			cells = append(cells, "LF side, "+a+b)
			for _, c := range parts {
				cells = append(cells, "LF side, "+a+b+c)
			}
		}
	}
	for _, action := range []string{"tap", "press", "kick", "lunge"} {
		cells = append(cells, "LF "+action+", part weight", "LF "+action+", no weight")
	}
	for _, cell := range cells {
		s, _ := routine.ParseStep(cell)
		assertExplained(t, s)
	}
	for turn := routine.Turn(-31); turn <= 31; turn++ {
		assertExplained(t, routine.Step{Foot: routine.LF, Way: routine.Side, Turn: turn})
	}
}

// TestEveryWordOfTheChartsHasAMeaning goes through the library.
func TestEveryWordOfTheChartsHasAMeaning(t *testing.T) {
	lib, steps := shipped(), 0
	for _, dance := range lib.Dances() {
		c, ok := lib.Chapter(dance)
		require.True(t, ok, dance)
		for _, fig := range c.Figures {
			for _, row := range fig.Rows {
				entries := glossary.Counts(c.Dance, row.Count)
				require.Len(t, entries, 1)
				assert.Equal(t, row.Count.String(), entries[0].Word)
				assert.LessOrEqual(t, utf8.RuneCountInString(entries[0].Meaning), 70)
				for p, s := range row.Steps {
					if row.Written[p] {
						assertExplained(t, s)
						steps++
					}
				}
			}
		}
	}
	assert.Greater(t, steps, 1000)
}
