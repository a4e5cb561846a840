//go:build unix

package store

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestWhatAKilledProgramLeftIsRemoved by the next program that writes there, and nothing else is.
func TestWhatAKilledProgramLeftIsRemoved(t *testing.T) {
	dir := t.TempDir()
	gone := exec.Command(os.Args[0], "-test.run=^$")
	require.NoError(t, gone.Run())
	left := fmt.Sprintf("%s%d-", temporaryPrefix(), gone.Process.Pid)
	running := fmt.Sprintf("%s%d-1", temporaryPrefix(), os.Getppid())
	elsewhere := fmt.Sprintf(".slowquick-another-%d-1", gone.Process.Pid)
	for _, name := range []string{left + "1", running, elsewhere, ".slowquick-notes", "page.html.usual"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), nil, 0o600))
	}
	require.NoError(t, os.MkdirAll(filepath.Join(dir, left+"2", "pages"), 0o700))
	page := filepath.Join(dir, "page.html")
	require.NoError(t, WriteWhole(page, func(w io.Writer) error { _, err := io.WriteString(w, "page"); return err }))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	names := []string{}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	assert.ElementsMatch(t, []string{running, elsewhere, ".slowquick-notes", "page.html", "page.html.usual"}, names)
}
