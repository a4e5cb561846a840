//go:build !unix

package program

import (
	"context"

	tea "github.com/charmbracelet/bubbletea"
)

// suspending does nothing here, where no key stops a program.
type suspending struct{}

func newSuspending() suspending { return suspending{} }

func (suspending) filter(_ tea.Model, msg tea.Msg) tea.Msg { return msg }

func (suspending) serve(context.Context, *tea.Program) {}
