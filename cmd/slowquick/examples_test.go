package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// notRun are examples of which only the words are judged, and why they aren't carried out.
var notRun = map[string]string{
	"slowquick lantern-night.md --tempo": "it dances for minutes",
	"slowquick dance":                    "it dances for minutes",
	"slowquick timing":                   "somebody taps",
	"slowquick sync":                     "somebody taps",
	"slowquick make":                     "somebody types",
	"slowquick diary merge /media":       "there is no stick",
	"slowquick listen --dance waltz":     "nothing here writes Ogg Vorbis",
	"slowquick write playalong lantern-night.md -o small.html": "it needs a program that packs sound",
}

// TestExamplesCanBeTyped: each example of the help is carried out where what it names is there, and does what it is
// to do.
func TestExamplesCanBeTyped(t *testing.T) {
	t.Parallel()
	hall := t.TempDir()
	in := func(name string) string { return filepath.Join(hall, name) }
	for _, folder := range []string{"sheets", "music"} {
		require.NoError(t, os.Mkdir(in(folder), 0o700))
	}
	sheet, _ := told(t, exitOK, "tidy", "--print", "lantern-night-cha-cha")
	for _, name := range []string{"lantern-night.md", "notes.md", "sheets/lantern-night.md"} {
		require.NoError(t, os.WriteFile(in(name), []byte(sheet), 0o600))
	}
	for _, line := range []string{
		"slowquick write wav lantern-night-rumba -o song.flac --figures 1", "slowquick write wav lantern-night-rumba -o music/song.flac --figures 1",
		"slowquick class 'Lantern Night' --had lantern-night-rumba",
	} {
		require.Equal(t, exitOK, carriedOut(t, hall, line), line)
	}
	seen := 0
	for _, line := range examples() {
		seen++
		t.Run(line, func(t *testing.T) {
			t.Parallel()
			for begins, why := range notRun {
				if strings.HasPrefix(line, begins) && !strings.Contains(line, "--list") {
					canBeMeant(t, line)
					t.Skip(why)
				}
			}
			dir := t.TempDir()
			require.NoError(t, os.CopyFS(dir, os.DirFS(hall)))
			assert.Equal(t, exitOK, carriedOut(t, dir, line))
		})
	}
	assert.Greater(t, seen, 60)
}

// examples returns the examples of all commands and topics.
func examples() (lines []string) {
	var out, errs strings.Builder
	a := printsOn(&out, &errs)
	a.eachCommand(a.root(), func(cmd *cobra.Command) {
		text := cmd.Example
		if !cmd.Runnable() { // a topic
			text = cmd.Long
		}
		for line := range strings.Lines(text) {
			if words, ok := strings.CutPrefix(line, "  "); ok && strings.HasPrefix(strings.TrimSpace(words), "slowquick") {
				lines = append(lines, strings.TrimSpace(line))
			}
		}
	})
	return lines
}

// split returns the words of a line, and the files that standard input and output are, as a shell would.
func split(line string) (words []string, in, out string) {
	quoted := false
	parts := strings.FieldsFunc(line, func(r rune) bool {
		if r == '\'' {
			quoted = !quoted
		}
		return r == ' ' && !quoted
	})
	for i := 0; i < len(parts); i++ {
		switch parts[i] {
		case "<":
			i++
			in = parts[i]
		case ">":
			i++
			out = parts[i]
		default:
			words = append(words, strings.ReplaceAll(parts[i], "'", ""))
		}
	}
	return words[1:], in, out
}

// carriedOut carries a line out in a folder, and returns the exit code.
func carriedOut(t *testing.T, dir, line string) int {
	t.Helper()
	words, in, out := split(line)
	cmd := inFolder(dir, words...)
	cmd.Env = append(cmd.Env, "XDG_DATA_HOME="+dir+"/data", "XDG_CACHE_HOME="+dir+"/cache")
	var errs strings.Builder
	cmd.Stderr = &errs
	if in != "" {
		file, err := os.Open(filepath.Join(dir, in))
		require.NoError(t, err)
		defer file.Close()
		cmd.Stdin = file
	}
	if out != "" {
		file, err := os.Create(filepath.Join(dir, out))
		require.NoError(t, err)
		defer file.Close()
		cmd.Stdout = file
	}
	_ = cmd.Run() // its code tells
	t.Log(errs.String())
	return cmd.ProcessState.ExitCode()
}

// canBeMeant asserts that a line's command takes its flags and arguments.
func canBeMeant(t *testing.T, line string) {
	t.Helper()
	var out, errs strings.Builder
	a := printsOn(&out, &errs)
	root := a.root()
	words, _, _ := split(line)
	cmd, rest, err := root.Find(words)
	if cmd == root { // it names a sheet
		cmd, rest, err = root.Find(append([]string{"dance"}, words...))
	}
	require.NoError(t, err)
	require.NoError(t, cmd.ParseFlags(rest))
	require.NoError(t, cmd.ValidateArgs(cmd.Flags().Args()))
}
