package screen

import (
	"slices"
	"strings"

	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// chooser is a list of which one is chosen, narrowed down by typing.
type chooser struct {
	keys   chooserKeys
	filter textinput.Model
	texts  []string // what is looked in, one for each item, as [routine.Key] writes it
	shown  []int    // the items that have every word that was typed
	chosen int      // of shown
}

type chooserKeys struct{ up, down, pageUp, pageDown key.Binding }

func newChooser(what string) chooser {
	return chooser{
		keys: chooserKeys{
			up: bind("↑", "up", "up", "ctrl+p"), down: bind("↓", "down", "down", "ctrl+n"),
			pageUp: bind("PgUp", "page up", "pgup"), pageDown: bind("PgDn", "page down", "pgdown"),
		},
		filter: newInput("find: ", what),
	}
}

// fill takes in what there is to choose from.
func (c *chooser) fill(texts []string) {
	c.texts = make([]string, len(texts))
	for i, text := range texts {
		c.texts[i] = routine.Key(text)
	}
	c.narrow()
}

// narrow keeps the items that have every word that was typed.
func (c *chooser) narrow() {
	c.shown = nil
	words := strings.Fields(c.filter.Value())
	for i, text := range c.texts {
		has := true
		for _, w := range words {
			has = has && strings.Contains(text, routine.Key(w))
		}
		if has {
			c.shown = append(c.shown, i)
		}
	}
	c.choose(c.chosen)
}

func (c *chooser) choose(i int) { c.chosen = max(0, min(i, len(c.shown)-1)) }

// item is the one that is chosen; -1 if there is none.
func (c *chooser) item() int {
	if len(c.shown) == 0 {
		return -1
	}
	return c.shown[c.chosen]
}

// clear forgets what was typed, and reports whether there was anything. What
// was chosen stays chosen.
func (c *chooser) clear() bool {
	if c.filter.Value() == "" {
		return false
	}
	item := c.item()
	c.filter.SetValue("")
	c.narrow()
	if item >= 0 {
		c.choose(item) // all are shown now
	}
	return true
}

// farther is how many items a page key goes past.
const farther = 10

// move carries out a key that chooses another item.
func (c *chooser) move(msg tea.KeyMsg) bool {
	switch k := c.keys; {
	case key.Matches(msg, k.up):
		c.choose(c.chosen - 1)
	case key.Matches(msg, k.down):
		c.choose(c.chosen + 1)
	case key.Matches(msg, k.pageUp):
		c.choose(c.chosen - farther)
	case key.Matches(msg, k.pageDown):
		c.choose(c.chosen + farther)
	default:
		return false
	}
	return true
}

// press chooses another item; what is no key of the list is typed.
func (c *chooser) press(msg tea.KeyMsg) {
	if c.move(msg) {
		return
	}
	c.filter, _ = c.filter.Update(msg)
	c.narrow()
	c.chooseBegun()
}

// chooseBegun chooses an item that begins with what was typed, if there is one:
// cha is the cha-cha rather than the bachata.
func (c *chooser) chooseBegun() {
	typed := routine.Key(c.filter.Value())
	begun := func(item int) bool { return strings.HasPrefix(c.texts[item], typed) }
	if i := c.item(); typed == "" || i < 0 || begun(i) {
		return
	}
	if i := slices.IndexFunc(c.shown, begun); i >= 0 {
		c.chosen = i
	}
}

// firstSeen is the first of n lines that are seen in rows, so that the one that
// is chosen is, in their middle if that can be.
func firstSeen(n, chosen, rows int) int { return max(0, min(chosen-rows/2, n-rows)) }
