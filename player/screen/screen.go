// Package screen is the terminal screen: it shows what is heard now, to be read
// from three metres by people who move.
//
// The screen keeps no time. It asks the [Transport] for the moment that is
// heard, wakes up when the next event is due, and shows it. [Run] draws a full
// screen; package lines writes what is danced without one.
package screen

import (
	"context"

	"dance.example/slowquick/player/screen/caution"
	_ "dance.example/slowquick/player/screen/internal/quiet" // before bubbletea
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/terminal"

	"github.com/muesli/termenv"
)

// Run shows the screen until the dancer leaves it or ctx ends. NO_COLOR and
// CLICOLOR are honoured as no-color.org and bixense.com/clicolors describe them.
func Run(ctx context.Context, o Options) error {
	o.Look.NoColor = o.Look.NoColor || termenv.EnvNoColor()
	o.Look.Mode = terminal.Guess(terminal.Environ{})
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	m := New(ctx, o)
	m.kept.due = &program.Due{}
	o.Program.Due, o.Program.Ask = m.kept.due, true
	last, err := program.Run(ctx, caution.Before(m, o.Seen, m.theme), o.Program)
	if m, ok := last.(Model); ok { // told to end from outside
		m.stop()
	}
	return err
}

// Suspend returns what holds the dance before the program is stopped.
func (m Model) Suspend() func() {
	if m.tap != nil {
		return m.tap.Suspend()
	}
	if m.dance == nil {
		return func() {}
	}
	return m.dance.Suspend()
}

// stop ends what sounds.
func (m Model) stop() {
	if m.tap != nil {
		m.tap.Stop()
	}
	if m.dance != nil {
		m.dance.Stop()
	}
}
