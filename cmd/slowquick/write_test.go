//go:build unix

package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// writers are all that write a file, by its name.
var writers = map[string][]string{
	"handout.html":  {"handout"},
	"handout.md":    {"handout"},
	"handout.pdf":   {"handout"},
	"handout.txt":   {"handout"},
	"cards.pdf":     {"cards", "--per-page", "8"},
	"play.html":     {"playalong", "--figures", "2"},
	"track.wav":     {"wav", "--rhythm", "--figures", "2-4"},
	"track.flac":    {"wav", "--figures", "2"},
	"track.mid":     {"midi"},
	"counts.vtt":    {"captions"},
	"steps.srt":     {"captions", "--of", "steps"},
	"timeline.json": {"timeline"},
	"charts.csv":    {"table"},
	"practice.ics":  {"calendar", "--until", "2026-12-18", "--from", "2026-11-27"},
	"plan.svg":      {"plan"},
	"plan.png":      {"plan", "--width", "400"},
}

// made is the time at which a calendar was made, which differs.
var made = regexp.MustCompile(`DTSTAMP:\w+`)

// command is the program in a folder, with arguments.
func command(dir string, args ...string) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Args = append([]string{"slowquick"}, args...) // testscript.Main runs main by this name
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "HOME="+dir, "XDG_DATA_HOME="+dir, "XDG_CONFIG_HOME="+dir)
	return cmd
}

// kills is how often a writer is killed: WRITER_KILLS, or so often as is usual.
func kills(t *testing.T, usual int) int {
	t.Helper()
	text := os.Getenv("WRITER_KILLS")
	if text == "" {
		return usual
	}
	n, err := strconv.Atoi(text)
	require.NoError(t, err)
	return n
}

// killed runs a command and kills it (SIGKILL, which nothing can catch) after a while;
// it tells whether it still ran.
func killed(t *testing.T, cmd *exec.Cmd, after time.Duration) bool {
	t.Helper()
	require.NoError(t, cmd.Start())
	timer := time.AfterFunc(after, func() { _ = cmd.Process.Kill() }) // it may have ended
	defer timer.Stop()
	err := cmd.Wait()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		status := exit.Sys().(syscall.WaitStatus)
		require.True(t, status.Signaled(), "the command fails: %v", err)
		return true
	}
	require.NoError(t, err)
	return false
}

// TestAKilledWriterLeavesNoHalfFile kills each writer again and again, at moments from its start to its
// end. The file asked for is always the old one or all of the new one.
func TestAKilledWriterLeavesNoHalfFile(t *testing.T) {
	if testing.Short() {
		t.Skip("many programs are started")
	}
	kills, hit := kills(t, 2), 0 // of each, of all
	for name, args := range writers {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, name)
			args := append([]string{"write", args[0], "lantern-night-cha-cha", "-o", name, "--force"}, args[1:]...)
			began := time.Now()
			require.NoError(t, command(dir, args...).Run())
			whole := time.Since(began)
			want, err := os.ReadFile(path)
			require.NoError(t, err)
			for i := range kills {
				before := []byte("what was there before")
				if i%2 == 0 {
					before = nil
					require.NoError(t, os.Remove(path))
				} else {
					require.NoError(t, os.WriteFile(path, before, 0o600))
				}
				if killed(t, command(dir, args...), whole*time.Duration(i+1)/time.Duration(kills)) {
					hit++
				}
				got, err := os.ReadFile(path)
				switch {
				case before == nil && errors.Is(err, fs.ErrNotExist):
					require.NoError(t, os.WriteFile(path, nil, 0o600)) // to be removed
				case bytes.Equal(got, before):
				default:
					require.NoError(t, err)
					require.Equal(t, made.ReplaceAll(want, nil), made.ReplaceAll(got, nil), "after %v", whole*time.Duration(i+1)/time.Duration(kills))
				}
			}
		})
	}
	assert.Greater(t, hit, len(writers)*kills/4, "most were killed while they ran")
}

