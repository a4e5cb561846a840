package routine

import (
	"cmp"
	"maps"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// synonyms maps what [Tidy] writes to the other words that are read as the same.
type synonyms map[string][]string

// tongue is a language's words for what sheets say. Each table is keyed by what Tidy writes.
type tongue struct {
	language string
	source   string
	feet     synonyms // and left and right
	steps    synonyms // where feet go, sizes, weight, footwork and actions; "–" is to stand still
	amounts  synonyms // of turn
	turning  []string // words that may stand beside an amount of turn
	toward   []string // words between an amount of turn, or "facing", and a side or direction
	degree   []string
	then     []string // words before a turn that follows the step
	after    []string // words after such a turn
	through  []string // words between the ends of a range of turn
	joining  []string // words that join others and say nothing by themselves
	faces    synonyms // facing, backing, pointing, and the directions of the hall
	holds    synonyms // positions, and which hands hold
	counts   synonyms
	aloud    [len(aloud)]string // what is said for a count
	columns  synonyms
	facts    synonyms
	settings synonyms // of the whole sheet
	sections synonyms // headings that aren't figures
	dances   synonyms
}

// tongues are the languages that are read; the first is the one that Tidy writes. If two languages use a
// word differently, it is read as the earlier one's.
var tongues = []*tongue{&english, &german, &french, &spanish, &italian}

// Term is something that a sheet can say, as Tidy writes it, with the other words that are read as the same.
type Term struct {
	Word string   `json:"word"`
	Also []string `json:"also,omitempty"`
	// Foreign holds its words in other languages, in the order of [Languages].
	Foreign [][]string `json:"foreign,omitempty"`
}

// Terms is a part of the vocabulary.
type Terms struct {
	Name  string `json:"name"` // steps, counts, facts, positions or dances
	Terms []Term `json:"terms"`
}

// Languages returns the names of the languages that are read besides English.
func Languages() (names []string) {
	for _, t := range tongues[1:] {
		names = append(names, t.language)
	}
	return names
}

// Vocabulary returns every word of the sheet language, sorted within its part. What can be said of a
// step, but also of how a couple stands, is among the positions.
func Vocabulary() []Terms {
	steps := said()
	maps.DeleteFunc(steps, func(word string, _ func(*reading)) bool { _, hold := english.holds[word]; return hold })
	settings := slices.Concat(factNames, sheetKeys, danceKeys, settingNames)
	lists := [len(vocabularyParts)][]Term{
		terms(func(t *tongue) []synonyms { return []synonyms{t.feet, t.steps, t.amounts} }, slices.Collect(maps.Keys(steps))),
		terms(func(t *tongue) []synonyms { return []synonyms{t.counts} }, nil),
		terms(func(t *tongue) []synonyms { return []synonyms{t.facts, t.settings, t.columns, t.sections} }, settings),
		terms(func(t *tongue) []synonyms { return []synonyms{t.holds, t.faces} }, slices.Concat(positionNames(), directionNames[:])),
		terms(func(t *tongue) []synonyms { return []synonyms{t.dances} }, nil),
	}
	var all []Terms
	for i, name := range vocabularyParts {
		all = append(all, Terms{name, lists[i]})
	}
	return all
}

var vocabularyParts = [...]string{"steps", "counts", "facts", "positions", "dances"}

// VocabularyParts returns the names of the vocabulary's parts, without making the lists of their words.
func VocabularyParts() []string { return slices.Clone(vocabularyParts[:]) }

// terms returns the terms of some tables, and of names that may be in none of them.
func terms(tables func(*tongue) []synonyms, names []string) (list []Term) {
	words := map[string]*Term{}
	for _, name := range names {
		words[name] = &Term{Word: name}
	}
	for i, t := range tongues {
		for _, table := range tables(t) {
			for word, also := range table {
				if words[word] == nil {
					words[word] = &Term{Word: word}
				}
				term := words[word]
				if i == 0 {
					term.Also = also
					continue
				}
				if term.Foreign == nil {
					term.Foreign = make([][]string, len(tongues)-1)
				}
				term.Foreign[i-1] = also
			}
		}
	}
	for _, word := range slices.Sorted(maps.Keys(words)) {
		list = append(list, *words[word])
	}
	return list
}

// fold returns the form in which words are compared: lower case, without accents.
func fold(text string) string {
	text = strings.ToLower(text)
	if strings.IndexFunc(text, func(r rune) bool { return r > unicode.MaxASCII }) < 0 {
		return text
	}
	return norm.NFC.String(strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, norm.NFD.String(strings.ReplaceAll(text, "ß", "ss"))))
}

