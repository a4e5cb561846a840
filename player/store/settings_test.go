package store

import (
	"fmt"
	"os"
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// settingsIn keeps settings in a new folder.
func settingsIn(t *testing.T) {
	t.Helper()
	dir := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", dir)
	t.Setenv("HOME", dir)
	t.Setenv("AppData", dir)
}

// TestSettingsKeptAtTheSameTime by several programs are all kept.
func TestSettingsKeptAtTheSameTime(t *testing.T) {
	settingsIn(t)
	const programs = 40
	var all sync.WaitGroup
	for i := range programs {
		all.Go(func() { assert.NoError(t, Keep("choices", map[string]float64{fmt.Sprint("choice ", i): 1})) })
	}
	all.Wait()
	kept, err := Read[float64]("choices")
	require.NoError(t, err)
	assert.Len(t, kept, programs)
}

// TestSettingsArePrivate, even if the file was not before.
func TestSettingsArePrivate(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("files have no such modes there")
	}
	settingsIn(t)
	for range 2 {
		require.NoError(t, Keep("levels", map[string]float64{"voice": 0.5}))
		info, err := os.Stat(File("levels"))
		require.NoError(t, err)
		assert.Equal(t, os.FileMode(0o600), info.Mode())
		require.NoError(t, os.Chmod(File("levels"), 0o644))
	}
}
