package caution_test

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/screen/caution"
	"dance.example/slowquick/player/screen/internal/screentest"
	"dance.example/slowquick/player/screen/term"
)

// shelf is the screen that comes next; it lists the keys it got.
type shelf struct{ keys string }

func (s shelf) Init() tea.Cmd { return nil }

func (s shelf) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if key, ok := msg.(tea.KeyMsg); ok {
		s.keys += key.String()
	}
	return s, nil
}

func (s shelf) View() string { return "choose a sheet " + s.keys }

// reader reads the cautions in a window.
type reader struct {
	model tea.Model
	seen  bool
	quit  bool
}

func reads(width, height int) *reader {
	r := &reader{}
	r.model = caution.Before(shelf{}, func() { r.seen = true }, term.NewTheme(true))
	r.send(tea.WindowSizeMsg{Width: width, Height: height})
	return r
}

func (r *reader) send(msg tea.Msg) {
	var cmd tea.Cmd
	if r.model, cmd = r.model.Update(msg); cmd != nil {
		_, quit := cmd().(tea.QuitMsg)
		r.quit = r.quit || quit
	}
}

func (r *reader) key(name string) { r.send(screentest.Key(name)) }

func (r *reader) text() string { return ansi.Strip(r.model.View()) }

// TestView shows all the cautions at once, down to a small window.
func TestView(t *testing.T) {
	for _, size := range [][2]int{{200, 60}, {80, 24}, {40, 12}} {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) {
			r := reads(size[0], size[1])
			text := r.text()
			golden.Equal(t, text+"\n")
			assert.Contains(t, text, "Press any key to continue")
			assert.Contains(t, strings.Join(strings.Fields(text), " "), strings.Join(strings.Fields(caution.Text), " "))
			r.key("x")
			assert.True(t, r.seen)
			assert.Equal(t, "choose a sheet ", r.text())
		})
	}
}

// TestAWindowTooSmall: there they are read page by page, to the end.
func TestAWindowTooSmall(t *testing.T) {
	r := reads(20, 6)
	var read []string
	for !r.seen {
		lines := strings.Split(r.text(), "\n")
		require.Len(t, lines, 6)
		read = append(read, lines[:5]...)
		r.key(" ")
		require.Less(t, len(read), 100)
	}
	assert.Equal(t, strings.Fields(caution.Text), strings.Fields(strings.Join(read, " ")))
}

// TestNotSeen: the cautions don't count as seen before they were shown, or if the dancer left them.
func TestNotSeen(t *testing.T) {
	r := reads(0, 0)
	r.key("x")
	assert.False(t, r.seen)
	r.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	r.key("ctrl+c")
	assert.False(t, r.seen)
	assert.True(t, r.quit)
}

// TestKeysHeldDown don't dismiss what comes next.
func TestKeysHeldDown(t *testing.T) {
	r := reads(80, 24)
	r.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("xxxx")})
	assert.True(t, r.seen)
	assert.Equal(t, "choose a sheet ", r.text())
}

// TestWithoutSeen: nothing comes before a screen if there is nobody to tell that it was seen.
func TestWithoutSeen(t *testing.T) {
	assert.Equal(t, shelf{}, caution.Before(shelf{}, nil, term.NewTheme(true)))
}

func TestAllIsAtLeastTheText(t *testing.T) {
	assert.Contains(t, strings.Join(caution.All(), " "), strings.Join(strings.Fields(caution.Text), " "))
}
