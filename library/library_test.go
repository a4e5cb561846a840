package library_test

import (
	"fmt"
	"os"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// shipped is the library that ships with the program. Tests share what has been read of it, and change nothing.
var shipped = sync.OnceValue(library.Open)

func TestEveryChapterCanBeDanced(t *testing.T) {
	lib := shipped()
	require.NotEmpty(t, lib.Dances())
	for _, name := range lib.Dances() {
		t.Run(name, func(t *testing.T) {
			c, ok := lib.Chapter(name)
			require.True(t, ok)
			text, err := os.ReadFile(c.File)
			require.NoError(t, err)
			_, onFloor := check.Sheet(c.File, text, routine.EmptyBook{})
			for _, f := range append(c.Findings, onFloor...) {
				t.Errorf("%s:%d:%d: %s: %s [%s] %s", c.File, f.Span.Start.Line, f.Span.Start.Column, f.Severity, f.Message, f.Code, f.Hint)
			}
			for _, fig := range c.Figures {
				assert.NotEmpty(t, fig.Source, fig.Name)
				assert.NotZero(t, fig.Level, fig.Name)
				assert.Equal(t, [2]bool{true, true}, fig.Has, fig.Name)
				assert.NotZero(t, fig.Starts.Positions, fig.Name)
			}
		})
	}
}

// TestFiguresCanBeDancedOverAndOver: couples practise a figure many times in a row, and don't drift apart or into each other.
func TestFiguresCanBeDancedOverAndOver(t *testing.T) {
	lib := shipped()
	danced := 0
	for _, name := range lib.Dances() {
		c, _ := lib.Chapter(name)
		for _, fig := range c.Figures {
			text := fmt.Sprintf("---\ndance: %s\n---\n\n## Order\n\n1. %s × 16\n", name, fig.Name)
			score, found := check.Sheet("over.md", []byte(text), lib)
			for _, f := range found {
				assert.NotContains(t, []routine.Code{"place-missed", "too-near", "too-far"}, f.Code, "%s: %s: %s", name, fig.Name, f.Message)
			}
			danced += len(score.Passages) / 16
		}
	}
	assert.Greater(t, danced, 500)
}

func TestAllDancesAreThoseOfTheChapters(t *testing.T) {
	folder := fstest.MapFS{
		"boathouse.md": {Data: []byte("---\ndance: Boathouse hop\nmetre: 4/4\n---\n")},
		"waltz.md":     {Data: []byte("---\ndance: waltz\nmetre: 3/4\n---\n")},
	}
	described, read := library.Open().With(folder), library.Open().With(folder)
	all := described.AllDances()
	require.Len(t, all, len(read.Dances()))
	for i, name := range read.Dances() {
		c, ok := read.Chapter(name)
		require.True(t, ok, name)
		assert.Equal(t, c.Dance, all[i])
		c, ok = described.Chapter(name)
		require.True(t, ok, name)
		assert.Same(t, all[i], c.Dance, "those who compare dances compare pointers")
	}
}

func TestEverySheetCanBeDanced(t *testing.T) {
	lib := shipped()
	require.NotEmpty(t, lib.Sheets())
	for _, name := range lib.Sheets() {
		t.Run(name, func(t *testing.T) {
			text, err := lib.Sheet(name)
			require.NoError(t, err)
			score, found := check.Sheet(name+".md", text, lib)
			for _, f := range found {
				t.Errorf("%s.md:%d:%d: %s: %s [%s] %s", name, f.Span.Start.Line, f.Span.Start.Column, f.Severity, f.Message, f.Code, f.Hint)
			}
			assert.NotEmpty(t, score.Passages)
		})
	}
}
