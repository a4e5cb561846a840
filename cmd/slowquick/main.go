// Command slowquick checks, counts, plays and shows a partner dance written as a sheet.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/console"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/library"
	"dance.example/slowquick/player/harmless"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run carries out a command line and returns the exit code.
func run(args []string, in io.Reader, out, errOut io.Writer) int {
	return start(in, out, errOut, func(a *app) int { return a.carryOut(a.root(), args) })
}

// start makes what every command needs and passes it to carryOut.
func start(in io.Reader, out, errOut io.Writer, carryOut func(*app) int) int {
	c, stop := console.New(in, out, errOut)
	defer stop()
	return carryOut(&app{Reader: &arguments.Reader{Console: c, Library: library.Open()}})
}

// carryOut carries out a command line and returns the exit code.
func (a *app) carryOut(root *cobra.Command, args []string) int {
	root.SetArgs(a.danced(root, args))
	var cmd *cobra.Command
	var err error
	a.Guard(func() { cmd, err = root.ExecuteContextC(a.Ctx) })
	a.ShowPages()
	if a.Crashed() {
		return exitFailed
	}
	if unprinted := a.Out.Failed(); unprinted != nil {
		err = outcome.Failed(fmt.Errorf("print: %w", unprinted), "")
	}
	if err == nil {
		return exitOK
	}
	var f *outcome.Failure
	if !errors.As(err, &f) {
		f = outcome.Usage(err) // cobra's own complaints
	}
	if f.Err != nil && !errors.Is(f.Err, syscall.EPIPE) {
		if a.Ctx.Err() != nil { // by ctrl+c, or a signal
			fmt.Fprintln(a.Err, "slowquick: stopped")
		} else {
			fmt.Fprintf(a.Err, "slowquick: error: %s\n", harmless.Message(f.Err))
		}
		if path := strings.TrimPrefix(cmd.CommandPath(), "slowquick "); f.Hint == outcome.HelpHint && cmd.HasParent() && path != "help" {
			f.Hint = "slowquick help " + path + " shows how to use it"
		}
		if f.Hint != "" {
			a.Hint("%s", f.Hint)
		}
	}
	return f.Code
}
