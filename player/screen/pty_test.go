//go:build unix

package screen_test

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/sheetlist"
	_ "dance.example/slowquick/testdata/thorough"
)

// onTerminal makes the test program a program with a screen.
const onTerminal = "SCREEN_TEST_ON_TERMINAL"

func TestMain(m *testing.M) {
	if os.Getenv(onTerminal) == "" {
		os.Exit(m.Run())
	}
	sheets := &shelf{sheets: map[string]dance.Sheet{"boathouse": read(rehearsal.Boathouse)}}
	ctx, end := context.WithCancelCause(context.Background())
	guard := func(f func()) {
		defer func() {
			if p := recover(); p != nil {
				end(fmt.Errorf("panic: %v", p))
			}
		}()
		f()
	}
	if os.Getenv(onTerminal) == "slips" {
		sheets = nil // reading it panics
	}
	err := screen.Run(ctx, screen.Options{
		Program: program.Options{Guard: guard},
		Shelf:   sheets,
		Open:    &sheetlist.Entry{ID: "boathouse"},
		Stage: func(l dance.Sheet) dance.Transport {
			return player.NewTransport(rehearsal.NewLine(), &rehearsal.Engine{}, player.NewCourse(rehearsal.Rate, player.Sounds{}, l.Timeline, player.DefaultSettings()), nil)
		},
	})
	if err == nil {
		err = context.Cause(ctx)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// window is a pseudo-terminal that answers nothing, and what it was sent.
type window struct {
	t    *testing.T
	file *os.File
	seen strings.Builder
}

// until reads on until text has come. It waits for less than the five seconds
// that a question to the terminal would take.
func (term *window) until(text string) {
	term.t.Helper()
	require.NoError(term.t, term.file.SetReadDeadline(time.Now().Add(4*time.Second)))
	from := term.seen.Len()
	buf := make([]byte, 4096)
	for !strings.Contains(term.seen.String()[from:], text) {
		n, err := term.file.Read(buf)
		require.NoError(term.t, err, "waiting for %q; seen: %q", text, term.seen.String()[from:])
		term.seen.Write(buf[:n])
	}
}

func (term *window) press(keys string) {
	term.t.Helper()
	_, err := term.file.WriteString(keys)
	require.NoError(term.t, err)
}

func startOnTerminal(t *testing.T, env ...string) (*window, *exec.Cmd) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), append([]string{onTerminal + "=1", "TERM=xterm-256color", "NO_COLOR=", "CLICOLOR="}, env...)...)
	file, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	require.NoError(t, err)
	t.Cleanup(func() {
		_ = cmd.Process.Kill() // it has mostly ended
		file.Close()
	})
	return &window{t: t, file: file}, cmd
}

func TestTerminalThatDoesNotAnswer(t *testing.T) {
	term, cmd := startOnTerminal(t)
	term.until("HOLDING")
	assert.NotContains(t, term.seen.String(), "\x1b[6n", "asks for the cursor")
	assert.Contains(t, term.seen.String(), "\x1b[?1049h", "a screen of its own")
	term.press(" ")
	term.until("DANCING")
	assert.Contains(t, term.seen.String(), "35m", "magenta")
	term.press("q")
	term.until("Press q again")
	term.press("q")
	term.until("\x1b[?1049l") // the screen before
	require.NoError(t, cmd.Wait())
}

func TestNoColorOnTerminal(t *testing.T) {
	term, _ := startOnTerminal(t, "NO_COLOR=1")
	term.until("HOLDING")
	assert.NotRegexp(t, `\x1b\[[0-9;]*[34][0-7]m`, term.seen.String())
	assert.Contains(t, term.seen.String(), "\x1b[1m", "bold is no colour")
}

// TestAPanicWhileReadingIsSeen when the screen is gone.
func TestAPanicWhileReadingIsSeen(t *testing.T) {
	term, cmd := startOnTerminal(t, onTerminal+"=slips")
	term.until("\x1b[?1049l")
	term.until("panic: runtime error: invalid memory address or nil pointer dereference")
	assert.Error(t, cmd.Wait())
}
