//go:build unix

package program_test

import (
	"os"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/terminal"
)

// listening shows what it is told, and ends with q.
type listening struct{ told string }

func (listening) Init() tea.Cmd { return nil }

func (l listening) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case terminal.Answers:
		l.told += "<answers>"
		if msg.Kitty {
			l.told += "<kitty>"
		}
	case tea.KeyMsg:
		l.told += "<" + msg.String() + ">"
		if msg.String() == "q" {
			return l, tea.Quit
		}
	}
	return l, nil
}

func (l listening) View() string { return "told: " + l.told }

// conversation is a model that runs on a terminal.
type conversation struct {
	t     *testing.T
	file  *os.File
	shown chan string // what the terminal gets
	told  chan string // what the model says last
}

func converse(t *testing.T) *conversation {
	t.Helper()
	screen, keyboard, err := pty.Open()
	require.NoError(t, err)
	require.NoError(t, pty.Setsize(screen, &pty.Winsize{Rows: 24, Cols: 200}))
	t.Cleanup(func() { screen.Close(); keyboard.Close() })
	c := &conversation{t, screen, make(chan string, 1000), make(chan string, 1)}
	go func() {
		m, err := program.Run(t.Context(), listening{}, program.Options{Input: keyboard, Output: keyboard, Ask: true})
		assert.NoError(t, err)
		c.told <- m.(listening).told
	}()
	go func() {
		buf := make([]byte, 4096)
		for {
			n, err := screen.Read(buf)
			if err != nil {
				return
			}
			c.shown <- string(buf[:n])
		}
	}()
	return c
}

// until waits until text is shown.
func (c *conversation) until(text string) {
	c.t.Helper()
	seen := ""
	for late := time.After(10 * time.Second); !strings.Contains(seen, text); {
		select {
		case s := <-c.shown:
			seen += s
		case <-late:
			require.Fail(c.t, "not shown", "%q; but %q", text, seen)
		}
	}
}

func (c *conversation) press(keys string) {
	c.t.Helper()
	_, err := c.file.WriteString(keys)
	require.NoError(c.t, err)
}

// last returns what the model says when it ends.
func (c *conversation) last() string {
	c.t.Helper()
	select {
	case told := <-c.told:
		return told
	case <-time.After(10 * time.Second):
		require.Fail(c.t, "it does not end")
		return ""
	}
}

// TestTheTerminalIsAsked, and its answers come mixed with keys, all of which arrive.
func TestTheTerminalIsAsked(t *testing.T) {
	t.Setenv("TERM", "xterm-256color")
	t.Setenv("TERM_PROGRAM", "")
	c := converse(t)
	c.until("\x1b[c")
	for _, piece := range []string{"a\x1b_Gi=31;O", "K\x1b\\\x1b[A\x1b[?6", "2;4cb\x1b[B"} {
		c.press(piece)
	}
	c.until("down>")
	c.press("q")
	told := c.last()
	assert.Contains(t, told, "<answers><kitty>")
	assert.Equal(t, "<a><up><b><down><q>", strings.Replace(told, "<answers><kitty>", "", 1))
}

// TestTheTerminalDoesNotAnswer: keys still arrive, Escape among them.
func TestTheTerminalDoesNotAnswer(t *testing.T) {
	t.Setenv("TERM", "xterm-256color")
	t.Setenv("TERM_PROGRAM", "")
	c := converse(t)
	c.until("\x1b[c")
	c.press("\x1b")
	c.until("esc>")
	c.press("q")
	assert.Equal(t, "<esc><q>", c.last())
}

// TestADumbTerminalIsNotAsked anything.
func TestADumbTerminalIsNotAsked(t *testing.T) {
	t.Setenv("TERM", "dumb")
	c := converse(t)
	c.until("told")
	c.press("q")
	assert.Equal(t, "<q>", c.last())
}
