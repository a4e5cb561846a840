package term

import (
	"strings"

	"dance.example/slowquick/player/harmless"
	"github.com/charmbracelet/x/ansi"
)

// Width returns how many columns clean text takes.
func Width(text string) int {
	if harmless.IsPlain(text) {
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
	return strings.Split(ansi.Wrap(harmless.Line(text), max(width, 1), ""), "\n")
}
