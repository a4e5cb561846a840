package program

import tea "github.com/charmbracelet/bubbletea"

// guardedModel is a model whose commands a guard carries out. Bubble Tea itself would
// print a panic there before the terminal is restored, where nobody sees it.
type guardedModel struct {
	tea.Model
	guard func(func())
}

// guarded has guard carry out the commands of m; nil leaves them as they are.
func guarded(m tea.Model, guard func(func())) tea.Model {
	if guard == nil {
		return m
	}
	return guardedModel{m, guard}
}

// unguarded returns the model itself, which is neither guarded nor painted.
func unguarded(m tea.Model) tea.Model {
	if p, ok := m.(painted); ok {
		m = p.Model
	}
	if g, ok := m.(guardedModel); ok {
		m = g.Model
	}
	return m
}

// Init begins what the model begins.
func (g guardedModel) Init() tea.Cmd { return g.watch(g.Model.Init()) }

// Update passes a message on.
func (g guardedModel) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := g.Model.Update(msg)
	return guardedModel{next, g.guard}, g.watch(cmd)
}

// watch has the guard carry out a command, and the commands that it brings.
func (g guardedModel) watch(cmd tea.Cmd) tea.Cmd {
	if cmd == nil {
		return nil
	}
	return func() (msg tea.Msg) {
		g.guard(func() { msg = cmd() })
		if batch, ok := msg.(tea.BatchMsg); ok {
			for i := range batch {
				batch[i] = g.watch(batch[i])
			}
		}
		return msg
	}
}
