package diary_test

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
func keeps(t *testing.T, path string) (w *diary.Writer, p practice.Keeper, kept func() int) {
	t.Helper()
	w = diary.NewWriter(path)
	p = w.BeginSheet(jetty)
	return w, p, func() (n int) {
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

// TestWhatCantBeKeptWaits until it can be, whatever the reason.
func TestWhatCantBeKeptWaits(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "state", "diary.db")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "state"), nil, 0o600)) // where the folder would be
	w, p, kept := keeps(t, path)
	for n := range 3 {
		p.Keep(pass(time.Now(), 100+n, "Time step"))
	}
	require.Eventually(t, func() bool { return w.Status() != "" }, 10*time.Second, time.Millisecond)
	assert.Contains(t, w.Status(), "nothing is being kept in the diary "+path)
	require.NoError(t, os.Remove(filepath.Join(dir, "state")))
	p.Keep(pass(time.Now(), 103, "Time step"))
	require.Eventually(t, func() bool { return w.Status() == "" }, 10*time.Second, time.Millisecond)
	require.NoError(t, w.Close(func(error) {}))
	assert.Equal(t, 4, kept())
}

// TestALockedDiary: nobody who dances waits for it. The end of the program waits for a while, says so,
// and then keeps all that was danced.
func TestALockedDiary(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "diary.db")
	unlock := lock(t, path)
	w, p, kept := keeps(t, path)
	p.Keep(pass(time.Now(), 100, "Time step"))
	p.Keep(pass(time.Now(), 101, "Time step"))
	w.Leave(jetty, practice.Session{Exercises: make([]practice.Exercise, 2), Done: 1})
	require.Eventually(t, func() bool { return w.Status() != "" }, 10*time.Second, time.Millisecond)
	assert.Equal(t, "nothing is being kept in the diary "+path+": another program is using it", w.Status())
	var told []error
	require.NoError(t, w.Close(func(problem error) {
		told = append(told, problem)
		unlock()
	}))
	require.Len(t, told, 1)
	assert.ErrorIs(t, told[0], diary.ErrBusy)
	assert.Equal(t, 2, kept())
}

// TestALockThatStays: the writer gives up, and says so.
func TestALockThatStays(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "diary.db")
	unlock := lock(t, path)
	w, p, kept := keeps(t, path)
	p.Keep(pass(time.Now(), 100, "Time step"))
	waited := 0
	err := w.Close(func(error) { waited++ })
	assert.Equal(t, 1, waited)
	require.ErrorIs(t, err, diary.ErrBusy)
	unlock()
	<-w.Over()
	assert.Equal(t, 1, kept(), "as the program did not end here")
}

// TestAPracticeThatIsForgotten holds up nothing else.
func TestAPracticeThatIsForgotten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	w, p, kept := keeps(t, path)
	p.Keep(pass(time.Now(), 100, "Time step"))
	require.Eventually(t, func() bool { _, err := os.Stat(path); return err == nil && kept() == 1 }, 10*time.Second, 10*time.Millisecond)
	d, err := diary.Open(path)
	require.NoError(t, err)
	_, err = d.Forget("")
	require.NoError(t, err)
	require.NoError(t, d.Close())
	p.Keep(pass(time.Now(), 101, "Time step"))
	other := w.BeginSheet(practice.Sheet{Dance: "Cha-cha", Title: "Boathouse", Order: "2"})
	other.Keep(pass(time.Now(), 102, "Time step"))
	require.ErrorIs(t, w.Close(func(error) {}), diary.ErrForgotten)
	assert.Equal(t, 1, kept())
}

// TestWhatIsKeptIsJudgedLater, and nothing else with it.
func TestWhatIsKeptIsJudgedLater(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	w, p, _ := keeps(t, path)
	first := pass(evening(0), 100, "Time step")
	first.Judged = [2]bool{}
	second := first
	second.At = first.At.Add(time.Minute)
	other := w.BeginSheet(lantern)
	other.Keep(second)
	p.Keep(first)
	p.Keep(second)
	p.Judge(first.At, [2]bool{false, true})
	p.Judge(second.At, [2]bool{true, false})
	p.Judge(second.At, [2]bool{false, true})
	require.NoError(t, w.Close(func(error) {}))
	d, err := diary.Read(path)
	require.NoError(t, err)
	defer d.Close()
	passes, err := d.Passes("")
	require.NoError(t, err)
	require.Len(t, passes, 3)
	judged := map[[2]bool]int{}
	for _, k := range passes {
		judged[k.Judged]++
	}
	assert.Equal(t, map[[2]bool]int{{}: 1, {false, true}: 1, {true, true}: 1}, judged)
}

// TestWhatIsWrittenIsInOrder: the session that was left last is the one that is resumed.
func TestWhatIsWrittenIsInOrder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	w, p, _ := keeps(t, path)
	s := practice.Session{Exercises: make([]practice.Exercise, 50)}
	for range 30 {
		s = s.After(true)
		w.Leave(jetty, s)
		p.Keep(pass(time.Now(), 100, "Time step"))
	}
	require.NoError(t, w.Close(func(error) {}))
	d, err := diary.Read(path)
	require.NoError(t, err)
	defer d.Close()
	plan, err := d.Session(jetty)
	require.NoError(t, err)
	assert.Contains(t, string(plan), `"done":30`)
	figures, err := d.Figures()
	require.NoError(t, err)
	assert.Equal(t, 30, figures[0].RunThroughs)
	assert.Equal(t, 100*routine.BeatPerMinute, figures[0].Best[routine.Leader])
}
