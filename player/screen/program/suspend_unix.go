//go:build unix

package program

import (
	"context"
	"os"
	"os/signal"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/sys/unix"
)

// suspending lets ctrl+z, or SIGTSTP from outside, stop the program until it is
// continued, like any other in the shell. Before, the model suspends what it does, and
// meanwhile the terminal is as it was. Its filter sees each message first.
type suspending struct{ asked chan request }

// request asks to be stopped once hold has returned.
type request struct {
	hold  func()
	whole bool
}

func newSuspending() suspending { return suspending{make(chan request, 1)} }

// stopMsg asks to be stopped, holdMsg only to suspend what the model does.
type (
	stopMsg struct{ whole bool } // with what else runs in the pipeline
	holdMsg struct{}
)

// filter takes out the messages that ask to be stopped.
func (s suspending) filter(m tea.Model, msg tea.Msg) tea.Msg {
	if key, ok := msg.(tea.KeyMsg); ok && key.Type == tea.KeyCtrlZ {
		if !continuable() {
			return nil
		}
		msg = stopMsg{whole: true}
	}
	switch msg := msg.(type) {
	case holdMsg:
		go holding(m)()
	case stopMsg:
		select {
		case s.asked <- request{holding(m), msg.whole}:
		default: // it is about to be stopped
		}
	default:
		return msg
	}
	return nil
}

// continuable reports whether a shell waits that can continue what the key stops: one
// that gave the program a process group of its own. In a window opened for the program
// alone there is none, and it would stand still for ever.
func continuable() bool {
	session, err := unix.Getsid(0)
	return err == nil && session != unix.Getpgrp()
}

// serve stops the program when asked to, until ctx ends.
func (s suspending) serve(ctx context.Context, p *tea.Program) {
	signals := make(chan os.Signal, 8)
	signal.Notify(signals, unix.SIGTSTP, unix.SIGCONT)
	defer signal.Stop(signals)
	for {
		select {
		case <-ctx.Done():
			return
		case sig := <-signals:
			if sig == unix.SIGTSTP {
				p.Send(stopMsg{})
				continue
			}
			// A signal that can't be caught stopped it, and something else has drawn.
			p.Send(holdMsg{})
			if p.ReleaseTerminal() == nil {
				_ = p.RestoreTerminal() // as below
			}
		case asked := <-s.asked:
			asked.hold()
			if p.ReleaseTerminal() != nil {
				continue // it goes on as it is
			}
			// Once caught, SIGTSTP no longer stops a Go program.
			group := os.Getpid()
			if asked.whole {
				group = 0
			}
			_ = unix.Kill(group, unix.SIGSTOP) // it is ours
			for sig := range signals {
				if sig == unix.SIGCONT {
					break
				}
			}
			_ = p.RestoreTerminal() // without a terminal the program ends soon
		}
	}
}

// holding returns what a model has to do before it is stopped.
func holding(m tea.Model) func() {
	if s, ok := unguarded(m).(Suspender); ok {
		return s.Suspend()
	}
	return func() {}
}
