//go:build unix

package main

import (
	"os/exec"
	"syscall"
	"testing"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const crashSignal = syscall.SIGUSR1

// TestAPanicLeavesTheTerminalAsItWas, and is printed there, even if something else would wait for ever.
func TestAPanicLeavesTheTerminalAsItWas(t *testing.T) {
	for _, where := range []string{"goroutine", "hangs"} {
		t.Run(where, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			require.NoError(t, keepIn(dir+"/config", "choices", `{"cautions seen": 1}`))
			cmd := inFolder(dir, "crash", where, "lantern-night-waltz")
			cmd.Args[0] = "crash" // testscript.Main runs crashOnSignal by this name
			file, err := pty.StartWithSize(cmd, smallest)
			require.NoError(t, err)
			term := watched(t, cmd, file)
			term.until("HOLDING")
			require.NoError(t, cmd.Process.Signal(crashSignal))
			term.until("\x1b[?1049l")
			term.until("panic: an oar slips")
			term.until("oarSlips(")
			var exit *exec.ExitError
			require.ErrorAs(t, term.ends(), &exit)
			assert.Equal(t, exitFailed, exit.ExitCode())
		})
	}
}
