//go:build unix

package screen

import (
	"context"
	"os"
	"os/signal"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/sys/unix"

	"dance.example/slowquick/audio"
)

// suspending lets ctrl+z, or SIGTSTP from outside, stop the program until it is continued, as
// any other in the shell. What is danced is held before, and the terminal is as it was
// meanwhile. It is one of the program's filters, which see each message first.
type suspending struct{ asked chan request }

// request is to be stopped once the dance is held.
type request struct {
	hold  func()
	whole bool
}

func newSuspending() suspending { return suspending{make(chan request, 1)} }

// stopMsg asks to be stopped, holdMsg only to hold the dance.
type (
	stopMsg struct{ whole bool } // with what else runs in the pipeline
	holdMsg struct{}
)

// filter takes out what asks to be stopped.
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

// continuable reports whether a shell waits that can continue what the key stops: it has given
// the program a process group of its own. A window that was opened for the program alone has
// none, and it would stand still for ever.
func continuable() bool {
	session, err := unix.Getsid(0)
	return err == nil && session != unix.Getpgrp()
}

// serve stops the program when that is asked for, until ctx ends.
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
			// It was stopped by what can't be caught, and something else has drawn.
			p.Send(holdMsg{})
			if p.ReleaseTerminal() == nil {
				_ = p.RestoreTerminal() // as below
			}
		case asked := <-s.asked:
			asked.hold()
			if p.ReleaseTerminal() != nil {
				continue // it goes on as it is
			}
			// Once it was caught, SIGTSTP stops no Go program any more.
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

// holding gives what holds the dance that a model shows, and waits for that.
func holding(m tea.Model) func() {
	switch m := unguarded(m).(type) {
	case Model:
		if m.dance != nil {
			return func() { hold(m.dance.transport) }
		}
	case syncing:
		return func() { m.off.Store(true) }
	}
	return func() {}
}

// mostHolding is how long the sound is waited for.
const mostHolding = time.Second

// hold holds a dance and waits until that has been carried out: what is asked for later is
// carried out later.
func hold(t Transport) {
	t.Hold()
	held := make(chan struct{})
	t.Level(func(l audio.Levels) audio.Levels {
		close(held)
		return l
	})
	select {
	case <-held:
	case <-time.After(mostHolding):
	}
}
