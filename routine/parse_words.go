package routine

import (
	"slices"
	"strings"
	"unicode"
)

// word is one word of a cell and where it stands in the sheet.
type word struct {
	text string // folded; feet and sides are "lf", "rf", "l" and "r" whatever they are called
	at   extent
}

// newWord returns a word as it is written at a place, without the full stops of "fwd." and "pos.".
func newWord(written string, from int) word {
	w := word{fold(written), extent{from, from + len(written)}}
	if short := strings.TrimRight(w.text, "."); short != "" {
		w.text = short
	}
	return w
}

// phrase is one thing that can be said of a step, with the words that say it.
type phrase struct {
	words []string
	apply func(*reading)
}

// said returns what can be said of a step or a stance, by the words that Tidy writes.
func said() map[string]func(*reading) {
	all := map[string]func(*reading){
		"cross behind, lock":   func(r *reading) { r.way(CrossBehind); r.action("lock") },
		"cross in front, lock": func(r *reading) { r.way(CrossInFront); r.action("lock") },
	}
	for w := Forward; int(w) < len(wayNames); w++ {
		all[w.String()] = func(r *reading) { r.way(w) }
	}
	for s := Slight; int(s) < len(sizeNames); s++ {
		all[s.String()] = func(r *reading) { r.sized(s) }
	}
	for w := Part; int(w) < len(weightNames); w++ {
		all[weightNames[w]] = func(r *reading) { r.weighs(w) }
	}
	for name := range actions {
		all[name] = func(r *reading) { r.action(name) }
	}
	for i, fact := range positionFacts {
		all[fact.name] = func(r *reading) { r.step.Position |= positionSet(Position(i)) }
	}
	for i, fact := range handsFacts {
		all[fact.name] = func(r *reading) { r.step.Hands |= 1 << i }
	}
	for text, letters := range footworkWords {
		all[text] = func(r *reading) { r.step.Footwork = letters }
	}
	return all
}

// footworkWords are the trade's letters for footwork in words.
var footworkWords = map[string]string{"ball flat": "BF", "heel toe": "HT", "toe heel": "TH", "heel flat": "HF", "ball heel": "BH", "toe heel toe": "THT", "heel toe heel": "HTH",
	"toe heel heel toe": "THHT", "ball": "B", "heel": "H", "toe": "T", "flat": "F", "whole foot": "W", "inside edge": "IE"}

// joined matches an amount of turn that is written together with its side: "1/4R", "R¼", "90°l".
var joined = lazily(`(?i)^(?:([0-9/¼½¾⅛⅜⅝⅞]+°?)(r|l|right|left)|(r|l)([0-9]/[0-9]|[¼½¾⅛⅜⅝⅞]))\.*$`)

// split splits a cell into words, with commas as words, and the note in brackets.
func (l *lexicon) split(text string, base int) (words []word, note string) {
	raw, note := splitWords(text, base)
	for i := 0; i < len(raw); i++ {
		w := raw[i]
		written := text[w.at.from-base : w.at.to-base] // w.text, folded, may be longer or shorter
		part := func(from, to int) word { return newWord(written[from:to], w.at.from+from) }
		if at, dash := dashed(written); at > 0 {
			raw = slices.Insert(raw, i+1, part(at, at+dash), part(at+dash, len(written)))
			raw[i], written = part(0, at), written[:at]
		}
		if at := joinedAt(written); at > 0 {
			raw = slices.Insert(raw, i+1, part(at, len(written)))
			raw[i] = part(0, at)
		}
	}
	words = raw[:0]
	for i := 0; i < len(raw); {
		w, n := raw[i], 1
		if name, k := l.sides.longest(raw[i:]); k > 0 {
			w, n = word{name, extent{w.at.from, raw[i+k-1].at.to}}, k
		}
		i += n
		if isBracket(w) && !l.turnBefore(words) {
			note = strings.TrimSpace(note + " " + Plain(text[w.at.from-base+1:w.at.to-base-1]))
			continue
		}
		words = append(words, w)
	}
	return words, note
}

