package routine

import (
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
)

// Parse reads a sheet without dancing its order.
func Parse(name string, src []byte, book Book) (*Sheet, []Finding) {
	s, f := parse(name, src, book)
	f.counts(s)
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
func DirectionWords() (texts []string) {
	for _, list := range lex().directions {
		for _, m := range list {
			texts = append(texts, strings.Join(m.words, " "))
		}
	}
	slices.Sort(texts)
	return texts
}

// ParseStance reads the value of "starts".
func ParseStance(text string) (Stance, []Finding) {
	f := &findings{src: newSource([]byte(text))}
	p := parser{findings: f, sheet: &Sheet{}}
	s := p.stance(extent{0, len(text)})
	return s, Sorted(f.list)
}

// Unsound returns what is wrong with the tables of words: keys that nothing is written with, and words
// that mean two things.
func Unsound() (list []string) {
	applies := said()
	for _, t := range tongues {
		for name, tables := range map[string][]synonyms{"feet": {t.feet}, "steps": {t.steps, t.holds}, "amounts": {t.amounts}, "faces": {t.faces}, "counts": {t.counts},
			"columns": {t.columns}, "facts": {t.facts}, "sections": {t.sections}, "dances": {t.dances}} {
			of := map[string]string{}
			for _, table := range tables {
				for word := range table {
					if name == "steps" && applies[word] == nil && word != "–" ||
						t != &english && (name == "columns" && english.columns[word] == nil && word != "CBM" && word != "Sway" ||
							name == "facts" && english.facts[word] == nil || name == "faces" && !slices.Contains(directionNames[:], word) && !slices.Contains(standNames[:], word)) {
						list = append(list, t.language+": "+word+" is not what is written")
					}
				}
				each(table, func(word, also string) {
					key := columnKey(also)
					if before, twice := of[key]; twice && before != word {
						list = append(list, t.language+": "+also+" is both "+before+" and "+word)
					}
					of[key] = word
				})
			}
		}
	}
	slices.Sort(list)
	return list
}

// OrderIn returns where in a sheet's text its order stands, from its heading to the end of its last part.
func OrderIn(name string, src []byte, book Book) (from, to int) {
	s, _ := parse(name, src, book)
	return s.asFiled(src, s.orderPos)
}

// Tables returns the cells of all rows of all tables in a text, below a row of how the columns are aligned.
func Tables(src []byte) (tables [][][]string) {
	_ = ast.Walk(markdown.Parse(text.NewReader(src)), func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		t, ok := n.(*table)
		if !entering || !ok {
			return ast.WalkContinue, nil
		}
		rows := [][]string{t.text.aligns}
		for _, row := range t.text.cells {
			cells := []string{}
			for _, at := range row {
				cells = append(cells, string(src[at.from:at.to]))
			}
			rows = append(rows, cells)
		}
		tables = append(tables, rows)
		return ast.WalkContinue, nil
	})
	return tables
}
