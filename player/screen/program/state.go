package program

import (
	"io"
	"os"

	"github.com/charmbracelet/x/term"
)

// Restorer returns a function that puts a terminal back as it is now, whatever is drawn on it.
func Restorer(keyboard *os.File, screen io.Writer) func() {
	state, err := term.GetState(keyboard.Fd())
	if err != nil {
		return func() {} // it isn't a terminal
	}
	return func() {
		_ = term.Restore(keyboard.Fd(), state)                                 // it was so before
		_, _ = io.WriteString(screen, "\x1b[?2004l\x1b[?1049l\x1b[?25h\x1b[m") // pasting, the screen, the cursor, colours
	}
}
