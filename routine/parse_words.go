package routine

import (
	"regexp"
	"slices"
	"strings"
)

// word is one word of a cell and where it stands in the sheet.
type word struct {
	text string // folded; feet and sides are "lf", "rf", "l" and "r" whatever they are called
	at   extent
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
var joined = regexp.MustCompile(`^(?:([0-9/¼½¾⅛⅜⅝⅞]+°?)(r|l|right|left)|(r|l)([0-9]/[0-9]|[¼½¾⅛⅜⅝⅞]))$`)

// split splits a cell into words, with commas as words, and the note in brackets.
func (l *lexicon) split(text string, base int) (words []word, note string) {
	raw, note := splitWords(text, base)
	for i := 0; i < len(raw); {
		if name, n := l.side(raw[i:]); n > 0 {
			words = append(words, word{name, extent{raw[i].at.from, raw[i+n-1].at.to}})
			i += n
			continue
		}
		w := raw[i]
		i++
		m := joined.FindStringSubmatchIndex(w.text)
		if m == nil {
			words = append(words, w)
			continue
		}
		at := max(m[4], m[8]) // where the second part begins
		for _, part := range []word{{w.text[:at], extent{w.at.from, w.at.from + at}}, {w.text[at:], extent{w.at.from + at, w.at.to}}} {
			if name, n := l.side([]word{part}); n > 0 {
				part.text = name
			}
			words = append(words, part)
		}
	}
	return words, note
}

// side returns the foot or side that words begin with, and how many words name it.
func (l *lexicon) side(words []word) (name string, n int) {
	text := ""
	for k := 0; k < min(l.sideWords, len(words)); k++ {
		if k > 0 {
			text += " "
		}
		text += words[k].text
		if found := l.sides[text]; found != "" {
			name, n = found, k+1
		}
	}
	return name, n
}

var footNames = map[string]Foot{"lf": LF, "l": LF, "rf": RF, "r": RF}

// turnSides are 1 for a turn to the right and -1 for one to the left.
var turnSides = map[string]int{"r": 1, "l": -1}

// match applies the longest phrase that words begin with and returns its length.
func (l *lexicon) match(r *reading, words []word) int {
	for _, p := range l.phrases[words[0].text] {
		if p.begins(words) {
			p.apply(r)
			return len(p.words)
		}
	}
	return 0
}

// phraseAt returns the length of the longest phrase that words begin with.
func (l *lexicon) phraseAt(words []word) int {
	for _, p := range l.phrases[words[0].text] {
		if p.begins(words) {
			return len(p.words)
		}
	}
	return 0
}

// begins reports whether words begin with p.
func (p *phrase) begins(words []word) bool {
	return len(p.words) <= len(words) &&
		slices.EqualFunc(p.words, words[:len(p.words)], func(text string, w word) bool { return w.text == text })
}

// longestOf returns how many of the first words, at most most, a table knows as one.
func longestOf[T any](table map[string]T, words []word, most int) (found T, n int) {
	var text strings.Builder
	for k := 0; k < min(most, len(words)); k++ {
		if k > 0 {
			text.WriteByte(' ')
		}
		text.WriteString(words[k].text)
		if value, ok := table[text.String()]; ok {
			found, n = value, k+1
		}
	}
	return found, n
}

var fractions = map[rune]int{'⅛': 1, '¼': 2, '⅜': 3, '½': 4, '⅝': 5, '¾': 6, '⅞': 7}
