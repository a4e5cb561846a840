// Package outcome has the ways in which commands end.
package outcome

import (
	"strings"

	"dance.example/slowquick/routine"
)

// The exit codes.
const (
	OKCode       = 0
	FindingsCode = 1 // the sheets have findings
	UsageCode    = 2 // the command line was not understood
	FailedCode   = 3 // a file or a device failed
)

// Failure is an error with the exit code it leads to and, perhaps, a way out.
type Failure struct {
	Code int
	Err  error // nil if it has been printed
	Hint string
}

func (f *Failure) Error() string {
	if f.Err == nil {
		return "there are findings"
	}
	return f.Err.Error()
}

func (f *Failure) Unwrap() error { return f.Err }

// HelpHint is the hint if there is no better one; carryOut names the command in it.
const HelpHint = "slowquick help lists the commands"

// Usage returns the failure of a command line that was not understood.
func Usage(err error) *Failure { return &Failure{UsageCode, err, HelpHint} }

// Failed returns the failure of a file or a device; nil if err is nil.
func Failed(err error, hint string) error {
	if err == nil {
		return nil
	}
	return &Failure{FailedCode, err, hint}
}

// WithFindings returns the failure of a command that has printed its findings.
func WithFindings() *Failure { return &Failure{Code: FindingsCode} }

// Perhaps returns a hint with the known names that are like a name, or otherwise if none is.
func Perhaps(name string, known []string, otherwise string) string {
	if near := routine.Nearest(name, known); len(near) > 0 {
		return "perhaps " + strings.Join(near, ", ")
	}
	return otherwise
}

// New returns a failure with an exit code and, perhaps, a way out.
func New(code int, err error, hint string) *Failure { return &Failure{code, err, hint} }
