package main

import (
	"cmp"
	"io"
	"os"
	"sync"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/program"
	"github.com/mattn/go-isatty"
)

// printed is an output for people. Nothing printed there, such as the name of a file, reaches the
// terminal as a command. It keeps its first error, with which the command fails, so that commands
// needn't check for one. Raw is for the screen and for what isn't text.
type printed struct {
	raw   io.Writer
	ascii bool // the terminal can't show other letters

	mu  sync.Mutex
	err error // the first
}

// Write prints whole lines, or parts of them that end between two characters.
func (p *printed) Write(text []byte) (int, error) {
	shown := harmless.Text(text)
	if p.ascii {
		shown = harmless.ASCII(shown)
	}
	_, err := p.raw.Write(shown)
	p.mu.Lock()
	defer p.mu.Unlock()
	p.err = cmp.Or(p.err, err)
	return len(text), err
}

// printing returns an output that prints on out.
func printing(out io.Writer) *printed {
	return &printed{raw: out, ascii: isTerminal(out) && !program.InUTF8()}
}

// failed returns the first error, or nil.
func (p *printed) failed() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.err
}

// isTerminal reports whether an input or output is a terminal.
func isTerminal(file any) bool {
	f, ok := file.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}
