package routine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/routine"
)

// TestLanguages: a language is known by its English name, its own, and its code (ISO 639-1).
func TestLanguages(t *testing.T) {
	for text, want := range map[string]routine.Language{
		"English": routine.English, "german": routine.German, "Deutsch": routine.German, "de": routine.German, "Français": routine.French,
		"francais": routine.French, "ES": routine.Spanish, "español": routine.Spanish, "Italiano": routine.Italian,
	} {
		l, ok := routine.ParseLanguage(text)
		assert.True(t, ok, text)
		assert.Equal(t, want, l, text)
	}
	for _, text := range []string{"", "Latin", "eng"} {
		_, ok := routine.ParseLanguage(text)
		assert.False(t, ok, "%q", text)
	}
	assert.Empty(t, routine.LanguageUnset.String())
}

// TestCountsAloud: each language says its own numbers (from memory), and in English what it has no word for.
func TestCountsAloud(t *testing.T) {
	for l, want := range map[routine.Language][5]string{
		routine.LanguageUnset: {"one", "twelve", "slow", "and", "cha"},
		routine.English:       {"one", "twelve", "slow", "and", "cha"},
		routine.German:        {"eins", "zwölf", "lang", "und", "cha"},
		routine.French:        {"un", "douze", "lent", "et", "cha"},
		routine.Spanish:       {"uno", "doce", "lento", "y", "cha"},
		routine.Italian:       {"uno", "dodici", "lento", "e", "cha"},
	} {
		for i, word := range []string{"one", "twelve", "slow", "and", "cha"} {
			assert.Equal(t, want[i], l.Says(word))
		}
		assert.Equal(t, "&", l.Says("&"), "signs stay as the chart has them")
	}
}

// TestTheLanguageOfASheet: it is read under any of its names, and what isn't known is a finding.
func TestTheLanguageOfASheet(t *testing.T) {
	read := func(line string) (routine.Language, []string) {
		score, found := routine.Read("sheet.md", []byte("---\n"+line+"\n---\n"), routine.EmptyBook{})
		var codes []string
		for _, f := range found {
			codes = append(codes, string(f.Code))
		}
		return score.Language, codes
	}
	l, _ := read("count language: italiano")
	assert.Equal(t, routine.Italian, l)
	l, _ = read("Zählsprache: Deutsch")
	assert.Equal(t, routine.German, l)
	l, codes := read("count language: Latin")
	assert.Equal(t, routine.LanguageUnset, l)
	assert.Contains(t, codes, "bad-value")
}
