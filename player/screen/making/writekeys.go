package making

import (
	"dance.example/slowquick/player/draft"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// pressWriting carries out a key while a figure is written; help reports whether it asks for help.
func pressWriting(m *Model, msg tea.KeyMsg) (help bool, cmd tea.Cmd) {
	w, f, k := m.writing, newFigureKeys(), &m.keyboard
	switch typing := w.typed() != ""; {
	case key.Matches(msg, k.save):
		return false, m.saves()
	case key.Matches(msg, k.undo):
		return false, turnsBack(m, m.draft.Undo)
	case key.Matches(msg, k.redo):
		return false, turnsBack(m, m.draft.Redo)
	case key.Matches(msg, f.accept):
		return false, accepts(m)
	case key.Matches(msg, k.back) && typing:
		w.goes(w.row, w.cell)
	case key.Matches(msg, k.back):
		return false, leavesFigure(m)
	case key.Matches(msg, f.handbook):
		return false, copies(m)
	case msg.Type == tea.KeyUp:
		w.goes(w.row-1, w.cell)
	case msg.Type == tea.KeyDown:
		w.goes(w.row+1, w.cell)
	case typing:
		w.input, _ = w.input.Update(msg) // its cursor doesn't blink
	case key.Matches(msg, k.help):
		return true, nil
	default:
		return false, pressCell(m, msg)
	}
	return false, nil
}

// turnsBack takes in what undo or redo leads to.
func turnsBack(m *Model, turn func() (draft.Draft, bool)) tea.Cmd {
	to, ok := turn()
	if !ok {
		m.news.Say("there is nothing further")
		return nil
	}
	return reloads(m, m.becomes(to), m.writing.row, m.writing.cell)
}

// pressCell carries out a key while nothing is typed in a cell.
func pressCell(m *Model, msg tea.KeyMsg) tea.Cmd {
	w, f := m.writing, newFigureKeys()
	switch {
	case msg.Type == tea.KeyLeft:
		w.goes(w.row, w.cell-1)
	case msg.Type == tea.KeyRight:
		w.goes(w.row, w.cell+1)
	case key.Matches(msg, f.done):
		return finishes(m)
	case key.Matches(msg, f.starts):
		m.ask(forFigureStarts, w.figure.Starts())
	case key.Matches(msg, f.ends):
		m.ask(forFigureEnds, w.figure.Ends())
	case key.Matches(msg, f.remove) && w.row < len(w.figure.Rows):
		return rewrites(m, w.figure.Remove(w.row), w.row, w.cell)
	case key.Matches(msg, f.choose) && w.cell != draft.CountCell:
		if n := int(msg.Runes[0] - '1'); n < len(w.ways) {
			return writes(m, w.cell, w.ways[n])
		}
	case msg.Type == tea.KeyRunes:
		w.input, _ = w.input.Update(msg)
	}
	return nil
}
