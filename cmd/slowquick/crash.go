package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"time"

	"github.com/charmbracelet/x/term"
)

// crash is a panic of one of the program's goroutines.
type crash struct {
	value any
	stack []byte
}

func (c *crash) Error() string { return fmt.Sprintf("panic: %v\n\n%s", c.value, c.stack) }

// mostLeaving is how long the program takes to end in order after a panic: something may wait
// for the goroutine that is gone.
const mostLeaving = 5 * time.Second

// guard carries f out in a goroutine of its own. If f panics, the command line ends, as by a
// signal, so that the terminal is as it was; then the panic is told.
func (a *app) guard(f func()) {
	defer func() {
		if value := recover(); value != nil {
			c := &crash{value, debug.Stack()}
			a.end(c)
			time.AfterFunc(mostLeaving, func() {
				a.leaveScreen()
				a.tellCrash(c)
				os.Exit(exitFailed)
			})
		}
	}()
	f()
}

// tellCrash prints a panic as it is, for who can mend it.
func (a *app) tellCrash(c *crash) { fmt.Fprintln(a.err, c.Error()) }

// crashed is the panic that ended the command line; nil if none did.
func crashed(cause error) (c *crash) {
	errors.As(cause, &c)
	return c
}

// terminalState gives what puts the terminal back as it is now; nothing where there is none.
func terminalState(in any, out io.Writer) func() {
	keyboard, ok := in.(*os.File)
	if !ok || !isTerminal(out) {
		return func() {}
	}
	state, err := term.GetState(keyboard.Fd())
	if err != nil {
		return func() {}
	}
	return func() {
		_ = term.Restore(keyboard.Fd(), state)                              // it was so before
		_, _ = io.WriteString(out, "\x1b[?2004l\x1b[?1049l\x1b[?25h\x1b[m") // pasting, the screen, the cursor, colours
	}
}
