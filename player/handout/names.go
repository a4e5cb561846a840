package handout

import (
	"strings"

	"dance.example/slowquick/routine"
)

// title begins a word with a capital.
func title(word string) string {
	if word == "" {
		return ""
	}
	return strings.ToUpper(word[:1]) + word[1:]
}

// passageName names the figure of a passage, and which of its steps are danced.
func passageName(s *routine.Score, passage int) string {
	p := &s.Passages[passage]
	return p.Figure.Part(p.From, p.To)
}

// stepText says a step to who has no chart before them.
func stepText(s *routine.Step) string {
	if s.Stands() {
		return strings.Replace(s.String(), "–", "stands still", 1)
	}
	return s.String()
}
