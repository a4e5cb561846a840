package dance

import (
	"dance.example/slowquick/player/screen/pane"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// kind is what is open below the dance.
type kind uint8

const (
	closed kind = iota
	typing      // a tempo
	mixing
	learning
	choosing // options
	marked   // what is marked in the diary
	judging  // the list of what went wrong
)

// opened is what is open below the dance.
type opened struct {
	kind  kind
	menus [marked + 1]pane.Menu
	tempo *pane.Tempo
	ticks *pane.Ticks
	then  Turn    // where to go once the list is closed
	after tea.Cmd // and what to do; nil for nothing
}

// show opens a pane.
func (o *opened) show(k kind) {
	o.kind = k
	if k == typing {
		o.tempo = pane.NewTempo()
	}
	o.menus[mixing].Title, o.menus[learning].Title, o.menus[choosing].Title = "Sound", "Learn", "Options"
	o.menus[marked].Title = "What is marked"
}

// list opens the list of what went wrong; then says where to go afterwards.
func (o *opened) list(ticks []pane.Tick, dancers routine.Dancers, then Turn) {
	o.kind, o.then = judging, then
	o.ticks = pane.NewTicks("What went wrong?", ticks, dancers)
}

// key returns the key that opened the pane.
func (o *opened) key() string {
	return [...]string{mixing: "m", learning: "u", choosing: "o", marked: "u"}[o.kind]
}

// title says in words what is open; "" for nothing.
func (o *opened) title() string {
	switch o.kind {
	case closed:
		return ""
	case typing:
		return "Tempo"
	case judging:
		return o.ticks.Title
	}
	return o.menus[o.kind].Title
}

// keys returns what the help line says about what is open.
func (o *opened) keys() []key.Binding {
	switch o.kind {
	case typing:
		return pane.TempoKeys()
	case judging:
		return o.ticks.Keys()
	}
	if o.kind == marked {
		return pane.DropKeys(o.key())
	}
	return pane.Keys(o.key())
}
