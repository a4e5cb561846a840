package glossary

import (
	"strings"

	"dance.example/slowquick/routine"
)

// Part is a part of the vocabulary: steps, counts, facts, positions or dances.
type Part struct {
	Name   string  `json:"name"`
	Groups []Group `json:"groups"`
}

// Group is some words that belong together.
type Group struct {
	Name  string `json:"name"`
	Words []Word `json:"words"`
}

// Word is something that a sheet can say, what it means, and the other words that are read as the same:
// in English and, by the language's name, in others.
type Word struct {
	Word    string              `json:"word"`
	Meaning string              `json:"meaning,omitempty"`
	Also    []string            `json:"also,omitempty"`
	Foreign map[string][]string `json:"foreign,omitempty"`
}

// Vocabulary returns everything that a sheet can say. Names of dances have no meaning.
func Vocabulary() []Part {
	var parts []Part
	for _, terms := range routine.Vocabulary() {
		parts = append(parts, Part{terms.Name, grouped(terms)})
	}
	return parts
}

// PartNamed returns a part of the vocabulary; ok is false if there is none of that name.
func PartNamed(name string) (p Part, ok bool) {
	for _, part := range Vocabulary() {
		if part.Name == name {
			return part, true
		}
	}
	return Part{}, false
}

// grouped puts terms into their groups. A term in several groups has its other words only in the first.
// Terms in no group form one without a name. A term with a side, such as "swivel L", is left out, as the
// word without the side has the meaning.
func grouped(terms routine.Terms) (list []Group) {
	left := map[string]routine.Term{}
	for _, t := range terms.Terms {
		left[t.Word] = t
	}
	for _, g := range groups {
		if g.part != terms.Name {
			continue
		}
		words := make([]Word, len(g.words))
		for i, e := range g.words {
			name := e.Word
			if _, ok := left[name]; !ok {
				name = strings.TrimSuffix(name, " position")
			}
			words[i] = word(e, left[name])
			delete(left, name)
		}
		list = append(list, Group{g.name, words})
	}
	var rest []Word
	for _, t := range terms.Terms {
		if _, ok := left[t.Word]; ok && meaning(t.Word) == "" {
			rest = append(rest, word(Entry{Word: t.Word}, t))
		}
	}
	if len(rest) > 0 {
		list = append(list, Group{Words: rest})
	}
	return list
}

func word(e Entry, t routine.Term) Word {
	w := Word{Word: e.Word, Meaning: e.Meaning, Also: t.Also}
	for i, language := range routine.Languages() {
		if i < len(t.Foreign) && len(t.Foreign[i]) > 0 {
			if w.Foreign == nil {
				w.Foreign = map[string][]string{}
			}
			w.Foreign[language] = t.Foreign[i]
		}
	}
	return w
}
