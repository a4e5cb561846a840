package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"sync"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/program"
)

// printed is an output for people. Nothing printed there, such as the name of a file, reaches the
// terminal as a command. It keeps the first error, so that who prints need not look: the command
// fails with it. Raw is for what isn't text, and for the screen.
type printed struct {
	raw   io.Writer
	ascii bool // no other letters can be shown

	mu  sync.Mutex
	err error // why something could not be printed, the first time
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

// printing prints on an output.
func printing(out io.Writer) *printed {
	return &printed{raw: out, ascii: isTerminal(out) && !program.InUTF8()}
}

// failed is why something could not be printed; nil if all could.
func (p *printed) failed() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.err
}

func (a *app) printJSON(v any) error {
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	err := enc.Encode(v)
	if err == nil {
		_, err = a.out.raw.Write(harmless.JSON(text.Bytes()))
	}
	if err != nil {
		return failed(fmt.Errorf("print: %w", err), "")
	}
	return nil
}
