package glossary_test

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/glossary"
)

// TestTheVocabularyHasMeanings: every term that is read is listed with a meaning, except dances, and a term with
// a side stands with the word without it.
func TestTheVocabularyHasMeanings(t *testing.T) {
	for _, terms := range routine.Vocabulary() {
		part, ok := glossary.PartNamed(terms.Name)
		assert.True(t, ok)
		listed := map[string]bool{}
		for _, g := range part.Groups {
			assert.NotEmpty(t, g.Words, "%s: %s", part.Name, g.Name)
			seen := map[string]bool{}
			for _, w := range g.Words {
				assert.False(t, seen[w.Word], "%s twice in %s", w.Word, g.Name)
				seen[w.Word], listed[w.Word] = true, true
				if part.Name != "dances" {
					assert.NotEmpty(t, w.Meaning, w.Word)
					assert.NotEmpty(t, g.Name, w.Word)
				}
				assert.LessOrEqual(t, utf8.RuneCountInString(w.Meaning), 70, w.Meaning)
			}
		}
		for _, term := range terms.Terms {
			base := strings.TrimSuffix(strings.TrimSuffix(term.Word, " L"), " R")
			assert.True(t, listed[term.Word] || listed[base] || listed[term.Word+" position"], "%s: %s", part.Name, term.Word)
		}
	}
	_, ok := glossary.PartNamed("songs")
	assert.False(t, ok)
}

// TestWhatIsReadAsAWordIsListedOnce, where the word comes first.
func TestWhatIsReadAsAWordIsListedOnce(t *testing.T) {
	part, _ := glossary.PartNamed("facts")
	var found []glossary.Word
	for _, g := range part.Groups {
		for _, w := range g.Words {
			if w.Word == "ends" {
				found = append(found, w)
			}
		}
	}
	assert.Len(t, found, 2)
	assert.Contains(t, found[0].Also, "finishes")
	assert.Contains(t, found[0].Foreign["German"], "Ende")
	assert.Empty(t, found[1].Also)
	assert.Empty(t, found[1].Foreign)
}

// TestAWordIsInOnePart: what can be said of a position is no word of the steps as well.
func TestAWordIsInOnePart(t *testing.T) {
	var steps []string
	for _, terms := range routine.Vocabulary() {
		for _, term := range terms.Terms {
			switch terms.Name {
			case "steps":
				steps = append(steps, term.Word)
			case "positions":
				assert.False(t, slices.Contains(steps, term.Word), term.Word)
			}
		}
	}
	assert.NotEmpty(t, steps)
}
