// Package program runs a screen on the terminal, as a well-behaved program: each
// picture seen when it is due, nothing done while nothing changes, stopped and continued by the shell, and left as the
// terminal was, even after a panic in a command.
//
// It draws nothing itself. Begin with [Run].
package program

import (
	"context"
	"fmt"
	"io"
	"os"

	tea "github.com/charmbracelet/bubbletea"

	_ "dance.example/slowquick/player/screen/internal/quiet" // before bubbletea
	"dance.example/slowquick/player/screen/terminal"
)

// Options says where a screen runs.
type Options struct {
	// Guard carries out the commands of the model; nil does just that.
	Guard  func(f func())
	Input  io.Reader // nil for the terminal
	Output io.Writer // nil for standard output
	Due    *Due      // when what the model draws may be seen; nil for at once

	// Ask has the terminal asked what it shows, if it can be asked. The model gets the
	// [terminal.Answers] as a message, if they come.
	Ask bool
}

// Run shows a model until it is left or ctx ends, and returns it as it was last.
func Run(ctx context.Context, m tea.Model, o Options) (last tea.Model, err error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	s := newSuspending()
	output := o.Output
	if output == nil {
		output = os.Stdout
	}
	paint := newPainter(output, o.Due)
	go paint.run(ctx)
	with := []tea.ProgramOption{tea.WithFPS(1), tea.WithAltScreen(), tea.WithoutSignalHandler(), tea.WithOutput(paint.output())}
	if o.Input != nil {
		with = append(with, tea.WithInput(o.Input))
	}
	var program *tea.Program
	filter := func(m tea.Model, msg tea.Msg) tea.Msg { return s.filter(m, sized(msg)) }
	in, asks := asking(o, func(a terminal.Answers) { program.Send(a) })
	if asks {
		with = append(with, tea.WithInput(in))
		filter = func(m tea.Model, msg tea.Msg) tea.Msg {
			if _, ok := msg.(askMsg); ok {
				go in.Ask() // the terminal may be slow to take it
				return nil
			}
			return s.filter(m, sized(msg))
		}
	}
	program = tea.NewProgram(painted{guarded(m, o.Guard), paint}, append(with, tea.WithFilter(filter))...)
	if asks {
		go program.Send(askMsg{})
	}
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

// askMsg asks the terminal. Messages are received when it is raw.
type askMsg struct{}

// asking returns an input that asks the terminal, if that is wanted and possible.
func asking(o Options, report func(terminal.Answers)) (in *terminal.Input, ok bool) {
	if !o.Ask {
		return nil, false
	}
	file, isFile := o.Input.(*os.File)
	if o.Input == nil {
		file, isFile = os.Stdin, true
	}
	if o.Output == nil {
		o.Output = os.Stdout
	}
	if !isFile {
		return nil, false
	}
	return terminal.NewInput(file, o.Output, terminal.Environ{}, report)
}
