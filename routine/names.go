package routine

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
	"golang.org/x/text/unicode/norm"
)

// Key returns the form in which names are compared: case, accents, spaces, punctuation and plurals do
// not matter.
func Key(name string) string {
	key := make([]byte, 0, len(name))
	word := 0 // where the last word begins in key
	end := func() {
		if len(key)-word > 3 && key[len(key)-1] == 's' {
			key = key[:len(key)-1]
		}
		word = len(key)
	}
	for _, r := range norm.NFD.String(name) {
		switch {
		case unicode.IsLetter(r), unicode.IsNumber(r):
			key = utf8.AppendRune(key, unicode.ToLower(r))
		case r == '\'', r == '’', unicode.Is(unicode.Mn, r):
		default:
			end()
		}
	}
	end()
	return string(key)
}

// shortForms are the words that people shorten in names of figures.
var shortForms = map[string]string{"r": "right", "l": "left", "fwd": "forward", "bwd": "back", "bk": "back", "1": "one", "2": "two", "3": "three", "4": "four", "5": "five", "6": "six"}

var ands = strings.NewReplacer(" & ", " and ", " + ", " and ")

// inFull returns a name without short forms: "Two walks" for "2 walks".
func inFull(name string) string {
	words := strings.Fields(ands.Replace(name))
	for i, w := range words {
		if long := shortForms[strings.ToLower(w)]; long != "" {
			words[i] = long
		}
	}
	return strings.Join(words, " ")
}

// figure returns the sheet's own figure of that name or, if there is none, the book's; nil if both have none.
func (s *Sheet) figure(name string) *Figure {
	fig := s.figureAs(name)
	if fig != nil || name == "" {
		return fig
	}
	return s.figureAs(inFull(name))
}

func (s *Sheet) figureAs(name string) *Figure {
	if fig := s.byKey[Key(name)]; fig != nil || !s.Known || name == "" {
		return fig
	}
	fig, _ := s.book.Figure(s.Dance, name)
	return fig
}

// longestNear bounds the names that are compared letter by letter, in bytes.
const longestNear = 80

// near is a name that may have been meant, and how far it is from what was written.
type near struct {
	name     string
	distance int
}

// nearest returns the first three names of found, nearest first.
func nearest(found []near) (out []string) {
	slices.SortStableFunc(found, func(a, b near) int { return cmp.Compare(a.distance, b.distance) })
	for _, f := range found {
		if !slices.Contains(out, f.name) && len(out) < 3 {
			out = append(out, f.name)
		}
	}
	return out
}

// misspelt returns up to three of names that differ from name in a few letters, nearest first.
func misspelt(name string, names []string) []string {
	key := Key(name)
	if len(key) > longestNear {
		return nil
	}
	var found []near
	for _, n := range names {
		k := Key(n)
		if len(k) > longestNear {
			continue
		}
		if d := typos(key, k); d <= max(1, min(len(key), len(k))/3) {
			found = append(found, near{n, d})
		}
	}
	return nearest(found)
}

// Nearest returns up to three of names that may have been meant by name, nearest first: those that
// differ in a few letters, or, if there are none, those of which name is a part.
func Nearest(name string, names []string) []string {
	if found := misspelt(name, names); len(found) > 0 {
		return found
	}
	key := Key(name)
	if len(key) > longestNear {
		return nil
	}
	var found []near
	for _, n := range names {
		if k := Key(n); len(k) <= longestNear && isPart(key, n, k) {
			found = append(found, near{n, len(k)})
		}
	}
	return nearest(found)
}

// isPart reports whether key is, give or take a letter, a part of a name with key k.
func isPart(key, name, k string) bool {
	if len(key) < 4 {
		return false
	}
	if strings.Contains(k, key) || strings.Contains(key, k) && len(k) >= 4 {
		return true
	}
	for word := range strings.FieldsSeq(name) {
		if w := Key(word); len(w) >= 4 && typos(key, w) <= 1 {
			return true
		}
	}
	return false
}

// typos returns the Levenshtein distance, with two swapped letters as one typo.
func typos(a, b string) int {
	if len(a) == len(b) {
		for i := range max(0, len(a)-1) {
			if a[i] != b[i] {
				if a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:] {
					return 1
				}
				break
			}
		}
	}
	return levenshtein.ComputeDistance(a, b)
}

// didYouMean returns a hint with the nearest names or, if none is near, with all names.
func didYouMean(name string, names []string) string {
	if near := Nearest(name, names); len(near) > 0 {
		return "perhaps " + strings.Join(near, ", ")
	}
	if len(names) > 0 && len(names) <= 12 {
		return "known: " + strings.Join(names, ", ")
	}
	return ""
}

// Plural returns a number with its noun: "1 bar", "2 bars".
func Plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// clipped returns text, cut to most letters and "…" if it is longer.
func clipped(text string, most int) string {
	letters := 0
	for i := range text {
		if letters++; letters > most {
			return text[:i] + "…"
		}
	}
	return text
}

// Plain makes text from a sheet harmless: control characters and those that reorder the text around them
// become a visible mark, and line ends and tabs become spaces.
func Plain(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\r', r == '\t':
			return ' '
		case UnsafeRune(r):
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// UnsafeRune reports whether r is a control character or reorders text (Unicode Standard Annex 9,
// explicit directional formatting).
func UnsafeRune(r rune) bool {
	return unicode.IsControl(r) || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069
}

// longestQuote is how much of a text a message quotes, in letters.
const longestQuote = 80

// quoted returns text from the sheet in quotes, shortened and safe for a message.
func quoted(text string) string { return strconv.Quote(Plain(clipped(text, longestQuote))) }

// Ordinal returns a number as a place in a row, "1st", "2nd", "11th"; n is at least 1.
func Ordinal(n int) string {
	end := "th"
	if tens := n / 10 % 10; tens != 1 {
		switch n % 10 {
		case 1:
			end = "st"
		case 2:
			end = "nd"
		case 3:
			end = "rd"
		}
	}
	return strconv.Itoa(n) + end
}
