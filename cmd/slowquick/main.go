// Command slowquick checks, counts, plays and shows a partner dance written as a sheet.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/routine"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// The exit codes.
const (
	exitOK       = 0
	exitFindings = 1 // the sheets have findings
	exitUsage    = 2 // the command line was not understood
	exitFailed   = 3 // a file or a device failed
)

// app is what every command needs.
type app struct {
	ctx      context.Context // ends when the command line is to end
	end      context.CancelCauseFunc
	in       io.Reader
	out, err *printed
	library  *library.Library

	ownFolder string   // with the dancer's own figures
	inputs    []string // files and folders that the command reads

	leaveScreen func() // restores the terminal, whatever is drawn on it
}

// run carries out a command line and returns the exit code.
func run(args []string, in io.Reader, out, errOut io.Writer) int {
	return start(in, out, errOut, func(a *app) int { return a.carryOut(a.root(), args) })
}

// start makes what every command needs and passes it to carryOut.
func start(in io.Reader, out, errOut io.Writer, carryOut func(*app) int) int {
	ctx, stop := untilSignal()
	defer stop()
	ctx, end := context.WithCancelCause(ctx)
	defer end(nil)
	a := &app{ctx: ctx, end: end, in: in, out: printing(out), err: printing(errOut), library: library.Open(), leaveScreen: func() {}}
	if keyboard, ok := in.(*os.File); ok && isTerminal(out) {
		a.leaveScreen = program.Restorer(keyboard, out)
	}
	return carryOut(a)
}

// carryOut carries out a command line and returns the exit code.
func (a *app) carryOut(root *cobra.Command, args []string) int {
	root.SetArgs(a.danced(root, args))
	var cmd *cobra.Command
	var err error
	a.guard(func() { cmd, err = root.ExecuteContextC(a.ctx) })
	if c := crashed(context.Cause(a.ctx)); c != nil {
		a.tellCrash(c)
		return exitFailed
	}
	if unprinted := a.out.failed(); unprinted != nil {
		err = failed(fmt.Errorf("print: %w", unprinted), "")
	}
	if err == nil {
		return exitOK
	}
	var f *failure
	if !errors.As(err, &f) {
		f = usage(err) // cobra's own complaints
	}
	if f.err != nil && !errors.Is(f.err, syscall.EPIPE) {
		if a.ctx.Err() != nil { // by ctrl+c, or a signal
			fmt.Fprintln(a.err, "slowquick: stopped")
		} else {
			fmt.Fprintf(a.err, "slowquick: error: %s\n", harmless.Message(f.err))
		}
		if path := strings.TrimPrefix(cmd.CommandPath(), "slowquick "); f.hint == helpHint && cmd.HasParent() {
			f.hint = "slowquick help " + path + " shows how to use it"
		}
		if f.hint != "" {
			fmt.Fprintf(a.err, "slowquick: hint: %s\n", harmless.Masked(f.hint))
		}
	}
	return f.code
}

// failure is an error with the exit code it leads to and, perhaps, a way out.
type failure struct {
	code int
	err  error // nil if it has been printed
	hint string
}

func (f *failure) Error() string {
	if f.err == nil {
		return "there are findings"
	}
	return f.err.Error()
}

func (f *failure) Unwrap() error { return f.err }

// helpHint is the hint if there is no better one; carryOut names the command in it.
const helpHint = "slowquick help lists the commands"

func usage(err error) *failure { return &failure{exitUsage, err, helpHint} }

// failed returns the failure of a file or a device; nil if err is nil.
func failed(err error, hint string) error {
	if err == nil {
		return nil
	}
	return &failure{exitFailed, err, hint}
}

// withFindings returns the failure of a command that has printed its findings.
func withFindings() *failure { return &failure{code: exitFindings} }

// perhaps returns a hint with the known names that are like a name, or otherwise if none is.
func perhaps(name string, known []string, otherwise string) string {
	if near := routine.Nearest(name, known); len(near) > 0 {
		return "perhaps " + strings.Join(near, ", ")
	}
	return otherwise
}

// rate is how many frames of sound the program plays a second.
const rate = 48000

// warn prints a problem that doesn't stop the command; nothing if err is nil.
func (a *app) warn(err error) {
	if err != nil {
		fmt.Fprintf(a.err, "slowquick: warning: %s\n", harmless.Message(err))
	}
}
