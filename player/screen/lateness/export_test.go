package lateness

import tea "github.com/charmbracelet/bubbletea"

// FoundBy returns what a model has found, and whether that is to be kept.
func FoundBy(m tea.Model) (Found, bool) { s := m.(Model); return s.found(), s.keep }