// turnBefore reports whether words end with what a range of turn in brackets may follow.
func (l *lexicon) turnBefore(words []word) bool {
	if len(words) == 0 {
		return false
	}
	last := words[len(words)-1].text
	return turnSides[last] != 0 || l.after[last] || unicode.IsNumber(firstRune(last))
}

// joinedAt returns where an amount and a side that are written together part, or 0.
func joinedAt(text string) int {
	if first := firstRune(text); len(text) < 2 || !unicode.IsNumber(first) && !strings.ContainsRune("rRlL", first) {
		return 0
	}
	if m := joined.FindStringSubmatchIndex(text); m != nil {
		return max(m[4], m[8])
	}
	return 0
}

// footAlone are the words before a turn that the body doesn't make, and leading those before what is led.
var (
	footAlone = []string{"foot", "feet"}
	leading   = []string{"leads", "lead", "led", "leading"}
)

var footNames = map[string]Foot{"lf": LF, "l": LF, "rf": RF, "r": RF}

// turnSides are 1 for a turn to the right and -1 for one to the left.
var turnSides = map[string]int{"r": 1, "l": -1}

// match applies the longest phrase that words begin with and returns its length.
func (l *lexicon) match(r *reading, words []word) int {
	for _, p := range l.phrases[words[0].text] {
		if begin(words, p.words) {
			p.apply(r)
			return len(p.words)
		}
	}
	return 0
}

// phraseAt returns the length of the longest phrase that words begin with.
func (l *lexicon) phraseAt(words []word) int {
	for _, p := range l.phrases[words[0].text] {
		if begin(words, p.words) {
			return len(p.words)
		}
	}
	return 0
}

// lookup finds the longest of some texts that words begin with, by their first words.
type lookup[T any] map[string][]meant[T]

// meant is a text and what it means.
type meant[T any] struct {
	words []string
	value T
}

// add adds a text, unless it has a meaning already.
func (l lookup[T]) add(text string, value T) {
	words := strings.Fields(fold(text))
	at := 0
	for at < len(l[words[0]]) && len(l[words[0]][at].words) >= len(words) {
		if slices.Equal(l[words[0]][at].words, words) {
			return
		}
		at++
	}
	l[words[0]] = slices.Insert(l[words[0]], at, meant[T]{words, value})
}

// longest returns the value of the longest text that words begin with, and how many words it has.
func (l lookup[T]) longest(words []word) (value T, n int) {
	if len(words) == 0 {
		return value, 0
	}
	for _, m := range l[words[0].text] {
		if begin(words, m.words) {
			return m.value, len(m.words)
		}
	}
	return value, 0
}

// begin reports whether words begin with some texts.
func begin(words []word, texts []string) bool {
	if len(texts) > len(words) {
		return false
	}
	for i, text := range texts {
		if words[i].text != text {
			return false
		}
	}
	return true
}

// choices are everyday words that can mean several things: what they don't say, and what does.
var choices = map[string]struct{ lacks, hint string }{
	"cross":   {"does not say on which side of the other foot", "write cross in front or cross behind"},
	"crosses": {"does not say on which side of the other foot", "write cross in front or cross behind"},
	"crossed": {"does not say on which side of the other foot", "write cross in front or cross behind"},
	"wait":    {"is no step of a foot", "write – or wait, without a foot, for a partner who stands still"},
	"waits":   {"is no step of a foot", "write – or wait, without a foot, for a partner who stands still"},
	"pause":   {"is no step of a foot", "write – or pause, without a foot, for a partner who stands still"},
	"basic":   {"is a figure, not a step", "write where the foot goes, and basic into the order"},
	"chasse":  {"is more than one step", "write a row for each of its steps"},
	"shuffle": {"is more than one step", "write a row for each of its steps"},
	"triple":  {"is more than one step", "write a row for each of its steps"},
}

var fractions = map[rune]int{'⅛': 1, '¼': 2, '⅜': 3, '½': 4, '⅝': 5, '¾': 6, '⅞': 7}
