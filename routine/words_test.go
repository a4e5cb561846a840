package routine_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/routine"
)

// joining holds words that say nothing by themselves.
var joining = strings.Fields("in into to the and & with of position pos ending on onto step steps stepping hold")

// wordsOf splits a cell into lower-case words, without commas and brackets.
func wordsOf(text string) []string {
	return strings.Fields(strings.ToLower(strings.NewReplacer(",", " ", ";", " ", "(", " ", ")", " ").Replace(text)))
}

func among(all []string, words []string) bool {
	return !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(all, w) })
}

// written returns, for each phrase, the words that tidy writes for it.
func written(t *testing.T) map[string][]string {
	t.Helper()
	words := map[string][]string{}
	for _, text := range routine.Phrases() {
		s, _ := routine.ParseStep("LF " + text)
		words[text] = wordsOf(strings.TrimPrefix(s.String(), "LF"))
		require.NotEmpty(t, words[text], text)
	}
	for _, stand := range []string{"facing", "faces", "backing", "backs", "pointing"} {
		for _, to := range routine.DirectionWords() {
			text := stand + " " + to
			s, found := routine.ParseStep("LF side, " + text)
			require.Empty(t, found, text)
			words[text] = wordsOf(s.Alignment.String())
		}
	}
	require.Greater(t, len(words), 200)
	return words
}

// piece is a run of words that is drawn as a whole.
type piece struct {
	text string
	kind string // "phrase", "turn", "side", "letters", "note"
	turn routine.Turn
}

var footworkPieces = strings.Fields("HT TH BF HF T B H F W IE THT IEW")

// pieces draws what may follow the foot in a cell.
func pieces(phrases []string) *rapid.Generator[piece] {
	return rapid.Custom(func(t *rapid.T) piece {
		switch kind := rapid.SampledFrom([]string{"phrase", "phrase", "phrase", "turn", "side", "joining", "letters", "note"}).Draw(t, "kind"); kind {
		case "turn":
			amount := rapid.SampledFrom([]string{"1/8", "¼", "1 1/4", "3/8", "half", "quarter", "full"}).Draw(t, "amount")
			eighths := map[string]routine.Turn{"1/8": 1, "¼": 2, "1 1/4": 10, "3/8": 3, "half": 4, "quarter": 2, "full": 8}[amount]
			how := rapid.SampledFrom([]string{"%s %s", "%s to %s", "%s to the %s", "%s turn %s", "turn %s %s", "turning %s to the %s"}).Draw(t, "how")
			if side := rapid.SampledFrom([]string{"R", "right", "L", "left"}).Draw(t, "side"); side[0]|0x20 == 'r' {
				return piece{fmt.Sprintf(how, amount, side), kind, eighths}
			} else {
				return piece{fmt.Sprintf(how, amount, side), kind, -eighths}
			}
		case "side":
			return piece{rapid.SampledFrom([]string{"L", "R", "left", "right", "LF", "RF", "to the left", "to R", "on LF", "to RF", "turn", "turning"}).Draw(t, "side"), kind, 0}
		case "joining":
			return piece{rapid.SampledFrom(joining).Draw(t, "word"), kind, 0}
		case "letters":
			return piece{rapid.SampledFrom(footworkPieces).Draw(t, "letters"), kind, 0}
		case "note":
			return piece{rapid.SampledFrom([]string{"(softly)", "(look (far) up)", "( )", "(a, b; c)"}).Draw(t, "note"), kind, 0}
		default:
			return piece{rapid.SampledFrom(phrases).Draw(t, "phrase"), kind, 0}
		}
	})
}

