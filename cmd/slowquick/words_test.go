package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine/glossary"
)

// assertNarrow asserts that a page fits 80 columns.
func assertNarrow(t *testing.T, page string) {
	t.Helper()
	for line := range strings.Lines(page) {
		assert.LessOrEqual(t, runewidth.StringWidth(strings.TrimRight(line, "\n")), 80, line)
	}
}

// TestWordsListTheVocabulary: every word with its meaning and all that is read as it, in each language.
func TestWordsListTheVocabulary(t *testing.T) {
	page, _ := told(t, exitOK, "words", "--all")
	assertNarrow(t, page)
	german, _ := told(t, exitOK, "words", "--all", "--language", "german")
	assertNarrow(t, german)
	said, inGerman := strings.Join(strings.Fields(page), " "), strings.Join(strings.Fields(german), " ")
	words := 0
	for _, part := range glossary.Vocabulary() {
		assert.Contains(t, page, strings.ToUpper(part.Name)+"\n")
		for _, g := range part.Groups {
			for _, w := range g.Words {
				assert.Contains(t, strings.ToLower(page), "\n  "+strings.ToLower(w.Word), part.Name)
				assert.Contains(t, said, w.Meaning)
				if part.Name != "dances" { // to which the library adds
					assert.Contains(t, said, strings.Join(w.Also, ", "))
				}
				assert.Contains(t, inGerman, strings.Join(w.Foreign["German"], ", "))
				words++
			}
		}
	}
	assert.Greater(t, words, 200)
}

func TestWordsOfOnePart(t *testing.T) {
	page, _ := told(t, exitOK, "words", "counts")
	assertNarrow(t, page)
	assert.True(t, strings.HasPrefix(page, "COUNTS\n\nBeats\n  1    on beat 1 (also one)\n"), page)
	assert.NotContains(t, page, "STEPS")
	page, _ = told(t, exitOK, "words", "steps")
	assert.Contains(t, page, "also fwd, fd, forwards, forw, ahead, walk, walks, …\n")
	page, _ = told(t, exitOK, "words", "dances")
	assert.Regexp(t, `(?m)^  waltz +3/4, 28–32 bars/min\n +also slow waltz, English waltz, modern waltz$`, page)
	assert.Regexp(t, `(?m)^Other dances, .*"metre: 4/4".*\n  Lindy hop +also lindy$`, page)

	_, errs := told(t, exitUsage, "words", "posicions")
	assert.Contains(t, errs, "hint: perhaps positions\n")
	_, errs = told(t, exitUsage, "words", "--language", "boathouse")
	assert.Contains(t, errs, "hint: known: German, French, Spanish, Italian\n")
}

func TestWordsAsJSON(t *testing.T) {
	text, _ := told(t, exitOK, "words", "--json", "dances", "steps")
	var parts []glossary.Part
	require.NoError(t, json.Unmarshal([]byte(text), &parts))
	require.Len(t, parts, 2)
	assert.Equal(t, "dances", parts[0].Name)
	steps, _ := glossary.PartNamed("steps")
	assert.Equal(t, steps, parts[1])
}
