package program

import (
	"bytes"
	"context"
	"io"
	"os"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// painter paints the pictures of a screen, each when it is due, and of each the lines that have
// changed. Bubble Tea's own renderer, which looks so many times a second for something to paint, is
// left with a blank: so the picture is on time, and nothing runs while nothing changes.
//
// What Bubble Tea writes goes through the painter: it says when the terminal's other screen, on which
// alone is painted, comes and goes.
type painter struct {
	due  *Due
	next chan string // the picture to paint; holds the latest only

	mu    sync.Mutex // guards out and what follows
	out   io.Writer
	width int      // of the window; 0 if not known
	shown bool     // the other screen is
	text  string   // the latest picture
	lines []string // as they stand on the screen; nil if that is not known
}

func newPainter(out io.Writer, due *Due) *painter {
	return &painter{due: due, next: make(chan string, 1), out: out}
}

// run paints until ctx ends.
func (p *painter) run(ctx context.Context) {
	for {
		select {
		case text := <-p.next:
			p.due.wait()
			p.mu.Lock()
			p.text = text
			p.paint()
			p.mu.Unlock()
		case <-ctx.Done():
			return
		}
	}
}

// show has a picture painted. One that has not been painted yet is no longer wanted.
func (p *painter) show(text string) {
	select {
	case <-p.next:
	default:
	}
	p.next <- text // only one goroutine sends, and there is room now
}

// resize paints for a window of another width from now on.
func (p *painter) resize(width int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.width, p.lines = width, nil
}

// Bubble Tea's sequences for the other screen.
var (
	appears    = []byte(ansi.SetModeAltScreenSaveCursor)
	disappears = []byte(ansi.ResetModeAltScreenSaveCursor)
)

// Write writes what Bubble Tea has to write, and paints again what that may have painted over.
func (p *painter) Write(text []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	n, err := p.out.Write(text)
	switch {
	case bytes.Contains(text, disappears):
		p.shown = false
	case bytes.Contains(text, appears):
		p.shown = true
	}
	p.lines = nil
	p.paint()
	return n, err
}

// paint paints the lines of the picture that have changed. What can't be written is lost: the terminal
// is gone, and Bubble Tea finds that out.
func (p *painter) paint() {
	if !p.shown || p.text == "" {
		return
	}
	var b strings.Builder
	if p.lines == nil {
		b.WriteString(ansi.EraseEntireScreen)
	}
	lines := strings.Split(p.text, "\n")
	for y, line := range lines {
		if y < len(p.lines) && p.lines[y] == line {
			continue
		}
		b.WriteString("\x1b[" + strconv.Itoa(y+1) + "H")
		width := columns(line)
		if p.width > 0 && width > p.width { // it would go on in the next line
			b.WriteString(ansi.Truncate(line, p.width, ""))
			continue
		}
		b.WriteString(line)
		if width < p.width { // in the last column, erasing would take the last letter
			b.WriteString(ansi.EraseLineRight)
		}
	}
	if len(p.lines) > len(lines) {
		b.WriteString("\x1b[" + strconv.Itoa(len(lines)+1) + "H" + ansi.EraseScreenBelow)
	}
	p.lines = lines
	if b.Len() > 0 {
		_, _ = io.WriteString(p.out, ansi.SetModeSynchronizedOutput+b.String()+ansi.ResetModeSynchronizedOutput)
	}
}

// columns returns how many columns a line takes. Pictures are painted often and have plain cells only,
// of which each takes one.
func columns(line string) int {
	n := 0
	for i := 0; i < len(line); {
		r, size := utf8.DecodeRuneInString(line[i:])
		switch {
		case r == '\x1b' && strings.HasPrefix(line[i+1:], "["):
			for i += 2; i < len(line) && line[i] < '@'; i++ { // parameters, up to the letter that ends it
			}
			size = 1
		case r >= ' ' && r < 0x300 && r != 0x7f && (r < 0x80 || r > 0x9f), r >= 0x2580 && r < 0x25a0, r >= 0x2800 && r < 0x2900: // letters, blocks and dots
			n++
		default:
			return ansi.StringWidth(line)
		}
		i += size
	}
	return n
}

// paintedFile is a painter on a terminal, which Bubble Tea wants to be a file.
type paintedFile struct {
	*os.File
	*painter
}

// Write writes as the painter does.
func (f paintedFile) Write(text []byte) (int, error) { return f.painter.Write(text) }

// WriteString does too, instead of the file.
func (f paintedFile) WriteString(text string) (int, error) { return f.painter.Write([]byte(text)) }

// output returns what Bubble Tea writes to.
func (p *painter) output() io.Writer {
	if file, ok := p.out.(*os.File); ok {
		return paintedFile{file, p}
	}
	return p
}

// painted is a model whose pictures a painter paints.
type painted struct {
	tea.Model
	painter *painter
}

// sizeMsg is a [tea.WindowSizeMsg] of which Bubble Tea's renderer is not told.
type sizeMsg tea.WindowSizeMsg

// sized takes the size of the window out of Bubble Tea's messages.
func sized(msg tea.Msg) tea.Msg {
	if size, ok := msg.(tea.WindowSizeMsg); ok {
		return sizeMsg(size)
	}
	return msg
}

// Update passes a message on.
func (m painted) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if size, ok := msg.(sizeMsg); ok {
		m.painter.resize(size.Width)
		msg = tea.WindowSizeMsg(size)
	}
	next, cmd := m.Model.Update(msg)
	return painted{next, m.painter}, cmd
}

// View hands the picture to the painter, and a blank to Bubble Tea.
func (m painted) View() string {
	m.painter.show(m.Model.View())
	return " "
}