// TestTidyLosesNoWordOfACell: whatever words a cell has, in whatever order, either there is a finding or
// all of them are in the tidied cell, which reads as the same step.
func TestTidyLosesNoWordOfACell(t *testing.T) {
	forms := written(t)
	var phrases []string
	for text := range forms {
		phrases = append(phrases, text)
	}
	slices.Sort(phrases)
	longest := 0
	for _, text := range phrases {
		longest = max(longest, len(strings.Fields(text)))
	}
	clean := 0
	rapid.Check(t, func(t *rapid.T) {
		for range 40 { // cells in each of rapid's checks
			foot := rapid.SampledFrom([]string{"LF", "RF", "left foot", "–"}).Draw(t, "foot")
			cell := foot
			var owners []int // for each word after the foot and outside brackets, its piece
			var words, noted []string
			drawn := rapid.SliceOfN(pieces(phrases), 1, 5).Draw(t, "pieces")
			if foot != "–" && rapid.Bool().Draw(t, "way first") {
				drawn = append([]piece{{rapid.SampledFrom([]string{"side", "forward", "close", "swivel", "tap", "crosses behind"}).Draw(t, "way"), "phrase", 0}}, drawn...)
			}
			for i, p := range drawn {
				cell += rapid.SampledFrom([]string{" ", " ", ", ", "; "}).Draw(t, "between") + p.text
				if p.kind == "note" { // a phrase may go on after it
					noted = append(noted, wordsOf(p.text)...)
					continue
				}
				for _, w := range wordsOf(p.text) {
					words, owners = append(words, w), append(owners, i)
				}
			}
			s, found := routine.ParseStep(cell)
			if len(found) > 0 {
				continue
			}
			if s.Varies.Varies() { // two turns with "to" between them
				continue
			}
			clean++
			tidy := s.String()
			again, found := routine.ParseStep(tidy)
			require.Empty(t, found, "%q is written %q", cell, tidy)
			s.At, again.At = routine.Span{}, routine.Span{}
			require.Equal(t, s, again, "%q is written %q", cell, tidy)

			var turn routine.Turn
			for _, p := range drawn {
				turn += p.turn
			}
			require.Equal(t, turn, s.Turn, "%q", cell)
			has, note := wordsOf(tidy), wordsOf(s.Note)
			require.Subset(t, note, noted, "%q", cell)
			for i, w := range words {
				switch kind := drawn[owners[i]].kind; {
				case kind == "turn", slices.Contains(joining, w), slices.Contains(note, w), w == "turn" && beside(drawn, owners[i]), w == "turning" && beside(drawn, owners[i]):
				case kind == "letters" && strings.Contains(s.Footwork, strings.ToUpper(w)):
				case kind == "side" && footOf(w) == s.Foot.Other() && takenBeside(&s):
				case kind == "side" && footOf(w) != routine.NoFoot && slices.ContainsFunc(s.Actions, func(a string) bool { return strings.HasSuffix(a, " "+footOf(w).String()[:1]) }):
				case covered(forms, longest, words, i, has, &s):
				default:
					t.Fatalf("%q is written %q: %q is lost", cell, tidy, w)
				}
			}
		}
	})
	require.Greater(t, clean, 100, "cells without a finding")
}

// beside reports whether a turn stands next to a piece, not counting words that say nothing. The word
// "turn" then adds nothing.
func beside(drawn []piece, at int) bool {
	for _, step := range []int{-1, 1} {
		i := at + step
		for i >= 0 && i < len(drawn) && (drawn[i].kind == "joining" || drawn[i].kind == "note" || strings.HasPrefix(drawn[i].text, "turn")) && drawn[i].kind != "turn" {
			i += step
		}
		if i >= 0 && i < len(drawn) && drawn[i].kind == "turn" {
			return true
		}
	}
	return false
}

func footOf(word string) routine.Foot {
	return map[string]routine.Foot{"l": routine.LF, "left": routine.LF, "lf": routine.LF, "r": routine.RF, "right": routine.RF, "rf": routine.RF}[word]
}

