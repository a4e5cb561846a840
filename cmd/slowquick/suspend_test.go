//go:build unix

package main

import (
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCtrlZ stops the dance and gives the terminal back to the shell, and fg goes on with it held.
func TestCtrlZ(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("sh"); err != nil {
		t.Skip("there is no shell")
	}
	dir := t.TempDir()
	require.NoError(t, keepIn(filepath.Join(dir, "config"), "choices", `{"cautions seen": 1}`))
	program, err := exec.LookPath("slowquick") // as testscript.Main installs it
	require.NoError(t, err)
	dance := inFolder(dir)
	cmd := exec.Command("/bin/sh", "-c", `set -m; "$0" dance lantern-night-waltz --silent; echo it is stopped; stty -a; fg; echo it has ended`, program)
	cmd.Dir, cmd.Env = dir, append(dance.Env, "PULSE_SERVER=unix:"+dir+"/none")
	file, err := pty.StartWithSize(cmd, smallest)
	require.NoError(t, err)
	term := watched(t, cmd, file)
	term.until("HOLDING")
	term.press(" ")
	term.until("DANCING")
	term.press("\x1a")
	term.until("\x1b[?1049l") // the screen before
	term.until("it is stopped")
	term.until(" icanon")
	term.until("\x1b[?1049h")
	term.until("HOLDING")
	term.press("q")
	term.until("\x1b[?1049l")
	term.until("it has ended")
	assert.NoError(t, term.ends())
}

// TestStoppedFromOutside: the dance is held, and the screen comes back.
func TestStoppedFromOutside(t *testing.T) {
	t.Parallel()
	for _, signal := range []syscall.Signal{syscall.SIGTSTP, syscall.SIGSTOP} {
		t.Run(signal.String(), func(t *testing.T) {
			term := onTerminal(t, t.TempDir(), "dance", "lantern-night-waltz", "--silent")
			term.until("HOLDING")
			term.press(" ")
			term.until("DANCING")
			require.NoError(t, term.cmd.Process.Signal(signal))
			if signal == syscall.SIGTSTP {
				term.until("\x1b[?1049l") // what can't be caught leaves the screen
			}
			var status syscall.WaitStatus
			_, err := syscall.Wait4(term.cmd.Process.Pid, &status, syscall.WUNTRACED, nil)
			require.NoError(t, err)
			require.True(t, status.Stopped())
			require.NoError(t, term.cmd.Process.Signal(syscall.SIGCONT))
			term.until("\x1b[?1049h")
			term.until("HOLDING")
			term.press("q")
			term.until("\x1b[?1049l")
			assert.NoError(t, term.ends())
		})
	}
}

// TestNobodyToGoOn: without a shell to return to, ctrl+z stops nothing.
func TestNobodyToGoOn(t *testing.T) {
	t.Parallel()
	term := onTerminal(t, t.TempDir(), "dance", "lantern-night-waltz", "--silent")
	term.until("HOLDING")
	term.press("\x1a")
	term.press(" ")
	term.until("DANCING")
	term.leave()
	assert.NoError(t, term.ends())
}
