package main

import (
	"context"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/routine"
)

// TestEveryFigureCanBeDrilled from its chapter, where the easy ones come first.
func TestEveryFigureCanBeDrilled(t *testing.T) {
	book := screen.LibraryBook{Library: library.Open()}
	chapters := book.Chapters()
	require.Len(t, chapters, len(book.Dances()))
	for i := range chapters {
		c := &chapters[i]
		for k, fig := range c.Figures {
			if k > 0 {
				assert.LessOrEqual(t, c.Figures[k-1].Level, fig.Level, "%s is harder than %s", c.Figures[k-1].Name, fig.Name)
			}
			d := book.Drill(c, fig)
			assert.Empty(t, d.Findings, "%s: %s", c.Dance.Name, fig.Name)
			if assert.NotNil(t, d.Timeline, "%s: %s", c.Dance.Name, fig.Name) {
				assert.Equal(t, d.Name, d.Timeline.Score.Title)
			}
		}
	}
}

// TestEveryFigureHasAPage opens each page as a dancer does, and checks that the neighbours it lists are
// those that can be danced.
func TestEveryFigureHasAPage(t *testing.T) {
	book := screen.LibraryBook{Library: library.Open()}
	var m tea.Model = screen.New(context.Background(), screen.Options{Shelf: shelf{}, Handbook: book})
	press := func(k tea.KeyType) {
		var cmd tea.Cmd
		if m, cmd = m.Update(tea.KeyMsg{Type: k}); cmd != nil {
			m, _ = m.Update(cmd())
		}
	}
	seen := func() string { return ansi.Strip(m.View()) }
	m, _ = m.Update(tea.WindowSizeMsg{Width: 120, Height: 20}) // too low for large letters
	press(tea.KeyTab)
	chapters := book.Chapters()
	for i := range chapters {
		c := &chapters[i]
		require.Contains(t, seen(), "> "+c.Dance.Name)
		press(tea.KeyEnter)
		for _, fig := range c.Figures {
			before, after := book.Beside(c, fig)
			for _, b := range after {
				parted := choreography.Parted(c.Dance, fig, b.Figure)
				assert.Equal(t, b.Turn != 0 || b.Name != b.Figure.Name, len(parted) > 0, "%s, then %s", fig.Name, b.Name)
			}
			for _, b := range before {
				parted := choreography.Parted(c.Dance, b.Figure, fig)
				assert.Equal(t, b.Turn != 0 || b.Name != b.Figure.Name, len(parted) > 0, "%s, then %s", b.Name, fig.Name)
			}
			press(tea.KeyEnter)
			assert.Contains(t, seen(), fig.Name+" ")
			assert.Contains(t, seen(), "[steps]")
			assert.Contains(t, seen(), "after the last step")
			assert.Contains(t, seen(), fig.Rows[0].Steps[routine.Leader].Foot.String())
			press(tea.KeyRight)
			if len(after) > 0 {
				assert.Contains(t, seen(), after[0].Figure.Name, "after %s", fig.Name)
			}
			press(tea.KeyRight)
			if len(before) > 0 {
				assert.Contains(t, seen(), before[0].Figure.Name, "before %s", fig.Name)
			}
			press(tea.KeyEsc)
			press(tea.KeyDown)
		}
		press(tea.KeyEsc)
		press(tea.KeyDown)
	}
}

func BenchmarkHandbook(b *testing.B) {
	b.Run("chapters", func(b *testing.B) {
		for b.Loop() {
			require.NotEmpty(b, screen.LibraryBook{Library: library.Open()}.Chapters())
		}
	})
	book := screen.LibraryBook{Library: library.Open()}
	chapters := book.Chapters()
	b.Run("beside", func(b *testing.B) {
		for b.Loop() {
			book.Beside(&chapters[0], chapters[0].Figures[0])
		}
	})
}
