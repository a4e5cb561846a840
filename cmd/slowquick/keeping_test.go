package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPlainKeepsADiary of what was heard to its end, as the screen does: danced, but judged by nobody.
func TestPlainKeepsADiary(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	run := func(args ...string) (out, errOut string) {
		var o, e strings.Builder
		cmd := inFolder(dir, args...)
		cmd.Stdout, cmd.Stderr = &o, &e
		require.NoError(t, cmd.Run(), &e)
		return o.String(), e.String()
	}
	sheet := filepath.Join(dir, "jetty.md")
	require.NoError(t, os.WriteFile(sheet, []byte("---\ndance: cha-cha\ntitle: Jetty\ntempo: 40 bars/min\n---\n\n## Order\n\n1. Closed basic\n"), 0o600))
	_, errOut := run("dance", "--plain", "--silent", "--lead-in", "0", "--tempo", "200 %", "--partner", "follower", sheet)
	assert.NotContains(t, errOut, "kept")
	out, _ := run("diary", "--csv")
	assert.Regexp(t, `(?m)^1,[^,]+,Cha-cha,Jetty,Closed basic,follower,320,[0-9.]+,true,,,$`, out)

	require.NoError(t, os.RemoveAll(filepath.Join(dir, "state", "slowquick")))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "state", "slowquick"), nil, 0o600))
	_, errOut = run("dance", "--plain", "--silent", "--lead-in", "0", "--tempo", "200 %", sheet)
	assert.Contains(t, errOut, "slowquick: warning: nothing is being kept in the diary")
}
