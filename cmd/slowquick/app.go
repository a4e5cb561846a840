package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/routine"
)

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
