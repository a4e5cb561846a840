package harmless_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/routine"
)

func TestLine(t *testing.T) {
	for text, want := range map[string]string{
		"Oar turn":                 "Oar turn",
		"Längs – quer":             "Längs – quer",
		"\x1b[31mred\x1b[m\x07":    "red",
		"\x1b]0;title\x07the rest": "the rest",
		"two\nlines,\tone":         "two lines, one",
		"left\u202eright":          "leftright",
		"cut \xff short":           "cut  short",
	} {
		assert.Equal(t, want, harmless.Line(text), "%q", text)
	}
	rapid.Check(t, func(t *rapid.T) {
		text := harmless.Line(rapid.String().Draw(t, "text"))
		assert.Equal(t, -1, strings.IndexFunc(text, routine.UnsafeRune), "%q", text)
		assert.Equal(t, text, harmless.Line(text))
	})
}
