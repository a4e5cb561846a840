package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/program"
	xterm "github.com/charmbracelet/x/term"
)

// atTerminal reports whether the output is a terminal.
func (a *app) atTerminal() bool { return isTerminal(a.out.raw) }

// draws reports whether the output can show a screen. If it is a terminal that can't, draws prints why.
func (a *app) draws() bool {
	if !a.atTerminal() {
		return false
	}
	lacks := program.Lacks()
	if lacks != "" {
		fmt.Fprintf(a.err, "slowquick: hint: printing lines instead of a screen: %s\n", lacks)
	}
	return lacks == ""
}

// agrees asks a yes-or-no question at a terminal. Without one it returns false.
func (a *app) agrees(question string) bool {
	if !isTerminal(a.in) || !isTerminal(a.err.raw) {
		return false
	}
	fmt.Fprintf(a.err, "%s [y/N] ", harmless.Masked(question))
	yes, err := a.saidYes()
	return yes && err == nil
}

// saidYes reads the answer to a yes-or-no question.
func (a *app) saidYes() (bool, error) {
	answer, err := await(a.ctx, func() (string, error) { return bufio.NewReader(a.in).ReadString('\n') })
	if a.ctx.Err() != nil {
		fmt.Fprintln(a.err) // ends the line of the question
	}
	if err != nil && !errors.Is(err, io.EOF) {
		return false, outcome.Failed(fmt.Errorf("read the answer: %w", err), "")
	}
	answer = strings.ToLower(strings.TrimSpace(answer))
	return answer == "y" || answer == "yes", nil
}

// Progress is shown after a while, then at most this often.
const (
	progressAfter = time.Second
	progressPause = 200 * time.Millisecond
)

// progress returns a function that shows on the terminal how much of a file has been written, and
// clears that at the end. It returns nil without a terminal.
func (a *app) progress(name string) func(part float64) {
	if !isTerminal(a.err.raw) {
		return nil
	}
	return progressOn(a.err.raw, name)
}

func progressOn(screen io.Writer, name string) func(part float64) {
	next := time.Now().Add(progressAfter)
	shown := false
	return func(part float64) {
		switch now := time.Now(); {
		case part >= 1 && shown:
			fmt.Fprint(screen, "\r\x1b[K")
			shown = false
		case part < 1 && !now.Before(next):
			next, shown = now.Add(progressPause), true
			fmt.Fprintf(screen, "\r%s: %2.0f %%", harmless.Masked(name), 100*part)
		}
	}
}

// columns returns the width of the terminal, or 80 if the output is none.
func (a *app) columns() int {
	if f, ok := a.out.raw.(*os.File); ok {
		if width, _, err := xterm.GetSize(f.Fd()); err == nil && width > 0 {
			return width
		}
	}
	return 80
}

// page returns one of the outputs as a page.
func (a *app) page(out io.Writer) report.Page {
	return report.Page{Writer: out, Columns: a.columns(), Fits: a.atTerminal()}
}
