package tapping

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	tea "github.com/charmbracelet/bubbletea"
	xterm "github.com/charmbracelet/x/term"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/timing"
)

// RunPlain has the steps tapped once without a screen: it prints a line for what there is to do. Enter
// starts, and the space bar taps. Out must pass carriage returns on. If keys is nil, it starts at once. It returns what was measured; ok is
// false if nothing was.
func RunPlain(ctx context.Context, o Options, keys io.Reader, out io.Writer) (r timing.Result, ok bool, err error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	if tty, isFile := keys.(*os.File); isFile && xterm.IsTerminal(tty.Fd()) {
		cooked, err := xterm.MakeRaw(tty.Fd()) // so that keys come one by one, and unseen
		if err != nil {
			return r, false, fmt.Errorf("read keys: %w", err)
		}
		defer xterm.Restore(tty.Fd(), cooked)
	}
	p := tea.NewProgram(plain{New(ctx, o), keys == nil, out}, tea.WithoutRenderer(), tea.WithoutSignalHandler(), tea.WithInput(keys))
	defer context.AfterFunc(ctx, p.Quit)()
	last, err := p.Run()
	m, begun := last.(plain)
	if err != nil || !begun {
		return timing.Result{}, false, err
	}
	m.Stop()
	if r, ok = m.Result(); !ok && m.deaf != "" {
		return r, false, errors.New("hear claps: " + m.deaf)
	}
	return r, ok, nil
}

// plain is the Model in lines.
type plain struct {
	Model
	unkeyed bool // there is no key to press
	out     io.Writer
}

// Init says what to do, or starts.
func (p plain) Init() tea.Cmd {
	lines := p.sentences()
	if p.unkeyed {
		p.say(lines...)
		return func() tea.Msg { return tea.KeyMsg{Type: tea.KeyEnter} }
	}
	p.say(append(lines, "Enter starts, q leaves.")...)
	return nil
}

// say prints lines. While keys are read, the terminal is raw and needs a carriage return.
func (p plain) say(lines ...string) {
	end := "\r\n"
	if p.unkeyed {
		end = "\n"
	}
	for _, line := range lines {
		if line != "" {
			fmt.Fprint(p.out, harmless.Line(line)+end)
		}
	}
}

// View is not asked for.
func (p plain) View() string { return "" }

// Update goes on with the Model, and says what has changed.
func (p plain) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	was := p.phase
	next, cmd := p.Model.Update(msg)
	p.Model = next.(Model)
	if p.phase == was {
		return p, cmd
	}
	switch p.phase {
	case starting:
		p.say("Get ready.")
	case dancing:
		switch {
		case p.deaf != "" && p.unkeyed:
			return p, tea.Quit
		case p.deaf != "":
			p.say("No claps can be heard: " + p.deaf + ". Tap the space bar.")
		}
	case listening:
		p.say("Looking for your claps.")
	case done:
		return p, tea.Quit
	}
	return p, cmd
}
