package routine

import "slices"

// Language is what the counts are said in. The rest of a sheet stays as it is written.
type Language uint8

// The languages of counts, in the order of the tongues that are read.
const (
	LanguageUnset Language = iota
	English
	German
	French
	Spanish
	Italian
)

// ownNames are what speakers call their languages, and the codes of ISO 639-1.
var ownNames = [...][2]string{English: {"English", "en"}, German: {"Deutsch", "de"}, French: {"français", "fr"}, Spanish: {"español", "es"}, Italian: {"italiano", "it"}}

// String returns the language's English name; "" for none.
func (l Language) String() string {
	if l == LanguageUnset {
		return ""
	}
	return tongues[l-1].language
}

// ParseLanguage reads a language's name, in English or as its speakers call it, or its code: "German", "Deutsch", "de".
func ParseLanguage(text string) (Language, bool) {
	for l := English; l <= Italian; l++ {
		if key := Key(text); key == Key(l.String()) || key == Key(ownNames[l][0]) || key == ownNames[l][1] {
			return l, true
		}
	}
	return LanguageUnset, false
}

// aloud are the words of counts that other languages have words for.
var aloud = [...]string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "slow", "quick", "and"}

// Says returns what is said for an English word of a count, or the word where the language has none of its own: "cha".
func (l Language) Says(word string) string {
	if l > English {
		if i := slices.Index(aloud[:], word); i >= 0 {
			return tongues[l-1].aloud[i]
		}
	}
	return word
}
