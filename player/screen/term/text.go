package term

import (
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"dance.example/slowquick/routine"
)

// Clean makes text from elsewhere harmless: it removes escape sequences, control
// characters and characters that reorder the text around them (Unicode Standard
// Annex 9, explicit directional formatting). Line breaks and tabs become blanks.
func Clean(text string) string {
	if isPlain(text) {
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

// isPlain reports whether text is printable ASCII.
func isPlain(text string) bool {
	for i := range len(text) {
		if text[i] < 0x20 || text[i] > 0x7e {
			return false
		}
	}
	return true
}

// Width returns how many columns clean text takes.
func Width(text string) int {
	if isPlain(text) {
		return len(text)
	}
	return ansi.StringWidth(text)
}

// Cut shortens clean text to width columns; an ellipsis says that there was more.
func Cut(text string, width int) string {
	if Width(text) <= width {
		return text
	}
	return ansi.Truncate(text, max(width, 0), "…")
}

// Wrap cleans text and breaks it into lines of at most width columns.
func Wrap(text string, width int) []string {
	return strings.Split(ansi.Wrap(Clean(text), max(width, 1), ""), "\n")
}