// lexicon holds the words of all languages, ready to be looked up. Its keys are folded.
type lexicon struct {
	sides        lookup[string] // to "lf", "rf", "l" or "r"
	phrases      map[string][]phrase
	known        []string // what can be said of a step, for suggestions
	stand        lookup[bool]
	amounts      lookup[Turn]
	turning      map[string]bool
	joining      map[string]bool
	toward       map[string]bool
	degree       map[string]bool
	then         map[string]bool
	after        map[string]bool
	through      map[string]bool
	stands       map[string]Stand
	directions   lookup[Direction]
	counts       map[string]Count
	columns      map[string]column
	columnBegins map[string]bool // first words of columns' headings
	foreign      map[string]bool // headings of columns that aren't English
	facts        map[string]string
	settings     map[string]string
	sections     map[string]string
	dances       map[string]string // by Key
}

// lex returns the lexicon. It is built at first use, as neither the program's start nor its list of sheets
// needs it.
var lex = sync.OnceValue(func() *lexicon {
	l := &lexicon{sides: lookup[string]{}, phrases: map[string][]phrase{}, stand: lookup[bool]{}, amounts: lookup[Turn]{}, turning: map[string]bool{}, toward: map[string]bool{}, degree: map[string]bool{}, then: map[string]bool{}, after: map[string]bool{}, through: map[string]bool{},
		joining: map[string]bool{}, stands: map[string]Stand{}, directions: lookup[Direction]{}, counts: map[string]Count{}, columns: map[string]column{}, columnBegins: map[string]bool{}, foreign: map[string]bool{},
		facts: map[string]string{}, settings: map[string]string{}, sections: map[string]string{}, dances: map[string]string{}}
	for _, t := range tongues { // first, as the phrases are written with them
		each(t.feet, func(word, also string) { l.sides.add(also, fold(word)) })
	}
	applies := said()
	for _, t := range tongues {
		l.add(t, applies)
	}
	for _, list := range l.phrases {
		slices.SortStableFunc(list, func(a, b phrase) int { return cmp.Compare(len(b.words), len(a.words)) })
	}
	l.known = slices.Sorted(maps.Keys(applies))
	return l
})

// each calls f for every way to say every word of a table, the word itself first.
func each(table synonyms, f func(word, also string)) {
	for word, also := range table {
		f(word, word)
		for _, text := range also {
			f(word, text)
		}
	}
}

// add adds a language.
func (l *lexicon) add(t *tongue, applies map[string]func(*reading)) {
	phrases := func(table synonyms) {
		each(table, func(word, also string) {
			if word == "–" {
				l.stand.add(also, true)
				return
			}
			l.phrase(also, applies[word])
		})
	}
	phrases(t.steps)
	phrases(t.holds)
	each(t.holds, func(word, also string) {
		if word != also || t == &english {
			l.phrase(also+" position", applies[word])
			l.phrase(also+" pos", applies[word])
		}
	})
	each(t.amounts, func(word, also string) {
		n, _ := eighths(word)
		l.amounts.add(also, Turn(n))
	})
	for set, list := range map[*map[string]bool][]string{&l.turning: t.turning, &l.joining: t.joining, &l.toward: t.toward, &l.degree: t.degree, &l.then: t.then, &l.after: t.after, &l.through: t.through} {
		for _, text := range list {
			(*set)[fold(text)] = true
		}
	}
	each(t.faces, func(word, also string) {
		if stand := slices.Index(standNames[:], word); stand > 0 {
			first(l.stands, fold(also), Stand(stand))
			return
		}
		l.directions.add(also, Direction(slices.Index(directionNames[:], word)))
	})
	each(t.counts, func(word, also string) {
		c, _ := parseCount(word)
		first(l.counts, fold(also), c)
	})
	each(t.columns, func(word, also string) {
		key, kind := columnKey(also), column(max(0, slices.Index(columnWords[:], word)))
		if _, known := l.columns[key]; !known {
			l.columnBegins[firstWord(key)] = true
			l.columns[key], l.foreign[key] = kind, t != &english && kind != otherColumn
		}
	})
	each(t.facts, func(word, also string) { first(l.facts, fold(also), word) })
	each(t.settings, func(word, also string) { first(l.settings, fold(also), word) })
	each(t.sections, func(word, also string) { first(l.sections, Key(also), word) })
	each(t.dances, func(word, also string) { first(l.dances, Key(also), word) })
}

// first sets what a word means, unless an earlier language has it already.
func first[T any](table map[string]T, word string, meaning T) {
	if _, known := table[word]; !known {
		table[word] = meaning
	}
}

// phrase adds a way to say something of a step.
func (l *lexicon) phrase(text string, apply func(*reading)) {
	split, _ := l.split(text, 0)
	texts := make([]string, len(split))
	for i, w := range split {
		texts[i] = w.text
	}
	for _, p := range l.phrases[texts[0]] {
		if slices.Equal(p.words, texts) {
			return
		}
	}
	l.phrases[texts[0]] = append(l.phrases[texts[0]], phrase{texts, apply})
}

// Section returns the English word for a heading that isn't a figure's, such as "order" for "Reihenfolge";
// "" for any other heading.
func Section(heading string) string { return lex().sections[Key(heading)] }

// DanceNamed returns the English name of a dance, given one of its usual names in another language or a
// nickname; "" if no dance has that name.
func DanceNamed(name string) string { return lex().dances[Key(name)] }
