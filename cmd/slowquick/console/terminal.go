package console

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	xterm "github.com/charmbracelet/x/term"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/program"
)

// AtTerminal reports whether the output is a terminal.
func (c *Console) AtTerminal() bool { return IsTerminal(c.Out.Raw) }

// Draws reports whether the output can show a screen. If it is a terminal that can't, Draws prints why.
func (c *Console) Draws() bool {
	if !c.AtTerminal() {
		return false
	}
	lacks := program.Lacks()
	if lacks != "" {
		c.Hint("printing lines instead of a screen: %s", lacks)
	}
	return lacks == ""
}

// Agrees asks a yes-or-no question at a terminal. Without one it returns false.
func (c *Console) Agrees(question string) bool {
	if !IsTerminal(c.In) || !IsTerminal(c.Err.Raw) {
		return false
	}
	fmt.Fprintf(c.Err, "%s [y/N] ", harmless.Masked(question))
	yes, err := c.SaidYes()
	return yes && err == nil
}

// SaidYes reads the answer to a yes-or-no question.
func (c *Console) SaidYes() (bool, error) {
	answer, err := Await(c.Ctx, func() (string, error) { return bufio.NewReader(c.In).ReadString('\n') })
	if c.Ctx.Err() != nil {
		fmt.Fprintln(c.Err) // ends the line of the question
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

// Progress returns a function that shows on the terminal how much of a file has been written, and
// clears that at the end. It returns nil without a terminal.
func (c *Console) Progress(name string) func(part float64) {
	if !IsTerminal(c.Err.Raw) {
		return nil
	}
	return progressOn(c.Err.Raw, name)
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

// Columns returns the width of the terminal, or 80 if the output is none.
func (c *Console) Columns() int {
	if f, ok := c.Out.Raw.(*os.File); ok {
		if width, _, err := xterm.GetSize(f.Fd()); err == nil && width > 0 {
			return width
		}
	}
	return 80
}