// takenBeside reports whether a step can only be taken to the other foot.
func takenBeside(s *routine.Step) bool {
	switch s.Way {
	case routine.Close, routine.HalfClose, routine.CrossInFront, routine.CrossBehind:
		return true
	case routine.NoWay:
		return slices.ContainsFunc([]string{"tap", "brush", "draw"}, func(a string) bool { return slices.Contains(s.Actions, a) })
	}
	return false
}

// sides writes left and right as the vocabulary does.
var sides = strings.NewReplacer(" left ", " l ", " right ", " r ")

// covered reports whether the word at i lies in a phrase whose written form is in the tidied cell, or
// follows from an action in it.
func covered(forms map[string][]string, longest int, words []string, i int, has []string, s *routine.Step) bool {
	for from := max(0, i-longest+1); from <= i; from++ {
		for to := i + 1; to <= min(len(words), from+longest); to++ {
			text := sides.Replace(" " + strings.Join(words[from:to], " ") + " ")
			text = strings.TrimSpace(text)
			form, ok := forms[text]
			switch {
			case !ok:
			case among(has, form):
				return true
			case len(form) == 1 && strings.Contains(s.Footwork, strings.ToUpper(form[0])) && slices.Contains(footworkPieces, strings.ToUpper(form[0])):
				return true
			case text == strings.Join(form, " ") && strings.HasSuffix(text, " weight"), strings.HasPrefix(strings.Join(form, " "), "no w"), strings.HasPrefix(strings.Join(form, " "), "part w"):
				// A tap takes no weight, and a press takes part of it.
				return len(s.Actions) > 0 && s.Weight != routine.Full
			}
		}
	}
	return false
}

// TestTidyLosesNoWordOfAStance: the same holds for everything said about how a couple stands.
func TestTidyLosesNoWordOfAStance(t *testing.T) {
	pieces := []string{"or", "as started", "leader", "follower", "man", "lady", "leader LF free", "lady RF", "man's RF free", "follower's LF is free", "leader facing DW", "lady backs the wall",
		"in", "position", "turning", "turn", "ending in", "side", "HT", "1/4 R", "(arms low)", "facing LOD", "LF", "free", "with"}
	for _, p := range positionNames {
		pieces = append(pieces, p, "in "+p, p+" pos.", "follower in "+p)
	}
	long := map[string]string{"man": "leader", "man's": "leader", "lady": "follower", "follower's": "follower", "backs": "backing"}
	nothing := append([]string{"or", "is", "free"}, joining...)
	clean := 0
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			text := ""
			for _, p := range rapid.SliceOfN(rapid.SampledFrom(pieces), 1, 5).Draw(t, "pieces") {
				text += p + rapid.SampledFrom([]string{" ", ", "}).Draw(t, "between")
			}
			s, found := routine.ParseStance(text)
			if len(found) > 0 {
				continue
			}
			clean++
			tidy := s.String()
			again, found := routine.ParseStance(tidy)
			require.Empty(t, found, "%q is written %q", text, tidy)
			s.At, again.At = routine.Span{}, routine.Span{}
			require.Equal(t, s, again, "%q is written %q", text, tidy)
			has := wordsOf(tidy)
			for _, w := range wordsOf(text) {
				w = strings.TrimRight(w, ".")
				if l := long[w]; l != "" && slices.Contains(has, l) || slices.Contains(nothing, w) || slices.Contains(has, w) {
					continue
				}
				switch {
				case w == "facing" && s.Positions&(1<<routine.OpenFacing|1<<routine.Closed) != 0: // "closed facing"
				case w == "facing" && slices.Contains(has, "backing") && strings.Contains(text, " or "): // "backing wall or facing LOD" is "backing wall or against LOD"
				case w == "leader" && s.Facing[routine.Leader].Stand != routine.NoStand: // "leader facing DW" is "facing DW"
				case (w == "man" || w == "man's") && s.Facing[routine.Leader].Stand != routine.NoStand:
				default:
					t.Fatalf("%q is written %q: %q is lost", text, tidy, w)
				}
			}
		}
	})
	require.Greater(t, clean, 20, "stances without a finding")
}
