//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// obeyed is a name with all kinds of what a terminal obeys: ESC, BEL, C1, DEL, a line's
// end and letters that turn the reading round.
const obeyed = "lantern\x1b]0;night\x07\u009b31m\x7f\u202e\u2066\nslowquick: error: x.md"

// assertHarmless finds nothing in a text that a terminal obeys, and no line of the name's.
func assertHarmless(t *testing.T, text string) {
	t.Helper()
	for _, r := range text {
		assert.False(t, r != '\n' && r != '\t' && routine.UnsafeRune(r), "%U in %q", r, text)
	}
	assert.NotRegexp(t, "(?m)^slowquick: error: x", text)
}

// TestNamesOfFilesAreNoCommands wherever they are printed.
func TestNamesOfFilesAreNoCommands(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	stateIn(t, filepath.Join(dir, "state"))
	own := filepath.Join(dir, "own")
	require.NoError(t, os.Mkdir(own, 0o700))
	put := func(path, text string) { require.NoError(t, os.WriteFile(path, []byte(text), 0o600)) }
	put(obeyed, strings.Replace(boathouse, "32", "20", 1))
	put("fast "+obeyed, strings.Replace(boathouse, "32 bars/min", "200 %", 1)+"2. Jetty\n")
	put("untidy "+obeyed, strings.Replace(boathouse, "× 2", "x 2", 1))
	put(filepath.Join(own, obeyed), "---\ndance: cha-cha\n---\n\n## Jetty walk\n\n| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF forward | RF back |\n")
	put(filepath.Join(own, "wrong "+obeyed), "---\ndance: cha-cha\n---\n\n## Jetty run\n\n| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF hop | RF hop |\n")
	for _, args := range [][]string{
		{"check", obeyed}, {"check", "none " + obeyed}, {"check", "--json", obeyed}, {"check", "fast " + obeyed},
		{"tidy", "fast " + obeyed}, {"tidy", "--list", "untidy " + obeyed}, {"tidy", "untidy " + obeyed},
		{"dance", "fast " + obeyed}, {"practise", "--list", "fast " + obeyed}, {"practise", "--list", "--by", obeyed, obeyed},
		{"write", "handout", obeyed, "-o", obeyed}, {"write", "all", "fast " + obeyed, "-o", "class"},
		{"figures", "--library", own, "jetty"}, {"figures", obeyed}, {"figure", obeyed}, {}, {"listen", obeyed}, {"sync", "--forget", obeyed},
		{obeyed, "--tempo", "200 bars/min"}, {"help", obeyed}, {"--" + obeyed}, {"-" + obeyed}, {"dance", "--side", obeyed, obeyed}, {"explain", obeyed},
		{"new", obeyed}, {"new", obeyed, "--metre", "4/4"}, {"new", "rumba", "-o", obeyed}, {"words", obeyed},
		{"__complete", "check", ""}, {"__complete", obeyed, ""}, {"completion", obeyed}, {"write", obeyed},
	} {
		var out, errOut bytes.Buffer
		run(args, strings.NewReader(""), &out, &errOut)
		require.NotEmpty(t, out.String()+errOut.String(), args)
		assertHarmless(t, out.String())
		assertHarmless(t, errOut.String())
	}
}

// TestJSONSaysTheSameName: the name comes out of the JSON unchanged, though none of it reaches the terminal
// as a command.
func TestJSONSaysTheSameName(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile(obeyed, []byte(boathouse), 0o600))
	out, _ := told(t, exitOK, "check", "--json", obeyed)
	assertHarmless(t, out)
	var reports []fileFindings
	require.NoError(t, json.Unmarshal([]byte(out), &reports))
	require.Len(t, reports, 1)
	assert.Equal(t, obeyed, reports[0].File)
}

// full is an output on which there is no room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

// TestWhatCanNotBePrintedFails the command, whatever it prints.
func TestWhatCanNotBePrintedFails(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	stateIn(t, filepath.Join(dir, "state"))
	keepAnEvening(t, filepath.Join(dir, "state"), time.Now())
	require.NoError(t, os.WriteFile("bad.md", []byte(strings.Replace(boathouse, "32", "20", 1)), 0o600))
	for _, args := range [][]string{
		{}, {"help"}, {"help", "check"}, {"check", "--help"}, {"figures"}, {"figures", "--json"}, {"figures", "--dance", "rumba", "--after", "fan"},
		{"figure", "natural turn"}, {"link", "--dance", "rumba", "fan", "alemana"}, {"completion", "bash"}, {"completion", "zsh"}, {"explain"}, {"explain", "tempo-range"},
		{"explain", "--schema"}, {"check", "--schema"}, {"words"}, {"words", "--json"}, {"new", "rumba"},
		{"diary"}, {"diary", "--csv"}, {"diary", "--json"}, {"check", "bad.md"}, {"check", "--json", "bad.md"}, {"tidy", "--print", "bad.md"},
		{"practise", "--list", "lantern-night-waltz"}, {"compose", "--dance", "waltz"}, {"write", "handout", "lantern-night-waltz", "-o", "-"},
		{"write", "timeline", "--schema"}, {"dance", "--silent", "lantern-night-waltz"},
	} {
		var errOut bytes.Buffer
		assert.Equal(t, exitFailed, run(args, strings.NewReader(""), full{}, &errOut), "%s: %s", args, errOut.String())
		assert.Contains(t, errOut.String(), "no space left on device", args)
	}
}
