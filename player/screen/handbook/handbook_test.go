package handbook_test

import (
	"fmt"
	"slices"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/player/screen/internal/screentest"
	"dance.example/slowquick/player/screen/term"
)

// reader is who reads a handbook: each key's command is carried out at once.
type reader struct {
	*handbook.Browser
	turn handbook.Turn // where the last key led
}

func reads(book handbook.Book, width, height int) *reader {
	r := &reader{Browser: handbook.New(book, term.NewTheme(true))}
	r.Resize(width, height)
	r.carryOut(r.Init())
	return r
}

func (r *reader) carryOut(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	if msg, ok := cmd().(handbook.Msg); ok {
		r.Update(msg)
	}
}

// keys presses keys; letters are typed one by one.
func (r *reader) keys(names ...string) *reader {
	press := func(msg tea.KeyMsg) {
		var cmd tea.Cmd
		r.turn, cmd = r.Press(msg)
		r.carryOut(cmd)
	}
	for _, name := range names {
		msg := screentest.Key(name)
		if msg.Type != tea.KeyRunes {
			press(msg)
			continue
		}
		for _, letter := range msg.Runes {
			press(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{letter}})
		}
	}
	return r
}

func (r *reader) text() string { return ansi.Strip(r.View("")) }

// places are the ways to what the handbook shows, from its dances.
var places = []struct {
	name string
	keys []string
}{
	{"dances", []string{"down"}},
	{"dances found", []string{"fox"}},
	{"nothing found", []string{"enter", "waltz"}},
	{"figures", []string{"enter", "down"}},
	{"figures of a level", []string{"enter", "level", " ", "2"}},
	{"steps", []string{"enter", "enter"}},
	{"floor", []string{"enter", "enter", "right"}},
	{"after", []string{"enter", "enter", "left", "left"}},
	{"before", []string{"enter", "enter", "left"}},
	{"neighbour", []string{"enter", "enter", "left", "left", "down", "enter"}},
}

func TestViews(t *testing.T) {
	for _, place := range places {
		for _, size := range [][2]int{{80, 24}, {200, 60}, {40, 12}} {
			t.Run(fmt.Sprintf("%s %dx%d", place.name, size[0], size[1]), func(t *testing.T) {
				golden.Equal(t, reads(screentest.NewBook(), size[0], size[1]).keys(place.keys...).text()+"\n")
			})
		}
	}
}

// TestEveryKeyWorks: wherever there is something to choose or to read on, every key that the help line
// names changes what is shown, or leads elsewhere.
func TestEveryKeyWorks(t *testing.T) {
	opposite := map[string]string{"up": "down", "down": "up", "ctrl+p": "ctrl+n", "ctrl+n": "ctrl+p"}
	for _, place := range places {
		if !slices.Contains([]string{"dances", "figures", "steps", "floor", "after", "neighbour"}, place.name) {
			continue
		}
		shown := reads(screentest.NewBook(), 80, 12).keys(place.keys...).ShownKeys()
		require.NotEmpty(t, shown)
		for _, binding := range shown {
			for _, key := range binding.Keys() {
				t.Run(place.name+" "+key, func(t *testing.T) {
					r := reads(screentest.NewBook(), 80, 12).keys(place.keys...)
					if other := opposite[key]; other != "" {
						r.keys(other) // so that there is somewhere to go
					}
					before := r.text()
					r.keys(key)
					assert.True(t, r.turn != handbook.Stay || r.text() != before, "%s", before)
				})
			}
		}
	}
}

func TestWhatBeginsWithWhatWasTypedIsChosen(t *testing.T) {
	r := reads(screentest.NewBook(), 80, 24).keys("enter", "n")
	assert.Contains(t, r.text(), "> Lantern step")
	r.keys("esc", "o")
	assert.Contains(t, r.text(), "  Lantern step", "which has an o in its other name")
	assert.Contains(t, r.text(), "> Oar turn")
}

// TestAFigureIsToBeDrilled: the message says which.
func TestAFigureIsToBeDrilled(t *testing.T) {
	r := reads(screentest.NewBook(), 80, 24)
	_, fig := r.Figure()
	assert.Nil(t, fig)
	r.keys("enter", "oar", "enter", " ")
	assert.Equal(t, handbook.Drill, r.turn)
	chapter, fig := r.Figure()
	assert.Equal(t, "Oar turn", fig.Name)
	assert.Contains(t, chapter.Figures, fig)
	r.News.Say("It is looked for")
	assert.Contains(t, r.text(), "It is looked for")
	r.keys("down")
	assert.NotContains(t, r.text(), "It is looked for")
}

// TestInAnyWindow: the handbook fits any window, and nothing in a figure's name or text reaches the
// terminal as a command.
func TestInAnyWindow(t *testing.T) {
	score := rehearsal.Hostile()
	d := *score.Dance
	d.Aliases = []string{"\x1b[2J"}
	for _, fig := range score.Figures {
		fig.Source, fig.Aliases, fig.Starts.Note = "\x1b]0;x\x07", []string{"\u202ename\n"}, "\x1b[31m"
	}
	for _, book := range []screentest.Book{screentest.NewBook(), {{Dance: &d, Figures: score.Figures}}} {
		for _, place := range places {
			r := reads(book, 80, 24).keys(place.keys...)
			for _, width := range []int{1, 2, 3, 5, 9, 17, 30, 40, 56, 79, 80, 99, 100, 131, 200} {
				for _, height := range []int{1, 2, 3, 4, 5, 6, 7, 9, 12, 16, 23, 24, 35, 36, 60} {
					r.Resize(width, height)
					rehearsal.Fits(t, r.View(""), width, height)
					rehearsal.Attributes(t, r.View(""))
				}
			}
		}
	}
}
