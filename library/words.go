package library

import (
	"slices"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/glossary"
)

// Words returns the part of the vocabulary with a name, with what the library knows of dances.
func (l *Library) Words(part string) (glossary.Part, bool) {
	p, ok := glossary.PartNamed(part)
	if p.Name == "dances" {
		p.Groups = l.dancesIn(p.Groups)
	}
	return p, ok
}

// dancesIn returns the dances of the library with their metres and tempi, and apart those that are known only
// by name.
func (l *Library) dancesIn(groups []glossary.Group) []glossary.Group {
	known := glossary.Group{Name: "Dances in the library"}
	named := glossary.Group{Name: `Other dances, with a line such as "metre: 4/4" below the dance`}
	words := map[string]glossary.Word{}
	for _, g := range groups {
		for _, w := range g.Words {
			words[routine.Key(w.Word)] = w
		}
	}
	for _, name := range l.Dances() {
		dance := l.danceNamed(name)
		if dance == nil {
			continue
		}
		w := words[routine.Key(name)]
		delete(words, routine.Key(name))
		w.Word, w.Meaning = name, dance.Metre.String()+", "+dance.RangeText(dance.Usual)
		for _, alias := range dance.Aliases {
			if !slices.ContainsFunc(w.Also, func(also string) bool { return routine.Key(also) == routine.Key(alias) }) {
				w.Also = append(slices.Clip(w.Also), alias)
			}
		}
		known.Words = append(known.Words, w)
	}
	for _, g := range groups {
		for _, w := range g.Words {
			if _, left := words[routine.Key(w.Word)]; left {
				named.Words = append(named.Words, w)
			}
		}
	}
	if len(named.Words) == 0 {
		return []glossary.Group{known}
	}
	return []glossary.Group{known, named}
}
