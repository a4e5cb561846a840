package main

import (
	"context"
	"fmt"
	"io"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/library"
	"dance.example/slowquick/player/harmless"
)

// The exit codes.
const (
	exitOK       = outcome.OKCode
	exitFindings = outcome.FindingsCode
	exitUsage    = outcome.UsageCode
	exitFailed   = outcome.FailedCode
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

// rate is how many frames of sound the program plays a second.
const rate = 48000

// warn prints a problem that doesn't stop the command; nothing if err is nil.
func (a *app) warn(err error) {
	if err != nil {
		fmt.Fprintf(a.err, "slowquick: warning: %s\n", harmless.Message(err))
	}
}
