package making

import tea "github.com/charmbracelet/bubbletea"

// Update takes in what a command brings.
func (m *Model) Update(msg Msg) tea.Cmd {
	if msg.copied {
		wasCopied(m, msg)
		return nil
	}
	if !msg.kept {
		return m.wasSaved(msg)
	}
	m.keeping, m.unkept = false, msg.err != nil
	if msg.err != nil {
		m.news.Warn(msg.err.Error())
	}
	if m.stale {
		m.stale = false
		return m.keep()
	}
	return nil
}
