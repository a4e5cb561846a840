package making

import (
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Turn is where a key leads from the screen.
type Turn uint8

// Where a key can lead.
const (
	Stay    Turn = iota
	Dance        // the routine, from the marked line
	Leave        // it is saved, or kept as a draft
	Discard      // it is to be thrown away
	Help
	Quit
)

// keyboard holds the keys. Those of the order are letters; in the figures, letters are typed.
type keyboard struct {
	put, other, save, undo, redo, help, back, quit, dance                       key.Binding // anywhere
	remove, up, down, more, fewer, remark, tempo, corner, links, suggest, title key.Binding // in the order
}

func newKeyboard() keyboard {
	return keyboard{
		put: term.Bind("enter", "put it in", "enter"), other: term.Bind("tab", "the order", "tab"),
		save: term.Bind("ctrl+s", "save", "ctrl+s"), undo: term.Bind("ctrl+z", "undo", "ctrl+z"), redo: term.Bind("ctrl+y", "redo", "ctrl+y"),
		help: term.Bind("?", "help", "?"), back: term.Bind("esc", "back", "esc"), quit: term.Bind("ctrl+c", "quit", "ctrl+c"), dance: term.Bind("space", "dance it from here", " "),
		remove: term.Bind("x", "take it out", "x", "delete", "backspace"), up: term.Bind("K", "move it up", "K", "shift+up"), down: term.Bind("J", "move it down", "J", "shift+down"),
		more: term.Bind("+", "once more", "+", "="), fewer: term.Bind("−", "once less", "-", "_"), remark: term.Bind("r", "a remark", "r"),
		tempo: term.Bind("t", "its tempo", "t"), corner: term.Bind("c", "a corner after it", "c"), links: term.Bind("l", "what links it with the next", "l"),
		suggest: term.Bind("g", "suggest how to go on", "g"), title: term.Bind("n", "the title", "n"),
	}
}

// HelpKeys lists the keys, as a page of help explains them.
func HelpKeys() []key.Binding {
	k, c := newKeyboard(), term.NewChooser("")
	return []key.Binding{
		c.UpDown("choose"), term.Bind("a–z", "find a figure by typing"), term.Named(k.put, "enter", "put the figure in after the marked line"), term.Named(k.other, "tab", "from the figures to the order, and back"),
		k.undo, k.redo, k.save, k.back, k.dance,
		term.Pair(k.more, k.fewer, "+−", "once more, once less"), k.remove, term.Pair(k.up, k.down, "K J", "move the line up, down"),
		k.remark, k.tempo, k.corner, k.links, k.suggest, k.title,
	}
}

// ShownKeys lists the keys that matter now, those needed most first.
func (m *Model) ShownKeys() []key.Binding {
	k := &m.keyboard
	switch {
	case m.asks != nil:
		return []key.Binding{term.Bind("enter", "done"), term.Bind("esc", "leave it")}
	case m.offers != nil:
		return []key.Binding{term.Bind("↑↓", "choose"), k.put, k.back}
	case m.focus == onFigures:
		return []key.Binding{k.put, m.figures.UpDown("choose"), k.other, k.undo, k.save, k.back}
	}
	return []key.Binding{k.dance, term.Named(k.other, "tab", "figures"), k.remove, term.Pair(k.more, k.fewer, "+−", "times"), k.links, k.suggest, k.undo, k.save, k.help, k.back}
}

// Press carries out a key.
func (m *Model) Press(msg tea.KeyMsg) (Turn, tea.Cmd) {
	leaving := m.leaving
	m.leaving = false
	m.news.Clear()
	switch k := &m.keyboard; {
	case key.Matches(msg, k.quit):
		return Quit, nil
	case leaving:
		return m.leaves(msg)
	case m.asks != nil:
		return Stay, m.types(msg)
	case key.Matches(msg, k.save):
		return Stay, m.saves()
	case key.Matches(msg, k.undo):
		return Stay, m.undoes()
	case key.Matches(msg, k.redo):
		return Stay, m.redoes()
	case m.offers != nil:
		return Stay, m.pressOffers(msg)
	case key.Matches(msg, k.back):
		return m.steps()
	case key.Matches(msg, k.other):
		m.focus = onOrder - m.focus
	case m.focus == onFigures:
		return Stay, m.pressFigures(msg)
	default:
		return m.pressOrder(msg)
	}
	return Stay, nil
}

// steps goes a step back: what was typed is cleared, then the screen is left.
func (m *Model) steps() (Turn, tea.Cmd) {
	switch {
	case m.focus == onFigures && m.figures.Clear():
	case m.draft.Saved():
		return Leave, nil
	default:
		m.leaving = true
	}
	return Stay, nil
}

// leaves answers what to do with what isn't saved.
func (m *Model) leaves(msg tea.KeyMsg) (Turn, tea.Cmd) {
	switch {
	case key.Matches(msg, m.keyboard.back):
		return Leave, nil
	case msg.String() == "s", key.Matches(msg, m.keyboard.save):
		return Stay, m.saves()
	case msg.String() == "x":
		return Discard, nil
	}
	return Stay, nil
}

func (m *Model) undoes() tea.Cmd {
	before, ok := m.draft.Undo()
	if !ok {
		m.news.Say("there is nothing to undo")
		return nil
	}
	return m.becomes(before, m.line)
}

func (m *Model) redoes() tea.Cmd {
	after, ok := m.draft.Redo()
	if !ok {
		m.news.Say("there is nothing to redo")
		return nil
	}
	return m.becomes(after, m.line)
}

// pressFigures carries out a key in the list of figures.
func (m *Model) pressFigures(msg tea.KeyMsg) tea.Cmd {
	if !key.Matches(msg, m.keyboard.put) {
		m.figures.Press(msg)
		if m.figures.Filter.Value() == "" { // what can't be danced is found by typing
			m.figures.Chosen = max(min(m.figures.Chosen, m.can-1), 0)
		}
		return m.trace()
	}
	next := m.chosen()
	if next == nil {
		return nil
	}
	if next.Why != "" {
		return m.finds(next.Figure)
	}
	m.figures.Clear()
	return m.changes(m.draft.Order.Insert(m.line+1, routine.Line{Name: next.Figure.Name}), m.line+1)
}

// pressOrder carries out a key in the order.
func (m *Model) pressOrder(msg tea.KeyMsg) (Turn, tea.Cmd) {
	k, order := &m.keyboard, m.draft.Order
	switch {
	case key.Matches(msg, k.help):
		return Help, nil
	case msg.Type == tea.KeyUp:
		return Stay, m.marks(m.line - 1)
	case msg.Type == tea.KeyDown:
		return Stay, m.marks(m.line + 1)
	case msg.Type == tea.KeyHome:
		return Stay, m.marks(-1)
	case msg.Type == tea.KeyEnd:
		return Stay, m.marks(order.Len() - 1)
	case key.Matches(msg, k.suggest):
		return Stay, m.offered("nothing can be suggested here", draft.Draft.Suggest)
	case key.Matches(msg, k.title):
		m.ask(forTitle, m.draft.Title())
		return Stay, nil
	case m.line < 0 && key.Matches(msg, k.put):
		m.focus = onFigures
		return Stay, nil
	case m.line < 0:
		return Stay, nil
	case key.Matches(msg, k.dance):
		return m.dances()
	case key.Matches(msg, k.links):
		return Stay, m.finds(nil)
	}
	return Stay, m.pressLine(msg)
}

// dances leads to the dance, unless the routine can't be danced yet.
func (m *Model) dances() (Turn, tea.Cmd) {
	for _, f := range m.draft.Found {
		if f.Severity == routine.Error {
			m.news.Warn("it can't be danced yet: " + f.Message)
			return Stay, nil
		}
	}
	return Dance, nil
}

// pressLine carries out a key that changes the marked line.
func (m *Model) pressLine(msg tea.KeyMsg) tea.Cmd {
	k, order := &m.keyboard, m.draft.Order
	line := order.Line(m.line)
	switch {
	case key.Matches(msg, k.put):
		m.focus = onFigures
	case key.Matches(msg, k.remove):
		return m.changes(order.Remove(m.line), min(m.line, order.Len()-2))
	case key.Matches(msg, k.up) && m.line > 0:
		return m.changes(order.Move(m.line, m.line-1), m.line-1)
	case key.Matches(msg, k.down) && m.line < order.Len()-1:
		return m.changes(order.Move(m.line, m.line+1), m.line+1)
	case key.Matches(msg, k.more):
		line.Times = max(line.Times, 1) + 1
		return m.changes(order.Write(m.line, line), m.line)
	case key.Matches(msg, k.fewer) && line.Times > 1:
		line.Times--
		return m.changes(order.Write(m.line, line), m.line)
	case key.Matches(msg, k.remark):
		m.ask(forRemark, line.Remark)
	case key.Matches(msg, k.tempo):
		m.ask(forTempo, order.Setting(m.line, "tempo"))
	case key.Matches(msg, k.corner):
		corner := "after"
		if order.Setting(m.line, "corner") != "" {
			corner = ""
		}
		return m.changes(order.Set(m.line, "corner", corner), m.line)
	}
	return nil
}

// chosen returns the figure that is chosen; nil if none is.
func (m *Model) chosen() *draft.Next {
	if i := m.figures.Item(); i >= 0 {
		return &m.next[i]
	}
	return nil
}
