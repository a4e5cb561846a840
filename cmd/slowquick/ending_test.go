//go:build unix

package main

import (
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCtrlCEndsWhatWaits for an answer, for standard input, or for a pipe that nobody writes to.
func TestCtrlCEndsWhatWaits(t *testing.T) {
	heedHangUps()
	dir := t.TempDir()
	keepAnEvening(t, filepath.Join(dir, "state"), time.Now())
	pipes := []string{filepath.Join(dir, "one"), filepath.Join(dir, "other")}
	for _, pipe := range pipes {
		require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	}
	page := filepath.Join(dir, "page.html")
	require.NoError(t, os.WriteFile(page, []byte("page"), 0o600))
	for name, test := range map[string]struct {
		args   []string
		asked  string
		signal os.Signal // nil is the key
		pipe   string    // that it reads
	}{
		"forgetting":            {args: []string{"diary", "forget"}, asked: "[y/N] "},
		"forgetting, by kill":   {args: []string{"diary", "forget"}, asked: "[y/N] ", signal: syscall.SIGTERM},
		"forgetting, by window": {args: []string{"diary", "forget"}, asked: "[y/N] ", signal: syscall.SIGHUP},
		"writing over":          {args: []string{"write", "handout", "lantern-night-waltz", "-o", page}, asked: "[y/N] "},
		"check":                 {args: []string{"check", "-"}},
		"tidy":                  {args: []string{"tidy", "-"}},
		"dance":                 {args: []string{"dance", "-", "--silent"}},
		"practise":              {args: []string{"practise", "-", "--silent"}},
		"handout":               {args: []string{"write", "handout", "-", "-o", "-"}},
		"check a pipe":          {args: []string{"check", pipes[0]}, pipe: pipes[0]},
		"dance a pipe":          {args: []string{"dance", pipes[1], "--silent"}, pipe: pipes[1]},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			term := onTerminal(t, dir, test.args...)
			if test.asked != "" {
				term.until(test.asked)
			}
			term.press("echoed")
			term.until("echoed") // by the terminal
			if test.pipe != "" {
				writer, err := os.OpenFile(test.pipe, os.O_WRONLY, 0) // when it is read
				require.NoError(t, err)
				defer writer.Close()
			}
			if test.signal != nil {
				require.NoError(t, term.cmd.Process.Signal(test.signal))
			} else {
				term.press("\x03")
			}
			var exit *exec.ExitError
			require.ErrorAs(t, term.ends(), &exit)
			if status := exit.Sys().(syscall.WaitStatus); !status.Signaled() { // before it listens to signals
				assert.Equal(t, exitFailed, exit.ExitCode())
				term.until("slowquick: stopped")
			}
			text, err := os.ReadFile(page)
			require.NoError(t, err)
			assert.Equal(t, "page", string(text))
			out, err := inFolder(dir, "diary", "--csv").Output()
			require.NoError(t, err)
			assert.Len(t, strings.Split(strings.TrimSpace(string(out)), "\n"), 4, "a heading and three passes")
		})
	}
}

// heedHangUps has programs that are started end with their terminal, even if the tests run under nohup.
var heedHangUps = sync.OnceFunc(func() {
	if signal.Ignored(syscall.SIGHUP) {
		signal.Notify(make(chan os.Signal, 1), syscall.SIGHUP)
	}
})

// ends waits until the program has ended.
func (term *session) ends() error {
	term.t.Helper()
	ended := make(chan error, 1)
	go func() { ended <- term.cmd.Wait() }()
	select {
	case err := <-ended:
		return err
	case <-time.After(2 * time.Minute): // as long as for a text
		_ = term.cmd.Process.Kill()
		require.FailNow(term.t, "it goes on")
		return nil
	}
}

