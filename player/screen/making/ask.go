package making

import (
	"errors"
	"path/filepath"
	"strings"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen/term"

	tea "github.com/charmbracelet/bubbletea"
)

func (m *Model) ask(what question, now string) {
	input := term.NewInput(prompts[what][0], prompts[what][1])
	input.SetValue(now)
	input.CursorEnd()
	m.asks = &asking{what: what, input: input}
}

// types takes in a key of a line that is typed.
func (m *Model) types(msg tea.KeyMsg) tea.Cmd {
	a := m.asks
	switch msg.Type {
	case tea.KeyEsc:
		m.asks = nil
		return nil
	case tea.KeyEnter:
		m.asks = nil
		return m.answered(a, strings.TrimSpace(a.input.Value()))
	}
	a.input, _ = a.input.Update(msg) // its cursor doesn't blink
	return nil
}

// answered does what was typed for.
func (m *Model) answered(a *asking, text string) tea.Cmd {
	order := m.draft.Order
	switch a.what {
	case forPart:
		line := order.Line(m.draft.Line)
		line.Part = text
		return m.changes(order.Write(m.draft.Line, line), m.draft.Line)
	case forRemark:
		line := order.Line(m.draft.Line)
		line.Remark = text
		return m.changes(order.Write(m.draft.Line, line), m.draft.Line)
	case forTempo:
		return m.changes(order.Set(m.draft.Line, "tempo", text), m.draft.Line)
	case forEnds:
		return m.changes(order.Set(m.draft.Line, "ends", text), m.draft.Line)
	case forTitle:
		if text != "" {
			return m.changes(m.draft.Titled(text), m.draft.Line)
		}
	case forWholeTempo, forLeadIn, forHall:
		changed, err := m.draft.Set(settings[a.what], text)
		if err != nil {
			m.news.Warn(err.Error())
			return nil
		}
		return m.changes(changed, m.draft.Line)
	case forPartName:
		return gathers(m, text)
	case forFigure:
		if text != "" {
			return begins(m, text)
		}
	case forFigureStarts:
		return rewrites(m, m.writing.figure.Set("starts", text), m.writing.row, m.writing.cell)
	case forFigureEnds:
		return rewrites(m, m.writing.figure.Set("ends", text), m.writing.row, m.writing.cell)
	case forFile, forOver:
		if text == "" {
			return nil
		}
		if filepath.Ext(text) == "" {
			text += ".md"
		}
		return m.savesAs(text, a.what == forOver && text == a.path)
	}
	return nil
}

// saves saves the sheet, and asks for a file if it has none.
func (m *Model) saves() tea.Cmd {
	if path := m.draft.Sheet.Path; path != "" {
		return m.savesAs(path, false)
	}
	m.ask(forFile, m.o.FileFor(m.draft.Title()))
	return nil
}

func (m *Model) savesAs(path string, over bool) tea.Cmd {
	d, save := m.draft, m.o.Save
	return func() tea.Msg {
		saved, err := save(d, path, over)
		return Msg{path: path, saved: &saved, err: err}
	}
}

// wasSaved takes in that the sheet was saved, or why not.
func (m *Model) wasSaved(msg Msg) tea.Cmd {
	switch {
	case errors.Is(msg.err, draft.ErrNewer):
		m.ask(forOver, msg.path)
		m.asks.path = msg.path
		m.news.Warn(filepath.Base(msg.path) + " holds something newer: enter writes over it, another name keeps both")
		return nil
	case msg.err != nil && m.unkept:
		m.news.Warn("not saved, and only in memory: " + msg.err.Error())
		return nil
	case msg.err != nil:
		m.news.Warn("not saved, but kept as a draft: " + msg.err.Error())
		return nil
	}
	m.draft = m.draft.SavedAs(*msg.saved)
	m.leaving = false
	m.news.Say("saved as " + filepath.Base(msg.path))
	return m.keep()
}

// gathers makes a part of the chosen lines.
func gathers(m *Model, name string) tea.Cmd {
	from, to := gathered(*m.first, m.draft.Line)
	text, err := m.draft.Gather(from, to, name)
	if err != nil {
		m.news.Warn(err.Error())
		return nil
	}
	return m.changes(text, from)
}
