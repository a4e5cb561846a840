//go:build unix

package main

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/draft"
)

// TestAKilledMakerKeepsTheRoutine: whatever was answered before the program is killed is kept; at most the
// last command is lost.
func TestAKilledMakerKeepsTheRoutine(t *testing.T) {
	if testing.Short() {
		t.Skip("many programs are started")
	}
	for i := range kills(t, 3) {
		dir := t.TempDir()
		cmd := inFolder(dir, "make", "waltz", "--plain")
		cmd.Env = append(cmd.Env, "TMPDIR="+dir)
		in, err := cmd.StdinPipe()
		require.NoError(t, err)
		out, err := cmd.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, cmd.Start())
		answers := bufio.NewScanner(out)
		answered := 1 + i%5
		for n := range answered {
			_, err := fmt.Fprintf(in, "add Box step — number %d\n", n)
			require.NoError(t, err)
			for answers.Scan() && !strings.Contains(answers.Text(), "to the phrase") && !strings.HasSuffix(answers.Text(), "phrase.") {
			}
		}
		_, err = fmt.Fprintln(in, "add Box step — the last")
		require.NoError(t, err)
		require.NoError(t, cmd.Process.Kill())
		_ = cmd.Wait() // it was killed
		kept := draft.AllKept([]string{filepath.Join(dir, "state", "slowquick", "drafts")})
		require.Len(t, kept, 1)
		for n := range answered {
			assert.Contains(t, kept[0].Text, fmt.Sprintf("Box step — number %d\n", n))
		}
	}
}

// TestARoutineIsMadeSavedCheckedAndDanced from nothing, in at most 40 key presses.
func TestARoutineIsMadeSavedCheckedAndDanced(t *testing.T) {
	for file, made := range map[string]struct {
		steps [][2]string // what is pressed, and what is shown then
		order string
	}{
		"my-rumba.md": {[][2]string{
			{"", "choose a sheet"}, {"n", "choose a dance"}, {"rum\r", "How it begins"}, {"\r", "What can follow Closed basic"}, {"+", "4 bars"},
			{"forw\r", "5 bars"}, {"fan\r", "6 bars"}, {"hock\r", "8 bars"}, {"new\r", "9 bars"}, {"spot\r", "10 bars"}, {"\r", "12 bars"}, {"++", "16 bars"},
			{"\x13", "Save as"}, {"\r", "aved as my-rumba.md"}, {" ", "LEAD-IN"},
		}, "1. Closed basic × 2\n2. Forward half of the closed basic\n3. Fan\n4. Hockey stick\n5. New York to the left side\n6. Spot turn to the left\n7. Closed basic × 3\n"},
		"my-waltz.md": {[][2]string{
			{"", "choose a sheet"}, {"n", "choose a dance"}, {"wal\r", "The hall"}, {"9x6\r", "How it begins"},
			{"nat\r", "2 bars"}, {"rf\r", "3 bars"}, {"rev\r", "5 bars"}, {"lf\r", "6 bars"}, {"nat\r", "8 bars"},
			{"\tc", "corner ·"}, {"\trf\r", "9 bars"}, {"\x13", "Save as"}, {"\r", "aved as my-waltz.md"}, {" ", "LEAD-IN"},
		}, "1. Natural turn\n2. RF closed change\n3. Reverse turn\n4. LF closed change\n5. Natural turn\n   - corner: after\n6. RF closed change\n"},
	} {
		t.Run(file, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			term, pressed := onTerminal(t, dir), 0
			for _, step := range made.steps {
				term.press(step[0])
				term.until(step[1])
				pressed += len(step[0])
			}
			assert.LessOrEqual(t, pressed, 40)
			term.leave()
			require.NoError(t, term.ends())
			text, err := os.ReadFile(filepath.Join(dir, file))
			require.NoError(t, err)
			assert.Contains(t, string(text), "## Order\n\n"+made.order)
			out, err := inFolder(dir, "check", file).CombinedOutput()
			assert.NoError(t, err, "%s", out)
		})
	}
}
