// Package harmless makes text from elsewhere, as from a sheet or the name of a
// device, fit to be shown on one line of a terminal.
package harmless

import (
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"dance.example/slowquick/routine"
)

// Line returns text without escape sequences, control characters and characters
// that reorder the text around them (Unicode Standard Annex 9, explicit
// directional formatting). Line breaks and tabs become blanks.
func Line(text string) string {
	if IsPlain(text) {
		return text
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\r', r == '\t':
			return ' '
		case routine.UnsafeRune(r), r == utf8.RuneError:
			return -1
		}
		return r
	}, ansi.Strip(text))
}

// IsPlain reports whether text is printable ASCII, which Line leaves as it is.
func IsPlain(text string) bool {
	for i := range len(text) {
		if text[i] < 0x20 || text[i] > 0x7e {
			return false
		}
	}
	return true
}
