package pages

import (
	"strings"

	"dance.example/slowquick/player/typeface"
)

// Span is a run of text.
type Span struct {
	Words string
	Style typeface.Style
}

// Plain returns text in the usual letters.
func Plain(words string) []Span { return []Span{{Words: words}} }

// styled returns text in a style.
func styled(words string, s typeface.Style) []Span { return []Span{{words, s}} }

// line is a line of text: its runs, each with the space that follows it.
type line []Span

// width returns how wide spans are, in units of the letters' size.
func width(spans []Span) (sum float64) {
	for _, s := range spans {
		sum += typeface.Of(s.Style).Width(s.Words)
	}
	return sum
}

// words parts spans at their spaces. A word may have several styles.
func words(spans []Span) (list [][]Span) {
	var word []Span
	end := func() {
		if len(word) > 0 {
			list = append(list, word)
		}
		word = nil
	}
	for _, s := range spans {
		for i, part := range strings.Split(strings.Map(spaces, s.Words), " ") {
			if i > 0 {
				end()
			}
			if part != "" {
				word = append(word, Span{part, s.Style})
			}
		}
	}
	end()
	return list
}

// spaces has every space but one that does not break be the same.
func spaces(r rune) rune {
	if r == '\t' || r == '\n' || r == '\r' {
		return ' '
	}
	return r
}

// wrapped breaks text into lines of at most a width, in units of the letters' size: between words or, where
// one has no room in a line, within it.
func wrapped(spans []Span, most float64) (lines []line) {
	var now line
	room := most
	for _, word := range words(spans) {
		wide := width(word)
		if len(now) > 0 {
			last := &now[len(now)-1]
			space := typeface.Of(last.Style).Advance(' ')
			if space+wide <= room {
				last.Words += " "
				if last.Style == word[0].Style {
					last.Words += word[0].Words
					word = word[1:]
				}
				now = append(now, word...)
				room -= space + wide
				continue
			}
			lines, now, room = append(lines, now), nil, most
		}
		for wide > most && len(word) > 0 {
			var head []Span
			head, word = broken(word, most)
			lines, wide = append(lines, head), width(word)
		}
		now = append(now, word...)
		room = most - wide
	}
	return append(lines, now)
}

// broken parts a word, after its first letter at least.
func broken(word []Span, most float64) (head, rest []Span) {
	taken := 0
	for i, s := range word {
		for k, letter := range s.Words {
			most -= typeface.Of(s.Style).Advance(letter)
			if most < 0 && taken > 0 {
				head, rest = append(head, Span{s.Words[:k], s.Style}), append(rest, Span{s.Words[k:], s.Style})
				return head, append(rest, word[i+1:]...)
			}
			taken++
		}
		head = append(head, s)
	}
	return head, nil
}

// longest returns the width of the longest word.
func longest(spans []Span) (most float64) {
	for _, word := range words(spans) {
		most = max(most, width(word))
	}
	return most
}
