package routine

import (
	"slices"
	"strings"
	"unicode"

	"github.com/agnivade/levenshtein"
	"golang.org/x/text/unicode/norm"
)

// Key is the form in which names are compared: case, accents, spaces,
// punctuation and plurals do not matter.
func Key(name string) string {
	var key strings.Builder
	for _, word := range strings.FieldsFunc(norm.NFD.String(name), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsNumber(r) && !unicode.Is(unicode.Mn, r)
	}) {
		word = strings.Map(func(r rune) rune {
			if unicode.Is(unicode.Mn, r) {
				return -1
			}
			return unicode.ToLower(r)
		}, word)
		if len(word) > 3 {
			word = strings.TrimSuffix(word, "s")
		}
		key.WriteString(word)
	}
	return key.String()
}

// Nearest gives up to three of names that name may have been meant to be,
// nearest first.
func Nearest(name string, names []string) []string {
	type near struct {
		name     string
		distance int
	}
	var found []near
	key := Key(name)
	for _, n := range names {
		k := Key(n)
		d := levenshtein.ComputeDistance(key, k)
		limit := max(1, min(len(key), len(k))/3)
		switch {
		case d <= limit:
		case len(key) >= 4 && (strings.Contains(k, key) || strings.Contains(key, k) && len(k) >= 4):
			d = limit + 1 // a part of the name was written
		default:
			continue
		}
		found = append(found, near{n, d})
	}
	slices.SortStableFunc(found, func(a, b near) int { return a.distance - b.distance })
	var out []string
	for _, f := range found {
		if !slices.Contains(out, f.name) {
			out = append(out, f.name)
		}
	}
	return out[:min(3, len(out))]
}

// didYouMean is a hint that names what is near, or else lists what there is.
func didYouMean(name string, names []string) string {
	if near := Nearest(name, names); len(near) > 0 {
		return "perhaps " + strings.Join(near, ", ")
	}
	if len(names) > 0 && len(names) <= 12 {
		return "known: " + strings.Join(names, ", ")
	}
	return ""
}

// plain makes text of a sheet harmless to a terminal: control characters and
// those that reorder the text around them become a visible mark, and line ends
// a space.
func plain(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\r', r == '\t':
			return ' '
		case unsafeRune(r):
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// unsafeRune reports a control character or one that reorders text
// (Unicode Standard Annex 9, explicit directional formatting).
func unsafeRune(r rune) bool {
	return unicode.IsControl(r) || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069
}
