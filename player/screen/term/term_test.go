package term_test

import (
	"strings"
	"testing"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"dance.example/slowquick/player/screen/term"
)

// TestARowIsCleanAndFits, whatever is written on it.
func TestARowIsCleanAndFits(t *testing.T) {
	strong := term.NewTheme(true).Strong
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(0, 40).Draw(t, "width")
		r := term.NewRow(width)
		for range rapid.IntRange(0, 4).Draw(t, "writes") {
			text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"\x1b[31mred", "left\u202eright", "a\nb", "\x9b2J", "Oar turn"})).Draw(t, "text")
			switch rapid.IntRange(0, 3).Draw(t, "how") {
			case 0:
				r.Put(term.Plain, text)
			case 1:
				r.Put(strong, text)
			case 2:
				r.Right(strong, text)
			default:
				r.To(len(text))
			}
		}
		line := strings.NewReplacer(string(strong), "", ansi.ResetStyle, "").Replace(r.String())
		assert.LessOrEqual(t, ansi.StringWidth(line), r.Used()) // less where a text begins with a mark that joins the letter before
		assert.Equal(t, width, r.Used()+r.Left())
		assert.LessOrEqual(t, r.Used(), width)
		assert.Equal(t, -1, strings.IndexFunc(line, unicode.IsControl), "%q", line)
		assert.NotContains(t, line, "\u202e")
	})
}

// TestJoinKeepsTheFoot at the bottom, and the number of lines.
func TestJoinKeepsTheFoot(t *testing.T) {
	for height, want := range map[int]string{1: "foot", 2: "head\nfoot", 3: "head\none\nfoot", 5: "head\none\ntwo\n\nfoot"} {
		assert.Equal(t, want, term.Join(height, []string{"head"}, []string{"one", "two"}, []string{"foot"}))
	}
}

func typed(c *term.Chooser, text string) {
	for _, r := range text {
		c.Press(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
	}
}

func TestChooser(t *testing.T) {
	c := term.NewChooser("a dance")
	assert.True(t, c.Empty())
	assert.Equal(t, -1, c.Item())
	c.Fill([]string{"Bachata", "Cha-cha", "Foxtrot"})
	assert.Equal(t, 0, c.Item())
	typed(&c, "cha")
	assert.Equal(t, []int{0, 1}, c.Shown)
	assert.Equal(t, 1, c.Item(), "it begins so")
	typed(&c, "x")
	assert.Equal(t, -1, c.Item())
	assert.False(t, c.Empty(), "only none is shown")
	assert.True(t, c.Clear())
	assert.False(t, c.Clear(), "nothing is typed any more")
	assert.True(t, c.Move(tea.KeyMsg{Type: tea.KeyPgDown}))
	assert.Equal(t, 2, c.Item())
	assert.False(t, c.Move(tea.KeyMsg{Type: tea.KeyLeft}))
}

// TestLetteringFits the window that it is made for.
func TestLetteringFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width, height := rapid.IntRange(1, 200).Draw(t, "width"), rapid.IntRange(1, 40).Draw(t, "height")
		text := rapid.StringMatching(`[A-Za-z &-]{1,12}`).Draw(t, "text")
		l := term.LetteringFor([]string{text}, len(text), width, height)
		lines := l.Draw(text)
		assert.Len(t, lines, l.Rows())
		assert.LessOrEqual(t, l.Rows(), height)
		for _, line := range lines {
			assert.LessOrEqual(t, term.Width(line), width)
		}
	})
}