// TestTheSecondSignalEndsAtOnce even if nobody reads what is printed.
func TestTheSecondSignalEndsAtOnce(t *testing.T) {
	t.Parallel()
	cmd := inFolder(t.TempDir(), "figures", "--json")
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	_, err = io.ReadFull(out, make([]byte, 1)) // it prints, and then more than a pipe holds
	require.NoError(t, err)
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		_, _ = cmd.Process.Wait()
	}()
	again := time.NewTicker(100 * time.Millisecond)
	defer again.Stop()
	late := time.After(10 * time.Second)
	for {
		_ = cmd.Process.Signal(syscall.SIGTERM) // it may have ended
		select {
		case <-ended:
			return
		case <-again.C:
		case <-late:
			_ = cmd.Process.Kill()
			require.FailNow(t, "it goes on")
		}
	}
}

// TestAClosedWindowLosesNothing of what was danced and set.
func TestAClosedWindowLosesNothing(t *testing.T) {
	t.Parallel()
	heedHangUps()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "jetty.md"), []byte(jetty), 0o600))
	term := onTerminal(t, dir, "dance", "jetty.md", "--silent", "--lead-in", "0", "--tempo", "50 %")
	term.until("HOLDING")
	term.press("m" + left + left)
	term.until("50 %")
	term.press("m ")
	term.until("DANCING")
	term.press("1")
	term.until("Marked for the leader")
	require.NoError(t, term.file.Close())
	_ = term.ends() // what it still says reaches nobody

	kept, err := os.ReadFile(filepath.Join(dir, "config", "slowquick", "settings.txt"))
	require.NoError(t, err)
	assert.Contains(t, string(kept), "voice-level: 50 %\n")
	out, err := inFolder(dir, "diary", "--csv").Output()
	require.NoError(t, err)
	assert.Regexp(t, `Jetty,.*,false,,,Closed basic \(leader\)\n`, string(out))
}

// TestASignalLeavesNoTemporaryFile of a writer that was at work.
func TestASignalLeavesNoTemporaryFile(t *testing.T) {
	t.Parallel()
	heedHangUps()
	for _, signal := range []os.Signal{syscall.SIGHUP, syscall.SIGTERM, os.Interrupt} {
		dir := t.TempDir()
		long := strings.Replace(boathouse, "× 2", "× 99", 1)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "long.md"), []byte(long), 0o600))
		cmd := inFolder(dir, "write", "wav", "long.md", "-o", "long.wav", "--times", "20", "--aloud")
		require.NoError(t, cmd.Start())
		require.Eventually(t, func() bool {
			left, err := os.ReadDir(dir)
			return err == nil && len(left) > 1
		}, 10*time.Second, time.Millisecond)
		require.NoError(t, cmd.Process.Signal(signal))
		require.Error(t, cmd.Wait())
		left, err := os.ReadDir(dir)
		require.NoError(t, err)
		assert.Len(t, left, 1, "%s leaves %v", signal, left)
	}
}

// TestASignalThatIsIgnoredStaysSo, as under nohup.
func TestASignalThatIsIgnoredStaysSo(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "jetty.md"), []byte(jetty), 0o600))
	args := "dance jetty.md --silent --plain --tempo '200 %'"
	whole, err := inFolder(dir, "dance", "jetty.md", "--silent", "--plain", "--tempo", "200 %").Output()
	require.NoError(t, err)

	cmd := exec.Command("/bin/sh", "-c", `trap "" HUP INT; exec slowquick `+args)
	cmd.Dir, cmd.Env = dir, inFolder(dir).Env
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	first := make([]byte, 1)
	_, err = io.ReadFull(out, first) // it listens to signals
	require.NoError(t, err)
	require.NoError(t, cmd.Process.Signal(syscall.SIGHUP))
	require.NoError(t, cmd.Process.Signal(os.Interrupt))
	rest, err := io.ReadAll(out)
	require.NoError(t, err)
	require.NoError(t, cmd.Wait())
	danced := func(lines string) string { // a slow start may miss a count of the lead-in
		return lines[strings.Index(lines, "Closed basic"):]
	}
	assert.Equal(t, danced(string(whole)), danced(string(first)+string(rest)))
}
