package handout

import (
	"strings"

	"dance.example/slowquick/routine"
)

// title returns a word with a capital first letter.
func title(word string) string {
	if word == "" {
		return ""
	}
	return strings.ToUpper(word[:1]) + word[1:]
}

// passageName returns the name of a passage's figure, and which of its steps are danced.
func passageName(s *routine.Score, passage int) string {
	p := &s.Passages[passage]
	return p.Figure.Part(p.From, p.To)
}
