package main

import (
	"errors"
	"fmt"
	"os"
	"runtime/debug"
	"time"
)

// crash is a panic of one of the program's goroutines.
type crash struct {
	value any
	stack []byte
}

func (c *crash) Error() string { return fmt.Sprintf("panic: %v\n\n%s", c.value, c.stack) }

// mostLeaving bounds how long the program takes to end in order after a panic, as something may be
// waiting for the goroutine that is gone.
const mostLeaving = 5 * time.Second

// guard runs f, usually in a goroutine of its own. If f panics, the command line ends as by a signal,
// which restores the terminal, and then the panic is printed.
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

// tellCrash prints a panic with its stack, for whoever fixes it.
func (a *app) tellCrash(c *crash) { fmt.Fprintln(a.err, c.Error()) }

// crashed returns the panic that ended the command line; nil if none did.
func crashed(cause error) (c *crash) {
	errors.As(cause, &c)
	return c
}
