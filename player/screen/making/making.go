// Package making is the screen on which a routine is made, figure after figure.
//
// Two lists stand beside each other: the order so far, and what can follow the line that is marked in it.
// A key changes the order at once, and whatever no longer fits is said there. The package opens, saves and
// searches nothing itself: Options has functions for that, which are called from commands.
//
// Begin with New; Press takes a key, Update what a command brings.
package making

import (
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"

	tea "github.com/charmbracelet/bubbletea"
)

// Options is what the making needs.
type Options struct {
	Theme term.Theme
	// Keep keeps a copy of what isn't saved yet.
	Keep func(draft.Draft) error
	// Save saves the sheet to a file; over writes over what another program has written there.
	Save func(d draft.Draft, path string, over bool) (draft.Draft, error)
	// FileFor returns the file that a new sheet is saved to if no other is named.
	FileFor func(title string) string
}

// focus is which of the lists the keys are for.
type focus uint8

const (
	onFigures focus = iota
	onOrder
)

// Model is the screen.
type Model struct {
	o       Options
	draft   draft.Draft
	line    int // of the order, after which figures are put in; -1 before the first
	focus   focus
	figures term.Chooser
	can     int          // how many of next can be danced there
	next    []draft.Next // for the line; nil while they are looked for
	offers  *offers      // to choose from, in place of the figures; nil for none
	asks    *asking      // what is typed; nil for nothing
	leaving bool         // esc was pressed with something unsaved
	traced  *routine.Figure
	path    *floor.Path // of traced by itself
	news    term.News

	version  int  // of draft and line, for what commands bring
	keeping  bool // a copy is being written
	stale    bool // it is not the latest
	width    int
	height   int
	keyboard keyboard
}

// New returns the screen for a draft, and the command that looks for what can follow.
func New(d draft.Draft, o Options) (*Model, tea.Cmd) {
	m := &Model{o: o, draft: d, line: d.Order.Len() - 1, figures: term.NewChooser("a figure"), keyboard: newKeyboard()}
	if m.line >= 0 {
		m.focus = onOrder
	}
	return m, m.look()
}

// Draft returns the routine as it is now.
func (m *Model) Draft() draft.Draft { return m.draft }

// Line returns the line of the order that is marked; -1 before the first.
func (m *Model) Line() int { return m.line }

// Resize lays everything out for a window.
func (m *Model) Resize(width, height int) { m.width, m.height = width, height }

// Msg brings what a command has found or done, for Update.
type Msg struct {
	version int
	next    []draft.Next
	offers  *offers
	traced  *routine.Figure
	floor   *floor.Path
	kept    bool
	saved   *draft.Draft
	path    string
	err     error
}

// Update takes in what a command brings.
func (m *Model) Update(msg Msg) tea.Cmd {
	switch {
	case msg.kept:
		m.keeping = false
		if msg.err != nil {
			m.news.Warn(msg.err.Error())
		}
		if m.stale {
			m.stale = false
			return m.keep()
		}
		return nil
	case msg.path != "":
		return m.wasSaved(msg)
	case msg.traced != nil:
		m.traced, m.path = msg.traced, msg.floor
		return nil
	case msg.version != m.version: // the order or the mark is another by now
		return nil
	case msg.offers != nil:
		m.offers = msg.offers
		m.news.Clear()
		if len(msg.offers.list) == 0 {
			m.offers = nil
			m.news.Warn(msg.offers.none)
		}
		return nil
	}
	m.next = msg.next
	m.fill()
	return m.trace()
}

// trace returns the command that finds where the chosen figure leads on the floor; nil if that is known.
func (m *Model) trace() tea.Cmd {
	n := m.chosen()
	if n == nil || n.Figure == m.traced {
		return nil
	}
	fig, d := n.Figure, m.draft.Score.Dance
	return func() tea.Msg {
		return Msg{traced: fig, floor: floor.Trace(fig.Alone(d, d.Stride, fig.Starts.Positions))}
	}
}

// look returns the command that finds what can follow the marked line.
func (m *Model) look() tea.Cmd {
	m.version++
	m.next, m.offers = nil, nil
	d, line, version := m.draft, m.line, m.version
	return func() tea.Msg { return Msg{version: version, next: d.Next(line)} }
}

// fill lists the figures: those that can follow, and by typing the others too.
func (m *Model) fill() {
	texts := make([]string, len(m.next))
	m.can = 0
	for i, n := range m.next {
		texts[i] = n.Figure.Name
		if n.Why == "" {
			m.can = i + 1
		}
		for _, alias := range n.Figure.Aliases {
			texts[i] += "\n" + alias
		}
	}
	m.figures.Fill(texts)
	m.figures.Chosen = 0
}

// keep returns the command that keeps a copy; one is written at a time, and the latest last.
func (m *Model) keep() tea.Cmd {
	if m.keeping {
		m.stale = true
		return nil
	}
	m.keeping = true
	d, keep := m.draft, m.o.Keep
	return func() tea.Msg { return Msg{kept: true, err: keep(d)} }
}

// changes takes in the order's new text, with the mark on another line.
func (m *Model) changes(text []byte, line int) tea.Cmd {
	next, err := m.draft.Change(text)
	if err != nil {
		m.news.Warn(err.Error())
		return nil
	}
	return m.becomes(next, line)
}

// becomes takes in another draft, with the mark on a line.
func (m *Model) becomes(d draft.Draft, line int) tea.Cmd {
	m.draft, m.line = d, min(max(line, -1), d.Order.Len()-1)
	m.leaving = false
	return tea.Batch(m.look(), m.keep())
}

// marks moves the mark.
func (m *Model) marks(line int) tea.Cmd {
	line = min(max(line, -1), m.draft.Order.Len()-1)
	if line == m.line {
		return nil
	}
	m.line = line
	return m.look()
}
