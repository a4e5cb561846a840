package term

import (
	"slices"
	"strings"

	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// Chooser is a list of items, narrowed down by typing, of which one is chosen.
// Items are known by their index.
type Chooser struct {
	keys   chooserKeys
	Filter textinput.Model
	texts  []string // to search, one for each item, as [routine.Key] writes it
	Shown  []int    // the items that contain every word typed
	Chosen int      // an index of Shown
}

type chooserKeys struct{ up, down, pageUp, pageDown key.Binding }

// NewChooser returns an empty list; what says what can be typed.
func NewChooser(what string) Chooser {
	return Chooser{
		keys: chooserKeys{
			up: Bind("↑", "up", "up", "ctrl+p"), down: Bind("↓", "down", "down", "ctrl+n"),
			pageUp: Bind("PgUp", "page up", "pgup"), pageDown: Bind("PgDn", "page down", "pgdown"),
		},
		Filter: NewInput("find: ", what),
	}
}

// Fill replaces the items; texts holds what to search for each.
func (c *Chooser) Fill(texts []string) {
	c.texts = make([]string, len(texts))
	for i, text := range texts {
		c.texts[i] = routine.Key(text)
	}
	c.narrow()
}

// narrow shows the items that contain every word typed.
func (c *Chooser) narrow() {
	c.Shown = nil
	words := strings.Fields(c.Filter.Value())
	for i, text := range c.texts {
		has := true
		for _, w := range words {
			has = has && strings.Contains(text, routine.Key(w))
		}
		if has {
			c.Shown = append(c.Shown, i)
		}
	}
	c.choose(c.Chosen)
}

func (c *Chooser) choose(i int) { c.Chosen = max(0, min(i, len(c.Shown)-1)) }

// Item returns the chosen item, or -1 if none is shown.
func (c *Chooser) Item() int {
	if len(c.Shown) == 0 {
		return -1
	}
	return c.Shown[c.Chosen]
}

// Clear deletes what was typed and reports whether there was anything. The
// chosen item stays chosen.
func (c *Chooser) Clear() bool {
	if c.Filter.Value() == "" {
		return false
	}
	item := c.Item()
	c.Filter.SetValue("")
	c.narrow()
	if item >= 0 {
		c.choose(item) // all are shown now
	}
	return true
}

// LinesDown returns how many lines a key moves down; ok is false if it is not such a key.
func (c *Chooser) LinesDown(msg tea.KeyMsg) (n int, ok bool) {
	const page = 10
	switch k := c.keys; {
	case key.Matches(msg, k.up):
		return -1, true
	case key.Matches(msg, k.down):
		return 1, true
	case key.Matches(msg, k.pageUp):
		return -page, true
	case key.Matches(msg, k.pageDown):
		return page, true
	}
	return 0, false
}

// Move carries out a key that chooses another item, and reports whether msg is one.
func (c *Chooser) Move(msg tea.KeyMsg) bool {
	n, ok := c.LinesDown(msg)
	if ok {
		c.choose(c.Chosen + n)
	}
	return ok
}

// UpDown returns the two keys that choose as one binding, with what they do here.
func (c *Chooser) UpDown(what string) key.Binding {
	return Pair(c.keys.up, c.keys.down, "↑↓", what)
}

// Empty reports whether there are no items, whatever is typed.
func (c *Chooser) Empty() bool { return len(c.texts) == 0 }

// Press chooses another item if msg is a key for that; any other key is typed.
func (c *Chooser) Press(msg tea.KeyMsg) {
	if c.Move(msg) {
		return
	}
	c.Filter, _ = c.Filter.Update(msg)
	c.narrow()
	c.chooseBegun()
}

// chooseBegun prefers an item that begins with what was typed: "cha" chooses
// the cha-cha rather than the bachata.
func (c *Chooser) chooseBegun() {
	typed := routine.Key(c.Filter.Value())
	begun := func(item int) bool { return strings.HasPrefix(c.texts[item], typed) }
	if i := c.Item(); typed == "" || i < 0 || begun(i) {
		return
	}
	if i := slices.IndexFunc(c.Shown, begun); i >= 0 {
		c.Chosen = i
	}
}
