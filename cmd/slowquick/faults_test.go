//go:build unix

package main

import (
	"database/sql"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// TestAClockThatWasSetBack: what was danced on days that are still to come is listed, and what is due can be told.
func TestAClockThatWasSetBack(t *testing.T) {
	for name, ahead := range map[string]time.Duration{"an hour": time.Hour, "two days": 48 * time.Hour, "sixty years": 60 * 365 * 24 * time.Hour} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			stateIn(t, dir)
			t.Chdir(dir)
			require.NoError(t, os.WriteFile("quick.md", []byte(jetty), 0o600))
			keepAnEvening(t, dir, time.Now().Add(ahead))
			d, err := diary.Open(diary.File())
			require.NoError(t, err)
			sheet := practice.Sheet{Dance: "Cha-cha", Title: "Jetty", Order: "1"}
			marked := figurePass(time.Now().Add(ahead), 160, "Closed basic")
			marked.Marks = []practice.Mark{{Partner: routine.Leader}}
			require.NoError(t, d.Begin(sheet, time.Now().Add(ahead)).Keep(marked))
			require.NoError(t, d.Close())

			for _, args := range [][]string{
				{"diary", "--weeks", "4"}, {"diary", "--marks"}, {"diary", "--csv"}, {"diary", "--progress"}, {"practise", "--list"},
				{"practise", "quick.md", "--list"}, {"write", "table", "quick.md", "--of", "cards", "-o", "-"},
			} {
				out, _ := told(t, exitOK, args...)
				assert.NotEmpty(t, out, args)
				assert.NotRegexp(t, `-\d+ (days?|weeks?|minutes?)`, out, args)
			}
			out, _ := told(t, exitOK, "diary", "--csv")
			assert.Contains(t, out, "Jetty", "nothing is left out")
			out, _ = told(t, exitOK, "dance", "quick.md", "--plain", "--silent", "--tempo", "200 %", "--lead-in", "0")
			assert.Contains(t, out, "RF half close")
			again, _ := told(t, exitOK, "diary", "--csv")
			assert.Greater(t, len(again), len(out), "and more is kept")
		})
	}
}

// TestADiaryOfALaterVersion is told of, and left alone; meanwhile one can dance.
func TestADiaryOfALaterVersion(t *testing.T) {
	dir := t.TempDir()
	stateIn(t, dir)
	t.Chdir(dir)
	require.NoError(t, os.WriteFile("quick.md", []byte(jetty), 0o600))
	keepAnEvening(t, dir, time.Now())
	db, err := sql.Open("sqlite", diary.File())
	require.NoError(t, err)
	_, err = db.Exec("PRAGMA user_version = 1000")
	require.NoError(t, err)
	require.NoError(t, db.Close())
	before, err := os.ReadFile(diary.File())
	require.NoError(t, err)

	for _, args := range [][]string{{"diary"}, {"diary", "--csv"}, {"diary", "merge", filepath.Base(diary.File())}} {
		_, errs := told(t, exitFailed, args...)
		assert.Contains(t, errs, "slowquick: error: ", args)
	}
	_, errs := told(t, exitFailed, "diary")
	assert.Regexp(t, "newer|later", errs)
	out, _ := told(t, exitOK, "practise", "quick.md", "--list")
	assert.Contains(t, out, "the whole routine")
	out, errs = told(t, exitOK, "dance", "quick.md", "--plain", "--silent", "--tempo", "200 %", "--lead-in", "0")
	assert.Contains(t, out, "RF half close")
	assert.Contains(t, out+errs, "nothing is being kept")
	after, err := os.ReadFile(diary.File())
	require.NoError(t, err)
	assert.Equal(t, before, after)
}
