package term

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Page is a text that may be longer than the window.
type Page struct {
	keys pageKeys
	top  int // the first line that is seen
}

// NewPage returns a page at its first line.
func NewPage() Page { return Page{keys: newPageKeys()} }

// PageTurn is where a key leads from a page.
type PageTurn uint8

// Where a key can lead.
const (
	PageStay PageTurn = iota
	PageBack
	PageQuit
)

// Press carries out a key on a page of that many lines in a window of that height.
func (p *Page) Press(msg tea.KeyMsg, height, lines int) PageTurn {
	rows := pageRows(height)
	switch k := p.keys; {
	case key.Matches(msg, k.quit):
		return PageQuit
	case key.Matches(msg, k.back):
		return PageBack
	case key.Matches(msg, k.up):
		p.top--
	case key.Matches(msg, k.down):
		p.top++
	case key.Matches(msg, k.pageUp):
		p.top -= rows
	case key.Matches(msg, k.pageDown):
		p.top += rows
	}
	p.top = max(0, min(p.top, lines-rows))
	return PageStay
}

type pageKeys struct{ up, down, pageUp, pageDown, back, quit key.Binding }

func newPageKeys() pageKeys {
	return pageKeys{
		up: Bind("↑", "up", "up"), down: Bind("↓", "down", "down"),
		pageUp: Bind("PgUp", "page up", "pgup"), pageDown: Bind("PgDn", "page down", "pgdown", " "),
		back: Bind("esc", "back", "esc", "?", "enter", "q"), quit: Bind("ctrl+c", "quit", "ctrl+c"),
	}
}

func (k pageKeys) line() []key.Binding {
	return []key.Binding{k.back, Pair(k.up, k.down, "↑↓", "read on"), Pair(k.pageUp, k.pageDown, "PgUp PgDn", "page"), k.quit}
}

// pageRows returns how many lines of a page's text fit into a window: all but the keys'.
func pageRows(height int) int {
	if height > 1 {
		return height - 1
	}
	return height
}

// View draws the lines that are seen, and below them the keys.
func (p *Page) View(width, height int, lines []string) string {
	rows := pageRows(height)
	top := max(0, min(p.top, len(lines)-rows))
	var foot []string
	if rows < height {
		foot = []string{HelpLine(width, p.keys.line())}
	}
	return Join(height, nil, lines[top:min(top+rows, len(lines))], foot)
}
