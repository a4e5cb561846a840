package store

import (
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestAWrittenFileIsSharedAsUsual: a new file has the mode of any that is made beside it, and one
// that is written over keeps its own.
func TestAWrittenFileIsSharedAsUsual(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("files have no such modes there")
	}
	dir := t.TempDir()
	usual, err := os.Create(filepath.Join(dir, "usual"))
	require.NoError(t, err)
	require.NoError(t, usual.Close())
	page := filepath.Join(dir, "page.html")
	write := func(w io.Writer) error { _, err := io.WriteString(w, "page"); return err }
	mode := func(path string) os.FileMode {
		info, err := os.Stat(path)
		require.NoError(t, err)
		return info.Mode()
	}

	require.NoError(t, WriteWhole(page, write))
	assert.Equal(t, mode(usual.Name()), mode(page))
	require.NoError(t, os.Chmod(page, 0o640))
	require.NoError(t, WriteWhole(page, write))
	assert.Equal(t, os.FileMode(0o640), mode(page))
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, left, 2)
}
