package draft_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/routine"
)

// TestTheHandbookHasTheFigure that is copied into it, and nothing there is written over unless it is meant.
func TestTheHandbookHasTheFigure(t *testing.T) {
	d, err := draft.New(shelf(), danceOf(t, "rumba"), "Quay", routine.Room{})
	require.NoError(t, err)
	d, f := begun(t, d, "Lantern sway")
	_, err = f.Sheet()
	require.ErrorContains(t, err, "no steps yet")
	text, err := f.Write(0, draft.LeaderCell, "forward")
	require.NoError(t, err)
	_, f = reread(t, d, "Lantern sway", text)
	sheet, err := f.Sheet()
	require.NoError(t, err)

	folder := filepath.Join(t.TempDir(), "library")
	path := filepath.Join(folder, "lantern-sway.md")
	require.NoError(t, draft.WriteOwn(path, sheet, false))
	require.NoError(t, draft.WriteOwn(path, sheet, false), "it is there already")
	fig, ok := library.Open().With(os.DirFS(folder)).Figure(danceOf(t, "rumba"), "lantern sway")
	require.True(t, ok)
	assert.Equal(t, "LF forward", fig.Rows[0].Steps[routine.Leader].String())

	require.NoError(t, os.WriteFile(path, []byte("another's"), 0o600))
	require.ErrorIs(t, draft.WriteOwn(path, sheet, false), draft.ErrNewer)
	there, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "another's", string(there))
	require.NoError(t, draft.WriteOwn(path, sheet, true))
	require.Error(t, draft.WriteOwn(filepath.Join(path, "below", "a-file.md"), sheet, true))
}
