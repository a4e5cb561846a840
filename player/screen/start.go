package screen

import (
	"dance.example/slowquick/player/screen/term"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// start is the page of the first start: three ways on.
type start struct {
	chosen int
	learns bool // the next dance teaches the keys
}

// way is one of the ways on.
type way uint8

const (
	nowhere way = iota
	toDance
	toHandbook
	toMaking
	toAll // the list
	toQuit
)

// ways are what is offered.
var ways = [...]struct {
	title, what string
	to          way
}{
	{"Dance an example, slowly", "You learn the keys on the way. Space starts and stops.", toDance},
	{"Look up figures", "The handbook has the steps of every figure, with pictures of the floor.", toHandbook},
	{"Make a routine of your own", "Choose a dance, then figure after figure from what can follow.", toMaking},
	{"Show all sheets", "The examples, and what you have written.", toAll},
}

type startKeys struct{ up, down, choose, number, quit key.Binding }

func newStartKeys() startKeys {
	return startKeys{
		up: term.Bind("↑", "up", "up", "pgup"), down: term.Bind("↓", "down", "down", "pgdown"), choose: term.Bind("enter", "go", "enter", " "),
		number: term.Bind("1 2 3 4", "go there", "1", "2", "3", "4"), quit: term.Bind("esc", "quit", "esc", "q", "ctrl+c"),
	}
}

// press carries out a key, and returns where it leads.
func (s *start) press(msg tea.KeyMsg) way {
	k := newStartKeys()
	switch {
	case key.Matches(msg, k.up):
		s.chosen = (s.chosen + len(ways) - 1) % len(ways)
	case key.Matches(msg, k.down):
		s.chosen = (s.chosen + 1) % len(ways)
	case key.Matches(msg, k.choose):
		return ways[s.chosen].to
	case key.Matches(msg, k.number):
		s.chosen = int(msg.Runes[0] - '1')
		return ways[s.chosen].to
	case key.Matches(msg, k.quit):
		return toQuit
	}
	return nowhere
}

// view draws the ways, with the chosen one marked.
func (s *start) view(width, height int, t term.Theme) string {
	head := []string{term.NewRow(width).Put(t.Heading, "What would you like to do?").String(), ""}
	var body []string
	for i, w := range ways {
		ink := t.Strong
		if i == s.chosen {
			ink = t.Present
		}
		body = append(body, term.NewRow(width).Put(t.Strong, " "+string(rune('1'+i))+"  ").Put(ink, w.title).String())
		if height >= 4*len(ways) {
			body = append(body, term.NewRow(width).To(4).Put(term.Plain, w.what).String(), "")
		}
	}
	k := newStartKeys()
	return term.Join(height, head, body, []string{term.HelpLine(width, []key.Binding{k.number, term.Pair(k.up, k.down, "↑↓", "choose"), k.choose, k.quit})})
}
