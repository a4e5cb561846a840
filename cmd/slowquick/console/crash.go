package console

import (
	"context"
	"errors"
	"fmt"
	"os"
	"runtime/debug"
	"time"

	"dance.example/slowquick/cmd/slowquick/outcome"
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

// Guard runs f, usually in a goroutine of its own. If f panics, the command line ends as by a signal,
// which restores the terminal, and then [Console.Crashed] prints the panic.
func (c *Console) Guard(f func()) {
	defer func() {
		if value := recover(); value != nil {
			panicked := &crash{value, debug.Stack()}
			c.end(panicked)
			time.AfterFunc(mostLeaving, func() {
				c.leaveScreen()
				fmt.Fprintln(c.Err, panicked)
				os.Exit(outcome.FailedCode)
			})
		}
	}()
	f()
}

// Crashed reports whether a panic ended the command line, and prints it with its stack, for whoever
// fixes it.
func (c *Console) Crashed() bool {
	var panicked *crash
	if !errors.As(context.Cause(c.Ctx), &panicked) {
		return false
	}
	fmt.Fprintln(c.Err, panicked)
	return true
}
