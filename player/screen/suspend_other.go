//go:build !unix

package screen

import (
	"context"

	tea "github.com/charmbracelet/bubbletea"
)

// suspending does nothing here: no program is stopped by a key.
type suspending struct{}

func newSuspending() suspending { return suspending{} }

func (suspending) filter(_ tea.Model, msg tea.Msg) tea.Msg { return msg }

func (suspending) serve(context.Context, *tea.Program) {}
