package handout

import (
	"fmt"
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
	return partName(p.Figure, p.From, p.To)
}

func partName(f *routine.Figure, from, to int) string {
	switch {
	case from == 0 && to == len(f.Rows):
		return f.Name
	case to == from+1:
		return fmt.Sprintf("%s, step %d", f.Name, to)
	}
	return fmt.Sprintf("%s, steps %d–%d", f.Name, from+1, to)
}

// stepText says a step to who has no chart before them.
func stepText(s *routine.Step) string {
	if s.Stands() {
		return strings.Replace(s.String(), "–", "stands still", 1)
	}
	return s.String()
}
