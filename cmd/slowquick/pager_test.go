//go:build unix

package main

import (
	"testing"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pages starts the program on a terminal with a pager, and returns all that is shown until it ends.
func pages(t *testing.T, pager string, args ...string) string {
	t.Helper()
	dir := t.TempDir()
	cmd := inFolder(dir, args...)
	cmd.Env = append(cmd.Env, "PAGER="+pager, "LANG=C.UTF-8")
	file, err := pty.StartWithSize(cmd, smallest)
	require.NoError(t, err)
	term := watched(t, cmd, file)
	require.NoError(t, cmd.Wait())
	for text := range term.drawn {
		term.all.WriteString(text)
	}
	return term.all.String()
}

// TestLongPagesAreTurned with the dancer's pager, and short ones are just printed. What belongs after an answer
// comes after it.
func TestLongPagesAreTurned(t *testing.T) {
	t.Parallel()
	const pager = "sed 's/^/turned: /'"
	for _, args := range [][]string{{"figures", "--dance", "waltz"}, {"help", "sheet"}, {"dance", "--help"}, {"explain"}, {"words", "steps"}} {
		shown := pages(t, pager, args...)
		assert.Regexp(t, "(?s)^turned: .*(\r\nturned: .*){24}", shown, args)
	}
	assert.Regexp(t, `(?s)^turned: .*\r\nslowquick: hint: slowquick figure NAME shows how a figure starts and ends\r\n$`, pages(t, pager, "figures", "--dance", "waltz"))
	for _, args := range [][]string{{"settings", "paper"}, {"--version"}, {"words", "--json"}, {"write", "timeline", "--schema"}} {
		assert.NotContains(t, pages(t, pager, args...), "turned: ", args)
	}
}

// TestWithoutAPager, or with one that isn't there, pages are printed.
func TestWithoutAPager(t *testing.T) {
	t.Parallel()
	for _, pager := range []string{"", "nobody-has-this-pager 2>/dev/null"} {
		shown := pages(t, pager, "help", "sheet")
		assert.Contains(t, shown, "A sheet is a plain text file", pager)
	}
	assert.Contains(t, pages(t, "head -1", "figures"), "DANCE", "the reader has had enough")
}
