//go:build unix

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// TestFoldersAreReadAsTheyAreNamed, even if a name is a pattern, or a malformed one.
func TestFoldersAreReadAsTheyAreNamed(t *testing.T) {
	for _, name := range []string{"sheets [2026]", "sheets [", "sheets *", `sheets \`, "sheets ?"} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), name)
			require.NoError(t, os.Mkdir(dir, 0o700))
			require.NoError(t, os.WriteFile(filepath.Join(dir, "jetty.md"), []byte(jetty), 0o600))
			out, _ := told(t, exitOK, "__complete", "check", dir+"/je")
			assert.Contains(t, out, dir+"/jetty.md\n")
			_, errOut := told(t, exitFailed, "check", dir+"/jety.md")
			assert.Contains(t, errOut, "hint: perhaps "+dir+"/jetty.md")
			t.Chdir(dir)
			out, _ = told(t, exitOK)
			assert.Contains(t, out, "jetty.md\tcha-cha\tJetty\n")
			out, _ = told(t, exitOK, "__complete", "check", "je")
			assert.Contains(t, out, "jetty.md\n")
		})
	}
}

// TestAllSheetsOfAFolderAreListed, however many there are.
func TestAllSheetsOfAFolderAreListed(t *testing.T) {
	t.Chdir(t.TempDir())
	for i := range 700 {
		require.NoError(t, os.WriteFile(fmt.Sprintf("evening %03d.md", i), []byte(jetty), 0o600))
	}
	out, _ := told(t, exitOK)
	assert.Equal(t, 700, strings.Count(out, "\tJetty\n"))
}

// TestPipesInFoldersAreNotWaitedFor, as nobody may ever write to them.
func TestPipesInFoldersAreNotWaitedFor(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	in := func(path string) string { return filepath.Join(dir, path) }
	for _, folder := range []string{"own", "sheets", "state/slowquick", "config/slowquick"} {
		require.NoError(t, os.MkdirAll(in(folder), 0o700))
	}
	pipes := []string{"fifo.md", "own/fifo.md", "sheets/fifo.md", "state/slowquick/diary.db", "config/slowquick/levels.json", "config/slowquick/choices.json"}
	for _, pipe := range pipes {
		require.NoError(t, syscall.Mkfifo(in(pipe), 0o600))
	}
	require.NoError(t, os.Symlink("fifo.md", in("linked.md")))
	require.NoError(t, os.WriteFile(in("jetty.md"), []byte(jetty), 0o600))
	require.NoError(t, os.WriteFile(in("sheets/jetty.md"), []byte(jetty), 0o600))
	for name, test := range map[string]struct {
		args      []string
		code      int
		want, err string
	}{
		"list":     {nil, exitOK, "jetty.md\tcha-cha\tJetty\n", ""},
		"complete": {[]string{"__complete", "check", ""}, exitOK, "jetty.md\n", ""},
		"book":     {[]string{"write", "handout", "sheets", "-o", "-"}, exitOK, "Jetty", ""},
		"own":      {[]string{"figures", "--library", "own", "--dance", "waltz"}, exitOK, "Natural turn", "read fifo.md: it is not a regular file"},
		"diary":    {[]string{"diary"}, exitFailed, "", "read the diary: read " + dir + "/state/slowquick/diary.db: it is not a regular file"},
		"levels":   {[]string{"dance", "jetty.md", "--silent", "--tempo", "200 %"}, exitOK, "Closed basic", "levels.json: it is not a regular file"},
		"plan":     {[]string{"practise", "--list", "jetty.md"}, exitOK, "Jetty", "diary.db: it is not a regular file"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			cmd := inFolder(dir, test.args...)
			var out, errOut strings.Builder
			cmd.Stdout, cmd.Stderr = &out, &errOut
			require.NoError(t, cmd.Start())
			patience := time.AfterFunc(time.Minute, func() { _ = cmd.Process.Kill() })
			defer patience.Stop()
			_ = cmd.Wait() // its code tells
			assert.Equal(t, test.code, cmd.ProcessState.ExitCode(), errOut.String())
			assert.Contains(t, out.String(), test.want)
			assert.Contains(t, errOut.String(), test.err)
		})
	}
}

// TestAnEndlessSheetIsTooLarge, and no more of it is read than it takes to know.
func TestAnEndlessSheetIsTooLarge(t *testing.T) {
	out, _ := told(t, exitFindings, "check", "/dev/zero")
	assert.Contains(t, out, "[too-large]")
	text, err := store.ReadUpTo("/dev/zero", sheets.Largest)
	require.NoError(t, err)
	assert.Len(t, text, routine.LargestSheet+1)
}

// TestASheetFromAPipe is read, but has no file that could be changed.
func TestASheetFromAPipe(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	for _, args := range [][]string{{"tidy", pipe}, {"tidy", "--print", pipe}} {
		written := make(chan error, 1)
		go func() { written <- os.WriteFile(pipe, []byte(strings.Replace(boathouse, "×", "x", 1)), 0o600) }()
		out, _ := told(t, exitOK, args...)
		require.NoError(t, <-written)
		assert.Equal(t, boathouse, out)
		info, err := os.Stat(pipe)
		require.NoError(t, err)
		assert.Equal(t, os.ModeNamedPipe, info.Mode().Type())
	}
}
