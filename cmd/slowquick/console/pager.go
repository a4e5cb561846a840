package console

import (
	"bytes"
	"os"
	"os/exec"
	"os/signal"
	"strings"

	xterm "github.com/charmbracelet/x/term"
)

// HoldPages holds back what is printed from now on, for [Console.ShowPages], if that can be read on a terminal with a
// pager.
func (c *Console) HoldPages() {
	if c.AtTerminal() && os.Getenv("TERM") != "dumb" && pager() != "" {
		c.Out.hold()
	}
}

// ShowPages prints what was held back, through the pager if it is longer than the terminal, and then what belongs
// after it.
func (c *Console) ShowPages() {
	if !c.Out.holds() {
		return
	}
	text := c.Out.release()
	screen := c.Out.Raw.(*os.File) // a terminal, as something was held back
	if _, height, err := xterm.GetSize(screen.Fd()); err != nil || bytes.Count(text, []byte("\n")) < height || !c.turned(text, screen) {
		_ = c.Out.write(text) // the output keeps its error
	}
	for _, line := range c.after {
		c.add(line)
	}
	c.after = nil
}

// turned shows a text in the pager until that ends. It returns false if there was none.
func (c *Console) turned(text []byte, screen *os.File) bool {
	cmd := exec.Command("sh", "-c", pager())
	cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(text), screen, screen
	cmd.Env = os.Environ()
	if _, set := os.LookupEnv("LESS"); !set {
		cmd.Env = append(cmd.Env, "LESS=FRX") // common practice: it ends by itself, and leaves what it showed
	}
	// Ctrl+C is the pager's while it has the keyboard.
	interrupts := make(chan os.Signal, 1)
	signal.Notify(interrupts, os.Interrupt)
	defer signal.Stop(interrupts)
	if cmd.Start() != nil {
		return false
	}
	_ = cmd.Wait() // the reader may have had enough
	return cmd.ProcessState.ExitCode() != notFound
}

// notFound is the exit code of a shell that finds no such program.
//
// Source: POSIX.1-2017, Shell Command Language, 2.8.2.
const notFound = 127

// pager returns the command that shows pages, or "" for none: less, unless PAGER names another.
//
// Source: POSIX.1-2017, man: PAGER is a command for sh -c.
func pager() string {
	if command, set := os.LookupEnv("PAGER"); set {
		return strings.TrimSpace(command)
	}
	if _, err := exec.LookPath("less"); err != nil {
		return ""
	}
	return "less"
}
