package routine

import (
	"maps"
	"slices"
	"strings"
)

// Parse reads a sheet without dancing its order.
func Parse(name string, src []byte, book Book) (*Sheet, []Finding) {
	s, f := parse(name, src, book)
	return s, Sorted(f.list)
}

// ParseStep reads the cell of one step, as far as it can be read.
func ParseStep(text string) (Step, []Finding) {
	f := &findings{src: newSource([]byte(text))}
	s := (&parser{findings: f}).step(extent{0, len(text)})
	return s, Sorted(f.list)
}

// Check returns Read's findings.
func Check(name string, src []byte, book Book) []Finding {
	_, found := Read(name, src, book)
	return found
}

// Phrases returns all that can be said of a step in words.
func Phrases() (texts []string) {
	for _, list := range lex().phrases {
		for _, p := range list {
			texts = append(texts, strings.Join(p.words, " "))
		}
	}
	slices.Sort(texts)
	return texts
}

// DirectionWords returns all ways to name a direction of the hall.
func DirectionWords() []string { return slices.Sorted(maps.Keys(lex().directions)) }

// ParseStance reads the value of "starts".
func ParseStance(text string) (Stance, []Finding) {
	f := &findings{src: newSource([]byte(text))}
	p := parser{findings: f, sheet: &Sheet{}}
	s := p.stance(extent{0, len(text)})
	return s, Sorted(f.list)
}
