package making

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// beginsPart begins a part of the order with the marked line.
func beginsPart(m *Model) {
	if line := m.draft.Line; line >= 0 {
		m.first = &line
		return
	}
	m.news.Say("go to the first line of the part")
}

// pressPart carries out a key while the lines of a part are chosen.
func pressPart(m *Model, msg tea.KeyMsg) {
	switch k := &m.keyboard; {
	case key.Matches(msg, k.line.gather, k.put):
		m.ask(forPartName, m.draft.PartName())
	case key.Matches(msg, k.back):
		m.first = nil
	default:
		moved(m, msg)
	}
}

// takesApart takes the part apart that the marked line names, or stands in.
func takesApart(m *Model) tea.Cmd {
	text, mark, err := m.draft.Apart(m.draft.Line)
	if err != nil {
		m.news.Warn(err.Error())
		return nil
	}
	return m.changes(text, mark)
}
