package screen

import (
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// made is the routine that is being made.
type made struct {
	begin *making.Begin // nil unless one begins
	model *making.Model // nil if none is made
}

// draftMsg brings a routine to be made; visit numbers what is opened.
type draftMsg struct {
	visit int
	draft draft.Draft
	err   error
}

// discardedMsg says that a draft was thrown away, or why not.
type discardedMsg struct{ err error }

// toBegin asks for the dance of a new routine.
func (m Model) toBegin() Model {
	like := ""
	if e, ok := m.list.Chosen(); ok {
		like = e.Name()
	}
	m.made.begin, m.pane = making.NewBegin(m.o.Make.Dances(), like, m.theme), beginPane
	return m
}

func (m Model) pressBegin(msg tea.KeyMsg) (Model, tea.Cmd) {
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
		begin, visit := m.o.Make.New, m.sheet.visit
		return m, func() tea.Msg {
			d, err := begin(with)
			return draftMsg{visit, d, err}
		}
	}
	return m, nil
}

// edits opens a sheet or a draft to change its order.
func (m Model) edits(id string) (Model, tea.Cmd) {
	m = m.leaves()
	open, visit := m.o.Make.Open, m.sheet.visit
	return m, func() tea.Msg {
		d, err := open(id)
		return draftMsg{visit, d, err}
	}
}

// editsDanced changes the order of what is danced.
func (m Model) editsDanced(cmd tea.Cmd) (Model, tea.Cmd) {
	switch {
	case m.home == makingPane:
		return m.toList(), cmd
	case m.o.Make == nil || m.home == bookPane:
		return m, tea.Batch(cmd, m.dance.Say("This has no order to change"))
	}
	id := m.sheet.ID
	m.home = listPane
	m = m.toList()
	next, open := m.edits(id)
	return next, tea.Batch(cmd, open)
}

// makes shows a routine to be made.
func (m Model) makes(msg draftMsg) (Model, tea.Cmd) {
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
	var cmd tea.Cmd
	m.made.model, cmd = making.New(msg.draft, o)
	m.made.model.Resize(m.width, m.height)
	m.pane = makingPane
	return m, cmd
}

func (m Model) pressMaking(msg tea.KeyMsg) (Model, tea.Cmd) {
	turn, cmd := m.made.model.Press(msg)
	switch turn {
	case making.Dance:
		dancing, begin := m.dancesMade()
		return dancing, tea.Batch(cmd, begin)
	case making.Leave:
		m.pane, m.made.model = listPane, nil
		return m, tea.Batch(cmd, m.list.Init())
	case making.Discard:
		d, forget := m.made.model.Draft(), m.o.Make.Forget
		m.pane, m.made.model = listPane, nil
		return m, func() tea.Msg { return discardedMsg{forget(d)} }
	case making.Help:
		return m.show(helpPane), cmd
	case making.Quit:
		return m, tea.Quit
	}
	return m, cmd
}

// discarded reads the list again, without the draft.
func (m Model) discarded(msg discardedMsg) (Model, tea.Cmd) {
	if msg.err != nil {
		m.list.News.Warn(msg.err.Error())
	}
	return m, m.list.Init()
}

// dancesMade dances the routine from the marked line.
func (m Model) dancesMade() (Model, tea.Cmd) {
	d, line := m.made.model.Draft(), m.made.model.Line()
	m = m.leaves()
	m.sheet.Sheet, m.sheet.saved = m.o.Make.Sheet(d), nil
	m.home = makingPane
	m, begin := m.begin()
	var from routine.Beats
	for _, p := range d.Score.Passages {
		if p.Round == 0 && d.Order.At(d.Score.Items[p.Item].At.Start.Offset) == line {
			from = p.Start
			break
		}
	}
	return m, tea.Batch(begin, m.dance.DanceFrom(from))
}
