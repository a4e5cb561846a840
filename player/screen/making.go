package screen

import (
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen/making"

	tea "github.com/charmbracelet/bubbletea"
)

// draftMsg brings a routine to be made; visit numbers what is opened.
type draftMsg struct {
	visit int
	draft draft.Draft
	err   error
}

// leftMsg says that a draft was kept or thrown away, or why not.
type leftMsg struct{ err error }

// unkeptMsg says why a draft can't be kept, and that the program is not left.
type unkeptMsg struct{ err error }

// toBegin asks for the dance of a new routine.
func toBegin(m Model) Model {
	like := ""
	if e, ok := m.list.Chosen(); ok {
		like = e.Name()
	}
	m.made.begin, m.pane = making.NewBegin(m.o.Make.Dances(), like, m.theme), beginPane
	return m
}

func pressBegin(m Model, msg tea.KeyMsg) (Model, tea.Cmd) {
	if msg.Type == tea.KeyCtrlC {
		return m, tea.Quit
	}
	switch m.made.begin.Press(msg) {
	case making.Nothing:
		m.pane = listPane
	case making.Chosen:
		with := m.made.begin.Beginning()
		if e, ok := m.list.Chosen(); ok && with.Like != "" {
			with.Like = e.ID
		}
		m = m.leaves()
		begin := m.o.Make.New
		return m, drafted(m, func() (draft.Draft, error) { return begin(with) })
	}
	return m, nil
}

// edits opens a sheet or a draft to change its order.
func edits(m Model, id string) (Model, tea.Cmd) {
	m = m.leaves()
	open := m.o.Make.Open
	return m, drafted(m, func() (draft.Draft, error) { return open(id) })
}

// drafted returns the command that makes or opens a draft.
func drafted(m Model, open func() (draft.Draft, error)) tea.Cmd {
	visit := m.sheet.visit
	return func() tea.Msg {
		d, err := open()
		return draftMsg{visit, d, err}
	}
}

// editsDanced changes the order of what is danced.
func editsDanced(m Model, cmd tea.Cmd) (Model, tea.Cmd) {
	switch {
	case m.home == makingPane:
		return m.toList(), cmd
	case m.o.Make == nil || m.home == bookPane:
		return m, tea.Batch(cmd, m.dance.Say("This has no order to change"))
	}
	id := m.sheet.ID
	m.home = listPane
	m = m.toList()
	next, open := edits(m, id)
	return next, tea.Batch(cmd, open)
}

// makes shows a routine to be made.
func makes(m Model, msg draftMsg) (Model, tea.Cmd) {
	if msg.visit != m.sheet.visit {
		return m, nil
	}
	if msg.err != nil {
		m.pane = listPane
		m.list.News.Warn(msg.err.Error())
		return m, nil
	}
	o := m.o.Make.Options
	o.Theme = m.theme
	m.made.model = making.New(msg.draft, o)
	m.made.model.Resize(m.width, m.height)
	m.pane = makingPane
	return m, nil
}

func pressMaking(m Model, msg tea.KeyMsg) (Model, tea.Cmd) {
	turn, cmd := m.made.model.Press(msg)
	switch turn {
	case making.Dance:
		dancing, begin := dancesMade(m)
		return dancing, tea.Batch(cmd, begin)
	case making.Leave, making.Discard:
		d, put := m.made.model.Draft(), m.o.Make.Keep
		if turn == making.Discard {
			put = m.o.Make.Forget
		}
		m.pane, m.made.model = listPane, nil
		return m, func() tea.Msg { return leftMsg{put(d)} }
	case making.Help:
		return m.show(helpPane), cmd
	case making.Quit:
		if m.made.model.Unkept() {
			return m, tea.Quit
		}
		d, keep := m.made.model.Draft(), m.o.Make.Keep
		return m, func() tea.Msg {
			if err := keep(d); err != nil {
				return unkeptMsg{err}
			}
			return tea.Quit()
		}
	}
	return m, cmd
}

// left reads the list again, with the draft or without it.
func left(m Model, msg leftMsg) (Model, tea.Cmd) {
	if msg.err != nil {
		m.list.News.Warn(msg.err.Error())
	}
	return m, m.list.Init()
}

// dancesMade dances the routine from the marked line.
func dancesMade(m Model) (Model, tea.Cmd) {
	d := m.made.model.Draft()
	m = m.leaves()
	m.sheet.Sheet, m.sheet.saved = m.o.Make.Sheet(d), nil
	m.home = makingPane
	m, begin := m.begin()
	from, _ := d.Begins(d.Line)
	return m, tea.Batch(begin, m.dance.DanceFrom(from))
}
