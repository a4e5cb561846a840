// Package pane is what opens below the dance: lists of what can be set, a line for a
// tempo, and the list of what went wrong.
//
// A pane takes the keys while it is open and knows nothing of the dance: it is given rows
// of words and functions, and returns what was chosen. It draws as many lines as it is given.
package pane

import (
	"strconv"

	"dance.example/slowquick/player/screen/term"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Row is one thing that can be set or done.
type Row struct {
	Name   string
	Value  string               // as it is set now; "" if there is nothing to see
	Change func(by int) tea.Cmd // to the next value or the one before; nil if there are none
	Do     func() tea.Cmd       // on space or enter; nil changes to the next value
	Leaves bool                 // Do closes the menu
	Drop   func() tea.Cmd       // on backspace; nil for rows that stay
}

// Menu is a list of rows of which one is chosen. The zero value stands on the first.
type Menu struct {
	Title  string
	Chosen int // an index of the rows
}

// menuKeys are the keys of a menu.
type menuKeys struct{ up, down, less, more, do, drop, close key.Binding }

func newMenuKeys() menuKeys {
	return menuKeys{
		up: term.Bind("↑", "up", "up", "pgup"), down: term.Bind("↓", "down", "down", "pgdown"),
		less: term.Bind("←", "less", "left", "-"), more: term.Bind("→", "more", "right", "+", "="),
		do: term.Bind("space", "choose", " ", "enter"), drop: term.Bind("Backspace", "take it back", "backspace", "delete"), close: term.Bind("esc", "close", "esc", "q"),
	}
}

// Keys returns what the help line says while a menu is open; opens is the key that opened
// it, and closes it too.
func Keys(opens string) []key.Binding {
	k := newMenuKeys()
	return []key.Binding{
		term.Pair(k.up, k.down, "↑↓", "choose"), term.Pair(k.less, k.more, "←→", "change"), k.do,
		term.Named(k.close, "esc "+opens, "back to the dance"),
	}
}

// DropKeys returns what the help line says while a menu is open whose rows are drilled, or taken back.
func DropKeys(opens string) []key.Binding {
	k := newMenuKeys()
	return []key.Binding{
		term.Pair(k.up, k.down, "↑↓", "choose"), term.Named(k.do, "enter", "drill it"), k.drop,
		term.Named(k.close, "esc "+opens, "back to the dance"),
	}
}

// Press carries out a key on one of the rows, and reports whether the menu closes.
func (m *Menu) Press(msg tea.KeyMsg, opens string, rows []Row) (closes bool, cmd tea.Cmd) {
	k := newMenuKeys()
	m.Chosen = max(0, min(m.Chosen, len(rows)-1))
	if key.Matches(msg, k.close) || msg.String() == opens {
		return true, nil
	}
	if len(rows) == 0 {
		return false, nil
	}
	row := &rows[m.Chosen]
	switch {
	case key.Matches(msg, k.up):
		m.Chosen = (m.Chosen + len(rows) - 1) % len(rows)
	case key.Matches(msg, k.down):
		m.Chosen = (m.Chosen + 1) % len(rows)
	case key.Matches(msg, k.less):
		if row.Change != nil {
			return false, row.Change(-1)
		}
	case key.Matches(msg, k.more):
		if row.Change != nil {
			return false, row.Change(1)
		}
	case key.Matches(msg, k.drop):
		if row.Drop != nil {
			return false, row.Drop()
		}
	case key.Matches(msg, k.do):
		switch {
		case row.Do != nil:
			return row.Leaves, row.Do()
		case row.Change != nil:
			return false, row.Change(1)
		}
	}
	return false, nil
}

// Height returns how many lines the menu fills if it has room.
func (m *Menu) Height(rows []Row) int { return 1 + len(rows) }

// View draws the title and as many rows as height has room for, the chosen one among them.
func (m *Menu) View(width, height int, t term.Theme, rows []Row) []string {
	if height <= 0 {
		return nil
	}
	lines := []string{term.NewRow(width).Put(t.Heading, m.Title).String()}
	names, values := 0, 0
	for _, r := range rows {
		names, values = max(names, term.Width(r.Name)), max(values, term.Width(r.Value))
	}
	at := min(names+4, max(width-values, width/2)) // how it is set matters more than a long name's end
	chosen := max(0, min(m.Chosen, len(rows)-1))
	seen := min(len(rows), height-1)
	first := term.FirstSeen(len(rows), chosen, seen)
	for i := first; i < first+seen; i++ {
		r, ink, mark := term.NewRow(width), term.Plain, "  "
		if i == chosen {
			ink, mark = t.Present, "▸ "
		}
		name := rows[i].Name
		if rows[i].Value != "" {
			name = term.Cut(name, max(at-3, 0))
		}
		r.Put(term.Plain, mark).Put(ink, name)
		if rows[i].Value != "" {
			r.To(at).Put(t.Strong, rows[i].Value)
		}
		lines = append(lines, r.String())
	}
	return lines
}

// Bar draws a level of 0 to 10 tenths as a bar with its number in per cent.
func Bar(tenths int) string {
	text := ""
	for i := range 10 {
		if i < tenths {
			text += "█"
		} else {
			text += "·"
		}
	}
	return text + " " + strconv.Itoa(10*tenths) + " %"
}

// OnOff says whether something is on.
func OnOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}
