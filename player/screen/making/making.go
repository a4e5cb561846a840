// Package making is the screen on which a routine is made, figure after figure.
//
// Two lists stand beside each other: the order so far, and what can follow the line that is marked in it.
// A key changes the order at once, and whatever no longer fits is said there. The package opens and saves
// nothing itself: draft.Files has functions for that, which are called from commands.
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
	draft.Files
	Theme term.Theme
	// Known reports whether a figure of a dance was danced before; nil if that isn't known.
	Known func(*routine.Dance, *routine.Figure) bool
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
	draft   draft.Draft // figures are put in after its marked line
	focus   focus
	figures figures
	offers  *offers  // to choose from, in place of the figures; nil for none
	writing *writing // the figure that is being written; nil for none
	asks    *asking  // what is typed; nil for nothing
	first   *int     // the line with which a part begins that is being made; nil for none
	leaving bool     // esc was pressed with something unsaved
	news    term.News
	way     *floor.Path // of the whole order through the hall

	keeping  bool // a copy is being written
	stale    bool // it is not the latest
	unkept   bool // the last one could not be written
	width    int
	height   int
	keyboard keyboard
}

// New returns the screen for a draft.
func New(d draft.Draft, o Options) *Model {
	m := &Model{o: o, draft: d, figures: newFigures(o.Known), keyboard: newKeyboard()}
	if m.draft.Line >= 0 {
		m.focus = onOrder
	}
	m.look()
	return m
}

// Draft returns the routine as it is now.
func (m *Model) Draft() draft.Draft { return m.draft }

// Unkept reports whether the draft holds something that could not be kept.
func (m *Model) Unkept() bool { return m.unkept && !m.draft.Saved() }

// Resize lays everything out for a window.
func (m *Model) Resize(width, height int) { m.width, m.height = width, height }

// Msg brings what a command has done, for Update.
type Msg struct {
	kept   bool
	saved  *draft.Draft
	copied bool
	path   string
	err    error
}

// Problem shows why something that was asked for can't be done.
func (m *Model) Problem(err error) { m.unkept = true; m.news.Warn(err.Error()) }

// look finds what can follow the marked line.
func (m *Model) look() {
	m.offers = nil
	if m.way == nil || m.way.Score != m.draft.Score {
		m.way = floor.Trace(m.draft.Score)
	}
	m.figures.dance = m.draft.Score.Dance
	m.figures.fill(m.draft.Next(m.draft.Line))
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
	next, err := m.draft.Change(text, line)
	if err != nil {
		m.news.Warn(err.Error())
		return nil
	}
	return m.becomes(next)
}

// becomes takes in another draft.
func (m *Model) becomes(d draft.Draft) tea.Cmd {
	m.draft, m.first = d, nil
	m.look()
	return m.keep()
}

// marks moves the mark.
func (m *Model) marks(line int) {
	m.draft = m.draft.Marked(line)
	m.look()
}

// moved moves the mark, if a key does that.
func moved(m *Model, msg tea.KeyMsg) bool {
	switch msg.Type {
	case tea.KeyUp:
		m.marks(m.draft.Line - 1)
	case tea.KeyDown:
		m.marks(m.draft.Line + 1)
	case tea.KeyHome:
		m.marks(-1)
	case tea.KeyEnd:
		m.marks(m.draft.Order.Len() - 1)
	default:
		return false
	}
	return true
}
