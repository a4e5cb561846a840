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

// keeps is a practice of a diary that is kept in a file, and how many passes that file holds.
func keeps(t *testing.T, path string) (k *keptDiary, p *keptPractice, kept func() int) {
	t.Helper()
	k = keepDiary(path)
	p = &keptPractice{diary: k, sheet: practice.Sheet{Dance: "Cha-cha", Title: "Jetty", Order: "1"}, began: time.Now()}
	return k, p, func() (n int) {
		d, err := diary.Read(path)
		require.NoError(t, err)
		defer d.Close()
		passes, err := d.Passes("")
		require.NoError(t, err)
		return len(passes)
	}
}

// lock has another program write into a diary, until it is told to end.
func lock(t *testing.T, path string) (unlock func()) {
	t.Helper()
	d, err := diary.Open(path)
	require.NoError(t, err)
	require.NoError(t, d.Close())
	db, err := sql.Open("sqlite", path+"?_txlock=immediate")
	require.NoError(t, err)
	tx, err := db.Begin()
	require.NoError(t, err)
	return func() {
		assert.NoError(t, tx.Rollback())
		assert.NoError(t, db.Close())
	}
}

// TestWhatCantBeKeptWaits until it can, in whatever way that was.
func TestWhatCantBeKeptWaits(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "state", "diary.db")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "state"), nil, 0o600)) // where the folder would be
	k, p, kept := keeps(t, path)
	for n := range 3 {
		p.Keep(figurePass(time.Now(), 100+n, "Time step"))
	}
	require.Eventually(t, func() bool { return k.Status() != "" }, 10*time.Second, time.Millisecond)
	assert.Contains(t, k.Status(), "nothing is being kept in the diary "+path)
	require.NoError(t, os.Remove(filepath.Join(dir, "state")))
	p.Keep(figurePass(time.Now(), 103, "Time step"))
	require.Eventually(t, func() bool { return k.Status() == "" }, 10*time.Second, time.Millisecond)
	require.NoError(t, k.close(func(error) {}))
	assert.Equal(t, 4, kept())
}

// TestALockedDiary is waited for by nobody who dances, and for a while by the end of the
// program, which says so: and then keeps all that was danced.
func TestALockedDiary(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	unlock := lock(t, path)
	k, p, kept := keeps(t, path)
	p.Keep(figurePass(time.Now(), 100, "Time step"))
	p.Keep(figurePass(time.Now(), 101, "Time step"))
	k.leave(p.sheet, practice.Session{Exercises: make([]practice.Exercise, 2), Done: 1})
	require.Eventually(t, func() bool { return k.Status() != "" }, 10*time.Second, time.Millisecond)
	assert.Equal(t, "nothing is being kept in the diary "+path+": another program is using it", k.Status())
	var told []error
	require.NoError(t, k.close(func(problem error) {
		told = append(told, problem)
		unlock()
	}))
	require.Len(t, told, 1)
	assert.ErrorIs(t, told[0], diary.ErrBusy)
	assert.Equal(t, 2, kept())
}

// TestALockThatStays is given up, and told.
func TestALockThatStays(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "diary.db")
	unlock := lock(t, path)
	k, p, kept := keeps(t, path)
	p.Keep(figurePass(time.Now(), 100, "Time step"))
	waited := 0
	err := k.close(func(error) { waited++ })
	assert.Equal(t, 1, waited)
	require.ErrorIs(t, err, diary.ErrBusy)
	unlock()
	<-k.over
	assert.Equal(t, 1, kept(), "as the program did not end here")
}

// TestAPracticeThatIsForgotten holds nothing else up.
func TestAPracticeThatIsForgotten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	k, p, kept := keeps(t, path)
	p.Keep(figurePass(time.Now(), 100, "Time step"))
	require.Eventually(t, func() bool { _, err := os.Stat(path); return err == nil && kept() == 1 }, 10*time.Second, 10*time.Millisecond)
	d, err := diary.Open(path)
	require.NoError(t, err)
	_, err = d.Forget("")
	require.NoError(t, err)
	require.NoError(t, d.Close())
	p.Keep(figurePass(time.Now(), 101, "Time step"))
	other := &keptPractice{diary: k, sheet: practice.Sheet{Dance: "Cha-cha", Title: "Boathouse", Order: "2"}, began: time.Now()}
	other.Keep(figurePass(time.Now(), 102, "Time step"))
	require.ErrorIs(t, k.close(func(error) {}), diary.ErrForgotten)
	assert.Equal(t, 1, kept())
}

// TestPlainKeepsADiary: what was heard to its end, as the screen does.
func TestPlainKeepsADiary(t *testing.T) {
	dir := t.TempDir()
	stateIn(t, dir)
	sheet := filepath.Join(dir, "jetty.md")
	require.NoError(t, os.WriteFile(sheet, []byte("---\ndance: cha-cha\ntitle: Jetty\ntempo: 40 bars/min\n---\n\n## Order\n\n1. Closed basic\n"), 0o600))
	_, errOut := told(t, exitOK, "dance", "--plain", "--silent", "--lead-in", "0", "--tempo", "200 %", "--side", "follower", sheet)
	assert.NotContains(t, errOut, "kept")
	out, _ := told(t, exitOK, "diary", "--csv")
	assert.Regexp(t, `(?m)^1,[^,]+,Cha-cha,Jetty,Closed basic,follower,320,[0-9.]+,true,$`, out)

	require.NoError(t, os.RemoveAll(filepath.Join(dir, "slowquick")))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "slowquick"), nil, 0o600))
	_, errOut = told(t, exitOK, "dance", "--plain", "--silent", "--lead-in", "0", "--tempo", "200 %", sheet)
	assert.Contains(t, errOut, "slowquick: warning: nothing is being kept in the diary")
}

// TestWhatIsWrittenIsInOrder: the session that was left last is the one that is resumed.
func TestWhatIsWrittenIsInOrder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	k, p, _ := keeps(t, path)
	s := practice.Session{Exercises: make([]practice.Exercise, 50)}
	for range 30 {
		s = s.After()
		k.leave(p.sheet, s)
		p.Keep(figurePass(time.Now(), 100, "Time step"))
	}
	require.NoError(t, k.close(func(error) {}))
	d, err := diary.Read(path)
	require.NoError(t, err)
	defer d.Close()
	plan, err := d.Session(p.sheet)
	require.NoError(t, err)
	assert.Contains(t, string(plan), `"done":30`)
	figures, err := d.Figures()
	require.NoError(t, err)
	assert.Equal(t, 30, figures[0].Passes)
	assert.Equal(t, 100*routine.BeatPerMinute, figures[0].Best[routine.Leader])
}
