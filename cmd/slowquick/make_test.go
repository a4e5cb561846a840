//go:build unix

package main

import (
	"bufio"
	"fmt"
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
