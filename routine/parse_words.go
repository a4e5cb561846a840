package routine

import (
	"cmp"
	"slices"
	"strings"
	"sync"
)

// word is one word of a cell and where it stands in the sheet.
type word struct {
	text string
	at   extent
}

// phrase is one thing that can be said of a step, with the words that say it.
type phrase struct {
	words []string
	apply func(*reading)
}

// vocabulary is everything that can be said of a step or a stance, by first word, longest phrases
// first.
type vocabulary struct {
	byFirst map[string][]phrase
	known   []string // every phrase, for suggestions
}

// stepVocabulary is built at first use, as the program's start and its list of sheets do not need it.
var stepVocabulary = sync.OnceValue(func() *vocabulary {
	v := &vocabulary{byFirst: map[string][]phrase{}}
	say := func(apply func(*reading), texts ...string) {
		for _, text := range texts {
			words := strings.Fields(strings.ToLower(text))
			v.byFirst[words[0]] = append(v.byFirst[words[0]], phrase{words, apply})
		}
		v.known = append(v.known, texts[0])
	}
	way := func(w Way, texts ...string) {
		say(func(r *reading) { r.way(w) }, append([]string{w.String()}, texts...)...)
	}
	way(Forward, "fwd", "forwards")
	way(Back, "bk", "backward", "backwards")
	way(Side, "sd", "sideways", "aside")
	way(DiagonallyForward, "diagonal forward", "diag forward", "diag fwd", "diagonally fwd")
	way(DiagonallyBack, "diagonal back", "diag back", "diag bk")
	way(Close, "closes", "cl", "together", "tog", "closed beside")
	way(HalfClose, "half closes", "half cl")
	way(CrossInFront, "crosses in front", "xif", "cross front", "in front", "crosses front")
	way(CrossBehind, "crosses behind", "xib", "behind")
	say(func(r *reading) { r.way(CrossBehind); r.action("lock") }, "lock behind", "locks behind")
	say(func(r *reading) { r.way(CrossInFront); r.action("lock") }, "lock in front", "locks in front")
	way(Replace, "replaces", "recover", "recovers", "rec", "replace weight")
	way(InPlace, "on the spot", "ip")
	way(Across, "and across", "acr")
	say(func(r *reading) { r.sized(Slight) }, "slightly", "sl")
	say(func(r *reading) { r.sized(Small) }, "small", "sm")
	say(func(r *reading) { r.sized(Large) }, "large", "long")
	say(func(r *reading) { r.weighs(None) }, "no weight", "without weight", "no wt")
	say(func(r *reading) { r.weighs(Part) }, "part weight", "partial weight", "part wt")
	for name, fact := range actions {
		say(func(r *reading) { r.action(name) }, append([]string{name}, fact.also...)...)
	}
	for i, fact := range positionFacts {
		p := Position(i)
		texts := []string{fact.name}
		for _, text := range append([]string{fact.name}, fact.also...) {
			texts = append(texts, text+" position", text+" pos", text)
		}
		say(func(r *reading) { r.step.Position |= positionSet(p) }, texts...)
	}
	for letters, texts := range footworkWords {
		say(func(r *reading) { r.step.Footwork = letters }, texts...)
	}
	for _, list := range v.byFirst {
		slices.SortStableFunc(list, func(a, b phrase) int { return cmp.Compare(len(b.words), len(a.words)) })
	}
	slices.Sort(v.known)
	return v
})

// footworkWords are the words for the trade's letters.
var footworkWords = map[string][]string{"BF": {"ball flat", "ball-flat"}, "HT": {"heel toe"}, "TH": {"toe heel"}, "HF": {"heel flat"},
	"B": {"ball"}, "H": {"heel"}, "T": {"toe"}, "F": {"flat"}, "W": {"whole foot"}, "IE": {"inside edge"}}

// fillers join phrases and say nothing by themselves.
var fillers = map[string]bool{"in": true, "into": true, "to": true, "the": true, "and": true, "&": true, "with": true,
	"of": true, "position": true, "pos": true, "ending": true, "on": true}

var footNames = map[string]Foot{"lf": LF, "l": LF, "left": LF, "rf": RF, "r": RF, "right": RF}

// turnSides are 1 for a turn to the right and -1 for one to the left.
var turnSides = map[string]int{"r": 1, "right": 1, "l": -1, "left": -1}

// match applies the longest phrase that words begin with and returns its length.
func (v *vocabulary) match(r *reading, words []word) int {
	for _, p := range v.byFirst[words[0].text] {
		if len(p.words) > len(words) {
			continue
		}
		if slices.EqualFunc(p.words, words[:len(p.words)], func(text string, w word) bool { return w.text == text }) {
			p.apply(r)
			return len(p.words)
		}
	}
	return 0
}

var fractions = map[rune]int{'⅛': 1, '¼': 2, '⅜': 3, '½': 4, '⅝': 5, '¾': 6, '⅞': 7}

// namedAmounts are amounts of turn in words, in eighths.
var namedAmounts = map[string]int{"quarter": 2, "half": 4, "whole": 8, "full": 8}

var stands = map[string]Stand{"facing": Facing, "faces": Facing, "face": Facing, "backing": Backing, "backs": Backing, "pointing": Pointing, "points": Pointing}

// directionWords are the ways to say a direction, as whole phrases.
var directionWords = map[string]Direction{
	"lod": LOD, "line of dance": LOD, "down lod": LOD,
	"dw": DW, "diagonal to wall": DW, "diag wall": DW, "diagonal wall": DW, "diag to wall": DW,
	"wall":           Wall,
	"dw against lod": DWAgainst, "dw against": DWAgainst, "diagonal to wall against line of dance": DWAgainst, "diagonal to wall against lod": DWAgainst,
	"against lod": Against, "alod": Against, "against line of dance": Against, "against": Against,
	"dc against lod": DCAgainst, "dc against": DCAgainst, "diagonal to centre against line of dance": DCAgainst, "diagonal to centre against lod": DCAgainst,
	"centre": Centre, "center": Centre,
	"dc": DC, "diagonal to centre": DC, "diagonal to center": DC, "diag centre": DC, "diag center": DC, "diagonal centre": DC,
}

const longestDirection = 7 // words
