// Package harmless makes text from elsewhere, such as a sheet or the name of a
// device, fit to be shown on a terminal, see [Line],
// or written to a file that other programs read, see [Handout].
package harmless

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"dance.example/slowquick/routine"
)

// Line returns text without escape sequences, control characters and characters
// that reorder the text around them (Unicode Standard Annex 9, explicit
// directional formatting). Line breaks and tabs become spaces.
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

// Masked returns a line in which U+FFFD stands for each character that [Line] would drop, so that
// all others stay in their columns.
func Masked(line string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t':
			return ' '
		case routine.UnsafeRune(r):
			return unicode.ReplacementChar
		}
		return r
	}, line)
}

// Text masks each line of a text, and keeps its tabs.
func Text(text []byte) []byte {
	if !bytes.ContainsFunc(text, func(r rune) bool { return r != '\n' && (r == utf8.RuneError || routine.UnsafeRune(r)) }) {
		return text
	}
	lines := strings.Split(string(text), "\n")
	for i, line := range lines {
		parts := strings.Split(strings.TrimSuffix(line, "\r"), "\t")
		for j, part := range parts {
			parts[j] = Masked(part)
		}
		lines[i] = strings.Join(parts, "\t")
	}
	return []byte(strings.Join(lines, "\n"))
}

// Message returns what an error says, masked, as it may name a file. Lines after the first are
// indented, so that none can be taken for a message of its own.
func Message(err error) string {
	lines := strings.Split(err.Error(), "\n")
	for i := range lines {
		lines[i] = Masked(lines[i])
	}
	return strings.Join(lines, "\n  ")
}

// JSON returns JSON that says the same and can be shown on a terminal.
func JSON(text []byte) []byte {
	var out bytes.Buffer
	for _, r := range string(text) {
		if r >= unicode.MaxASCII && routine.UnsafeRune(r) { // all of them below U+10000
			fmt.Fprintf(&out, "\\u%04x", r)
		} else {
			out.WriteRune(r)
		}
	}
	return out.Bytes()
}

// separators are line ends to some programs.
var separators = strings.NewReplacer("\u2028", "\uFFFD", "\u2029", "\uFFFD")

// Handout returns text as one line of valid UTF-8 that is harmless in every file; see [routine.Plain].
func Handout(text string) string {
	return separators.Replace(routine.Plain(strings.ToValidUTF8(text, "\uFFFD")))
}
