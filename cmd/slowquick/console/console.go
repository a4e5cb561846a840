// Package console is where commands run: it prints, asks and writes files until the command line is to
// end.
package console

import (
	"context"
	"fmt"
	"io"
	"os"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/program"
)

// Console has the inputs and outputs of a command line.
type Console struct {
	Ctx      context.Context // ends when the command line is to end
	In       io.Reader
	Out, Err *Printed
	Quiet    bool // neither warnings nor hints are printed

	end         context.CancelCauseFunc
	leaveScreen func()   // restores the terminal, whatever is drawn on it
	after       []string // lines to print after what is held back
	inputs      []string // files and folders that the command reads
}

// New returns a console that ends by a signal or a panic. Stop lets signals end the program again.
func New(in io.Reader, out, errOut io.Writer) (c *Console, stop func()) {
	ctx, forget := untilSignal()
	ctx, end := context.WithCancelCause(ctx)
	c = &Console{Ctx: ctx, end: end, In: in, Out: Printing(out), Err: Printing(errOut), leaveScreen: func() {}}
	if keyboard, ok := in.(*os.File); ok && IsTerminal(out) {
		c.leaveScreen = program.Restorer(keyboard, out)
	}
	return c, func() { end(nil); forget() }
}

// Warn prints a problem that doesn't stop the command; nothing if err is nil.
func (c *Console) Warn(err error) {
	if err != nil {
		c.add("warning: " + harmless.Message(err))
	}
}

// Hint prints a way to go on.
func (c *Console) Hint(format string, args ...any) {
	c.add("hint: " + harmless.Masked(fmt.Sprintf(format, args...)))
}

// add prints a line beside the answer, or after it, if that is held back.
func (c *Console) add(line string) {
	switch {
	case c.Quiet:
	case c.Out.holds():
		c.after = append(c.after, line)
	default:
		fmt.Fprintf(c.Err, "slowquick: %s\n", line)
	}
}

// Reads notes that the command reads files, or the files of folders, which it must not overwrite.
func (c *Console) Reads(paths ...string) { c.inputs = append(c.inputs, paths...) }
