package console

import (
	"bytes"
	"cmp"
	"io"
	"os"
	"sync"

	"github.com/mattn/go-isatty"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/program"
)

// Printed is an output for people. Nothing printed there, such as the name of a file, reaches the
// terminal as a command. It keeps its first error, with which the command fails, so that commands
// needn't check for one. Raw is for the screen and for what isn't text.
type Printed struct {
	Raw   io.Writer
	ascii bool // the terminal can't show other letters

	mu   sync.Mutex
	err  error         // the first
	held *bytes.Buffer // what is held back, unless that is nil
}

// Write prints whole lines, or parts of them that end between two characters.
func (p *Printed) Write(text []byte) (int, error) {
	shown := harmless.Text(text)
	if p.ascii {
		shown = harmless.ASCII(shown)
	}
	return len(text), p.write(shown)
}

// write prints what can be shown, or holds it back.
func (p *Printed) write(shown []byte) error {
	p.mu.Lock()
	held := p.held
	if held != nil {
		held.Write(shown)
	}
	p.mu.Unlock()
	if held != nil {
		return nil
	}
	_, err := p.Raw.Write(shown)
	p.mu.Lock()
	defer p.mu.Unlock()
	p.err = cmp.Or(p.err, err)
	return err
}

// hold begins to hold back what is printed.
func (p *Printed) hold() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.held = &bytes.Buffer{}
}

// holds reports whether what is printed is held back.
func (p *Printed) holds() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.held != nil
}

// release returns what was held back, and goes on to print.
func (p *Printed) release() (text []byte) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.held != nil {
		text = p.held.Bytes()
	}
	p.held = nil
	return text
}

// Printing returns an output that prints on out.
func Printing(out io.Writer) *Printed {
	return &Printed{Raw: out, ascii: IsTerminal(out) && !program.InUTF8()}
}

// Failed returns the first error, or nil.
func (p *Printed) Failed() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.err
}

// IsTerminal reports whether an input or output is a terminal.
func IsTerminal(file any) bool {
	f, ok := file.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}
