// Package program runs a screen on the terminal, as a well-behaved program: drawn
// often enough for dancing, stopped and continued by the shell, and left as the
// terminal was, even after a panic in a command.
//
// It draws nothing itself. Begin with [Run].
package program

import (
	"context"
	"fmt"
	"io"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	_ "dance.example/slowquick/player/screen/internal/quiet" // before bubbletea
)

// FrameRate is how often a second the terminal is drawn, at most.
const FrameRate = 120

// Frame is how far apart the pictures are that reach the terminal.
const Frame = time.Second / FrameRate

// Options says where a screen runs.
type Options struct {
	// Guard carries out the commands of the model; nil does just that.
	Guard  func(f func())
	Input  io.Reader // nil for the terminal
	Output io.Writer // nil for standard output
	Due    *Due      // when what the model draws may be seen; nil for at once
}

// Suspender is a model that has something to do before the program is stopped.
type Suspender interface {
	// Suspend returns what to do. It is called between updates, and what it returns
	// on another goroutine, which waits for it.
	Suspend() func()
}

// Run shows a model until it is left or ctx ends, and returns it as it was last.
func Run(ctx context.Context, m tea.Model, o Options) (last tea.Model, err error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	s := newSuspending()
	with := []tea.ProgramOption{tea.WithFPS(FrameRate), tea.WithAltScreen(), tea.WithoutSignalHandler(), tea.WithFilter(s.filter)}
	if o.Input != nil {
		with = append(with, tea.WithInput(o.Input))
	}
	output := o.Output
	if o.Due != nil {
		output = onTime(output, o.Due)
	}
	if output != nil {
		with = append(with, tea.WithOutput(output))
	}
	program := tea.NewProgram(guarded(m, o.Guard), with...)
	go s.serve(ctx, program)
	// Asked to quit, the program waits for what reads the keys; cut off with its
	// context it would not.
	defer context.AfterFunc(ctx, program.Quit)()
	last, err = program.Run()
	if err != nil {
		err = fmt.Errorf("show the screen: %w", err)
	}
	return unguarded(last), err
}
