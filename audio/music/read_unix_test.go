//go:build unix

package music_test

import (
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
)

// TestAPipeIsNoSong: a pipe is refused, and not waited for.
func TestAPipeIsNoSong(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe.wav")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	_, err := music.ReadFile(t.Context(), pipe, music.Options{})
	assert.EqualError(t, err, "read "+pipe+": not a regular file")
}
