package pane

import (
	"slices"

	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Tick is something that was danced, and for which partners it went wrong.
type Tick struct {
	Name  string
	Wrong [2]bool // by [routine.Partner]
}

// Ticks is the list of what was danced, in which the dancers tick what went wrong.
type Ticks struct {
	Title  string
	List   []Tick
	Shown  routine.Dancers // whose columns there are
	whose  routine.Dancers // whom a tick is for
	chosen int
}

// NewTicks returns a list in which nothing is chosen but the first.
func NewTicks(title string, list []Tick, shown routine.Dancers) *Ticks {
	return &Ticks{Title: title, List: list, Shown: shown, whose: shown}
}

// tickKeys are the keys of the list; a presentation remote has pgup, pgdown, b and the
// full stop, and f5 or esc.
type tickKeys struct{ up, down, left, right, tick, keep, drop key.Binding }

func newTickKeys() tickKeys {
	return tickKeys{
		up: term.Bind("↑", "up", "up", "pgup"), down: term.Bind("↓", "down", "down", "pgdown"),
		left: term.Bind("←", "whose", "left"), right: term.Bind("→", "whose", "right"),
		tick: term.Bind("space", "tick", " ", "b", "."), keep: term.Bind("enter", "keep it", "enter", "f5"),
		drop: term.Bind("esc", "not now", "esc"),
	}
}

// labels are the keys that tick a row at once.
const labels = "123456789acdefghijklmnoprstuvwxyz"

// Outcome is what a key has done to a list.
type Outcome uint8

// What a key can do.
const (
	Open    Outcome = iota // the list stays open
	Keep                   // the ticks are to be kept
	Dropped                // the list was closed, and says nothing
)

// Press carries a key out.
func (l *Ticks) Press(msg tea.KeyMsg) Outcome {
	k := newTickKeys()
	switch {
	case key.Matches(msg, k.keep):
		return Keep
	case key.Matches(msg, k.drop):
		return Dropped
	case len(l.List) == 0:
	case key.Matches(msg, k.up):
		l.chosen = (l.chosen + len(l.List) - 1) % len(l.List)
	case key.Matches(msg, k.down):
		l.chosen = (l.chosen + 1) % len(l.List)
	case key.Matches(msg, k.left, k.right):
		l.turn()
	case key.Matches(msg, k.tick):
		l.tick(l.chosen)
	case len(msg.Runes) == 1:
		if i := slices.Index([]rune(labels), msg.Runes[0]); i >= 0 && i < len(l.List) {
			l.chosen = i
			l.tick(i)
		}
	}
	return Open
}

// turn changes whom a tick is for.
func (l *Ticks) turn() {
	if l.Shown == routine.Both {
		l.whose = (l.whose + 1) % (routine.FollowerAlone + 1)
	}
}

// tick ticks a row, or takes its tick away if all it is for have one.
func (l *Ticks) tick(i int) {
	all := true
	for _, p := range l.whose.Partners() {
		all = all && l.List[i].Wrong[p]
	}
	for _, p := range l.whose.Partners() {
		l.List[i].Wrong[p] = !all
	}
}

// Clean reports whether nothing is ticked.
func (l *Ticks) Clean() bool {
	return !slices.ContainsFunc(l.List, func(t Tick) bool { return t.Wrong != [2]bool{} })
}

// Keys returns what the help line says.
func (l *Ticks) Keys() []key.Binding {
	k := newTickKeys()
	keys := []key.Binding{k.keep, term.Named(k.tick, "1 2 3 … or space", "tick"), term.Pair(k.up, k.down, "↑↓", "choose")}
	if l.Shown == routine.Both {
		keys = append(keys, term.Pair(k.left, k.right, "←→", "whose"))
	}
	return append(keys, k.drop)
}

// Height returns how many lines the list fills if it has room.
func (l *Ticks) Height() int { return 2 + len(l.List) }

// View draws the list in as many lines as there is room for, the chosen row among them.
func (l *Ticks) View(width, height int, t term.Theme) []string {
	if height <= 0 {
		return nil
	}
	lines := []string{term.NewRow(width).Put(t.Heading, l.Title).String()}
	if height > 1 {
		what := "Tick what went wrong, then press enter. Nothing went wrong? Just press enter."
		if l.Shown == routine.Both {
			what = "A tick is for " + map[routine.Dancers]string{routine.Both: "both", routine.LeaderAlone: "the leader", routine.FollowerAlone: "the follower"}[l.whose] +
				". Press enter when you are done, or if all went well."
		}
		lines = append(lines, term.NewRow(width).Put(term.Plain, what).String())
	}
	seen := min(len(l.List), max(0, height-len(lines)))
	first := term.FirstSeen(len(l.List), l.chosen, seen)
	for i := first; i < first+seen; i++ {
		r, ink := term.NewRow(width), term.Plain
		if i == l.chosen {
			ink = t.Present
		}
		label := " "
		if i < len(labels) {
			label = labels[i : i+1]
		}
		r.Put(t.Strong, " "+label+" ")
		for _, p := range l.Shown.Partners() {
			box := "[ ] "
			if l.List[i].Wrong[p] {
				box = "[x] "
			}
			if l.Shown == routine.Both {
				box = p.String() + " " + box
			}
			r.Put(t.Partners[p], box)
		}
		lines = append(lines, r.Put(ink, l.List[i].Name).String())
	}
	return lines
}
