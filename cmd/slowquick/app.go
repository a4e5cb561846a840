package main

import (
	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/settings"
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
	*arguments.Reader
	ownFolder string // with the dancer's own figures
	set       *settings.Values
}

// rate is how many frames of sound the program plays a second.
const rate = flags.Rate