// TestAKilledWriterLeavesNoHalfFolder: a class's folder appears all at once.
func TestAKilledWriterLeavesNoHalfFolder(t *testing.T) {
	if testing.Short() {
		t.Skip("many programs are started")
	}
	kills := kills(t, 6)
	dir := t.TempDir()
	args := []string{"write", "all", "lantern-night-cha-cha", "-o", "class", "--figures", "2-3"}
	began := time.Now()
	require.NoError(t, command(dir, args...).Run())
	whole := time.Since(began)
	want, err := filepath.Glob(filepath.Join(dir, "class", "*"))
	require.NoError(t, err)
	require.Len(t, want, 21)
	hit, absent := 0, 0
	for i := range kills {
		require.NoError(t, os.RemoveAll(filepath.Join(dir, "class")))
		if killed(t, command(dir, args...), whole*time.Duration(i+1)/time.Duration(kills)) {
			hit++
		}
		got, err := filepath.Glob(filepath.Join(dir, "class", "*"))
		require.NoError(t, err)
		if len(got) == 0 {
			absent++
			continue
		}
		require.Equal(t, want, got)
		index, err := os.ReadFile(filepath.Join(dir, "class", "index.html"))
		require.NoError(t, err)
		require.True(t, strings.HasSuffix(string(index), "</html>\n"))
	}
	assert.Positive(t, hit)
	assert.Positive(t, absent)
}

// TestSoundIsNotSentToATerminal, nor are the bytes of a MIDI file; text is.
func TestSoundIsNotSentToATerminal(t *testing.T) {
	t.Parallel()
	for _, kind := range []string{"wav", "midi"} {
		term := onTerminal(t, t.TempDir(), "write", kind, "lantern-night-cha-cha", "-o", "-")
		term.until("is not for a terminal")
		term.until("hint: -o FILE.")
		var exit *exec.ExitError
		require.ErrorAs(t, term.ends(), &exit, kind)
		assert.Equal(t, exitUsage, exit.ExitCode(), kind)
	}
	term := onTerminal(t, t.TempDir(), "write", "captions", "lantern-night-cha-cha", "-o", "-")
	term.until("WEBVTT")
	require.NoError(t, term.ends())
}

// TestATerminalIsAskedBeforeAFileIsWrittenOver: the file stays after a no, or anything that isn't an
// answer.
func TestATerminalIsAskedBeforeAFileIsWrittenOver(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		answer  string
		written bool
	}{{"n\r", false}, {"\r", false}, {"perhaps\r", false}, {"y\r", true}, {"YES\r", true}} {
		dir := t.TempDir()
		path := filepath.Join(dir, "counts.vtt")
		require.NoError(t, os.WriteFile(path, []byte("before"), 0o600))
		term := onTerminal(t, dir, "write", "captions", "lantern-night-cha-cha", "-o", "counts.vtt")
		term.until("counts.vtt exists. Overwrite it? [y/N] ")
		term.press(c.answer)
		err := term.ends()
		text, readErr := os.ReadFile(path)
		require.NoError(t, readErr)
		if c.written {
			assert.NoError(t, err)
			assert.Contains(t, string(text), "WEBVTT")
			continue
		}
		assert.Error(t, err)
		assert.Equal(t, "before", string(text))
	}
}

// TestASignalEndsAWriter, and leaves no file under the name.
func TestASignalEndsAWriter(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	term := onTerminal(t, dir, "write", "wav", "lantern-night-cha-cha", "-o", "long.flac", "--times", "40", "--tempo", "10 %")
	term.until("long.flac: ")
	term.until(" %")
	require.NoError(t, term.cmd.Process.Signal(os.Interrupt))
	assert.Error(t, term.ends())
	term.until("slowquick: stopped")
	left, err := filepath.Glob(filepath.Join(dir, "*.flac*"))
	require.NoError(t, err)
	assert.Empty(t, left)
}
