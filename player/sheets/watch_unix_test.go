//go:build unix

package sheets

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestAPipeInTheSheetsPlace does not end the watching.
func TestAPipeInTheSheetsPlace(t *testing.T) {
	dir := t.TempDir()
	path := putFile(t, dir, "open.md", sheetOf("1"))
	synctest.Test(t, func(t *testing.T) {
		saved := savesOf(t, path)
		pipe := filepath.Join(dir, "pipe")
		require.NoError(t, syscall.Mkfifo(pipe, 0o600))
		require.NoError(t, os.Rename(pipe, path))
		<-time.After(time.Minute) // of the bubble's time
		require.NoError(t, os.Remove(path))
		putFile(t, dir, "open.md", sheetOf("2"))
		assert.Equal(t, "2", danced(t, saved))
	})
}
