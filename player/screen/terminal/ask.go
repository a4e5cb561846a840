package terminal

import (
	"image"
	"io"
	"os"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/muesli/termenv"
)

// patience is how long what may be the beginning of an answer is held back when it may
// just as well be the Escape key, while answers are awaited.
const patience = 30 * time.Millisecond

// Input is the terminal's keyboard, without its answers. Bubble Tea takes it for the file
// that it is.
type Input struct {
	*os.File
	ask    func()
	report func(Answers)
	cell   func() image.Point
	filter Filter
	ready  []byte // typed, but not read yet
}

// NewInput returns an input for [Input.Ask]. Report is called once, by whoever reads, when
// everything is answered. If in and out are no terminal that can be asked, ok is false.
func NewInput(in *os.File, out io.Writer, environ termenv.Environ, report func(Answers)) (input *Input, ok bool) {
	screen, isFile := out.(term.File)
	q := questions(environ)
	if !askable || !isFile || q == "" || !term.IsTerminal(in.Fd()) || !term.IsTerminal(screen.Fd()) {
		return nil, false
	}
	return &Input{
		File:   in,
		ask:    func() { _, _ = io.WriteString(screen, q) }, // unasked, it answers nothing
		report: report,
		cell:   func() image.Point { return CellSize(screen.Fd()) },
	}, true
}

// Ask asks the terminal, which must be raw by then, or it would show the answers. It does
// not wait for them.
func (in *Input) Ask() { in.ask() }

// Read reads what is typed. It may return nothing.
func (in *Input) Read(p []byte) (int, error) {
	_, done := in.filter.Done()
	if len(in.ready) == 0 && !done {
		if err := in.more(len(p)); err != nil {
			return 0, err
		}
	} else if len(in.ready) == 0 {
		return in.File.Read(p)
	}
	n := copy(p, in.ready)
	in.ready = in.ready[n:]
	return n, nil
}

// more reads up to most bytes of keys and answers. What is read at once is one key or
// more, so what is left of an answer is waited for, but not for long.
func (in *Input) more(most int) error {
	b := make([]byte, max(most-len(in.filter.held), 1))
	n, err := in.File.Read(b)
	in.ready = append(in.ready, in.filter.Keys(b[:n])...)
	for err == nil && in.filter.Unsure() && len(in.ready)+len(in.filter.held) < most {
		if !readable(in.Fd(), patience) {
			in.ready = append(in.ready, in.filter.Release()...)
			break
		}
		n, err = in.File.Read(b[:max(most-len(in.ready)-len(in.filter.held), 1)])
		in.ready = append(in.ready, in.filter.Keys(b[:n])...)
	}
	if err != nil {
		in.ready = append(in.ready, in.filter.Release()...)
	}
	if answers, done := in.filter.Done(); done {
		if cell := in.cell(); cell != (image.Point{}) {
			answers.Cell = cell
		}
		in.report(answers)
	}
	if len(in.ready) > 0 {
		return nil // an error comes again
	}
	return err
}
