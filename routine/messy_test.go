package routine_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/testdata/thorough"
)

// spoken is something that can be said, as it is written and as it may be said instead.
type spoken struct {
	word string
	ways []string
}

// spokenTerms returns the terms of a part of the vocabulary that keep accepts.
func spokenTerms(part string, keep func(word string) bool) (list []spoken) {
	for _, terms := range routine.Vocabulary() {
		for _, term := range terms.Terms {
			if terms.Name == part && keep(term.Word) {
				list = append(list, spoken{term.Word, slices.Concat([]string{term.Word}, term.Also, slices.Concat(term.Foreign...))})
			}
		}
	}
	return list
}

// said draws a term and a way to say it.
func (m *messy) said(terms []spoken, label string) (word, way string) {
	term := rapid.SampledFrom(terms).Draw(m.t, label)
	return term.word, rapid.SampledFrom(term.ways).Draw(m.t, label+" said")
}

// messy draws cells as people write them.
type messy struct{ t *rapid.T }

// vocabularyOf is the vocabulary by what it says of a step.
type vocabularyOf struct{ feet, sides, ways, actions, places, directions, amounts, numbers []spoken }

func wholeVocabulary(t require.TestingT) (v vocabularyOf) {
	among := func(words ...string) func(string) bool {
		return func(word string) bool { return slices.Contains(words, word) }
	}
	v.feet, v.sides = spokenTerms("steps", among("LF", "RF")), spokenTerms("steps", among("L", "R"))
	v.ways = spokenTerms("steps", among("forward", "back", "side", "diagonally forward", "diagonally back", "close", "cross in front", "cross behind", "replace", "in place"))
	v.actions = spokenTerms("steps", among("check", "swivel L", "swivel R", "heel turn", "pivot", "spiral R", "spin", "twist", "rock", "lunge", "stamp", "CBM", "CBMP", "lower", "rise",
		"lower at end", "commence to rise", "continue to rise", "up", "sway L", "hip action", "under the arm", "press", "kick", "flick", "hover", "hook", "turned out", "sweep", "rondé", "sacada", "gancho", "boleo", "bounce"))
	direction := among("LOD", "DW", "wall", "against LOD", "centre", "DC")
	v.directions = spokenTerms("positions", direction)
	v.places = spokenTerms("positions", func(word string) bool {
		_, isDirection := routine.ParseDirection(word)
		return !isDirection && !slices.Contains([]string{"facing", "backing", "pointing"}, word)
	})
	v.amounts = spokenTerms("steps", among("1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8", "1"))
	v.numbers = spokenTerms("counts", among("1", "2", "3", "4"))
	for _, list := range [][]spoken{v.feet, v.sides, v.ways, v.actions, v.places, v.directions, v.amounts, v.numbers} {
		require.NotEmpty(t, list)
	}
	return v
}

// cell draws a step and returns what its tidy form must contain.
func (m *messy) cell(v *vocabularyOf) (text string, holds []string) {
	foot, footSaid := m.said(v.feet, "foot")
	way, waySaid := m.said(v.ways, "way")
	text, holds = footSaid+" "+waySaid, []string{foot + " " + way}
	if rapid.Bool().Draw(m.t, "foot last") && way != "close" && !strings.HasPrefix(way, "cross") {
		text = waySaid + " " + footSaid
	}
	for _, kind := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"action", "place", "turn", "facing", "note"}), 0, 3, rapid.ID).Draw(m.t, "details") {
		text += rapid.SampledFrom([]string{", ", "; ", " , "}).Draw(m.t, "between")
		switch kind {
		case "action":
			word, said := m.said(v.actions, "action")
			text, holds = text+said, append(holds, word)
		case "place":
			word, said := m.said(v.places, "place")
			text, holds = text+said, append(holds, word)
		case "turn":
			amount, amountSaid := m.said(v.amounts, "amount")
			side, sideSaid := m.said(v.sides, "side")
			how := rapid.SampledFrom([]string{"%s %s", "%s turn %s", "%s to the %s", "turning %s %s"}).Draw(m.t, "how")
			text, holds = text+fmt.Sprintf(how, amountSaid, sideSaid), append(holds, amount+" "+side)
		case "facing":
			direction, said := m.said(v.directions, "direction")
			stand := rapid.SampledFrom([]string{"facing", "fcg", "backing", "bkg"}).Draw(m.t, "stand")
			text, holds = text+stand+" "+said, append(holds, map[byte]string{'f': "facing ", 'b': "backing "}[stand[0]]+direction)
		case "note":
			text, holds = text+"(smile, 2x)", append(holds, "(smile, 2x)")
		}
	}
	return text, holds
}

// TestTidyOfMessyCells: whatever words of whatever language a chart is written in, tidy keeps what is
// danced, loses nothing, and has nothing more to do.
func TestTidyOfMessyCells(t *testing.T) {
	sheets := 20
	if thorough.Asked() {
		sheets = 2000
	}
	v, lib := wholeVocabulary(t), shipped()
	read := 0
	sheet := rapid.Custom(func(t *rapid.T) messySheet {
		m, out := &messy{t}, messySheet{text: "---\ndance: rumba\n---\n\n## Order\n\n1. Lantern step\n\n## Lantern step\n\n| Count | Leader | Follower |\n|---|---|---|\n"}
		for _, count := range []string{"2", "3", "4", "1"} {
			number := v.numbers[slices.IndexFunc(v.numbers, func(s spoken) bool { return s.word == count })]
			cells := [2]string{}
			for p := range cells {
				var holds []string
				cells[p], holds = m.cell(&v)
				if _, found := routine.ParseStep(cells[p]); len(found) > 0 { // contradicts itself
					cells[p], holds = "LF side", []string{"LF side"}
				} else {
					out.read++
				}
				out.holds = append(out.holds, holds)
			}
			out.text += "| " + rapid.SampledFrom(number.ways).Draw(t, "count") + rapid.SampledFrom([]string{"", ".", " "}).Draw(t, "mark") + " | " + cells[0] + " | " + cells[1] + " |\n"
		}
		return out
	})
	for seed := range sheets {
		s := sheet.Example(seed)
		read += s.read
		tidy, found := routine.Tidy("lantern.md", []byte(s.text), lib)
		require.False(t, routine.HasErrors(found), "%s\n%v", s.text, found)
		require.Equal(t, danced(t, []byte(s.text)), danced(t, tidy), "%s", s.text)
		again, _ := routine.Tidy("lantern.md", tidy, lib)
		require.Equal(t, string(tidy), string(again))
		parsed, _ := routine.Parse("lantern.md", tidy, lib)
		require.Len(t, parsed.Figures[0].Rows, 4, "%s", s.text)
		for i, holds := range s.holds {
			cell := parsed.Figures[0].Rows[i/2].Steps[i%2].String()
			for _, word := range holds {
				require.Contains(t, cell, word, "%s", s.text)
			}
		}
	}
	assert.Greater(t, read, sheets*4, "half of the cells are drawn so that they can be read")
}

// messySheet is a chart of four rows, with what the tidy form of each cell must contain.
type messySheet struct {
	text  string
	holds [][]string
	read  int
}
