package diary_test

import (
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// evening returns when the Lantern Night class begins; day counts from its first.
func evening(day int) time.Time {
	return time.Date(2026, 9, 4, 19, 30, 0, 0, time.Local).AddDate(0, 0, day)
}

func figure(name string) practice.Figure {
	return practice.Figure{Dance: "Cha-cha", Name: name, Steps: "steps of " + name}
}

var (
	lantern = practice.Sheet{Dance: "Cha-cha", Title: "Lantern Night", Order: "basic, oar"}
	jetty   = practice.Sheet{Dance: "Waltz", Title: "Jetty waltz", Order: "box"}
)

// pass returns a run-through of whole figures at a tempo, in beats a minute, that took a minute and
// that both partners judged.
func pass(at time.Time, tempo int, names ...string) practice.Kept {
	p := practice.Kept{At: at, Took: time.Minute, Tempo: routine.Tempo(tempo) * routine.BeatPerMinute, Finished: true, Judged: [2]bool{true, true}}
	for _, name := range names {
		p.Danced = append(p.Danced, practice.Danced{Figure: figure(name), Whole: true})
	}
	return p
}

func open(t testing.TB, path string) *diary.Diary {
	t.Helper()
	d, err := diary.Open(path)
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, d.Close()) })
	return d
}

func fresh(t testing.TB) *diary.Diary {
	t.Helper()
	return open(t, filepath.Join(t.TempDir(), "state", "diary.db"))
}

func keep(t testing.TB, p *diary.Practice, passes ...practice.Kept) {
	t.Helper()
	for _, pass := range passes {
		require.NoError(t, p.Keep(pass))
	}
}

func entries(t testing.TB, d *diary.Diary, dance string) (list []diary.Entry) {
	t.Helper()
	for e, err := range d.Entries(dance) {
		require.NoError(t, err)
		list = append(list, e)
	}
	return list
}

// TestWhatIsKept comes back as it was danced, in order of time.
func TestWhatIsKept(t *testing.T) {
	d := fresh(t)
	p := d.Begin(lantern, evening(0))
	marked := pass(evening(0).Add(2*time.Minute), 112, "Basic", "Oar turn")
	marked.Marks = []practice.Mark{{Place: 1, Partner: routine.Follower}, {Place: 1, Join: true, Partner: routine.Leader}}
	marked.Dancers, marked.Judged = routine.Both, [2]bool{false, true}
	marked.TakenBack = []practice.Mark{{Place: 0, Partner: routine.Leader}}
	broken := pass(evening(0).Add(time.Minute), 90, "Basic", "Oar turn")
	broken.Danced[1].Whole, broken.Finished, broken.Dancers = false, false, routine.FollowerAlone
	keep(t, p, marked, broken)
	keep(t, d.Begin(jetty, evening(1)), pass(evening(1), 87, "Box step"))

	list := entries(t, d, "")
	require.Len(t, list, 3)
	for i, want := range []practice.Kept{broken, marked} {
		got := list[i]
		assert.True(t, want.At.Equal(got.At))
		want.At, got.At = time.Time{}, time.Time{}
		assert.Equal(t, want, got.Kept)
		assert.Equal(t, lantern, got.Sheet)
	}
	assert.Equal(t, list[0].Practice, list[1].Practice)
	assert.NotEqual(t, list[0].Practice, list[2].Practice)
	assert.Len(t, entries(t, d, "Waltz"), 1)

	kept, err := d.Practices(evening(0))
	require.NoError(t, err)
	require.Len(t, kept, 2)
	assert.Equal(t, []time.Duration{2 * time.Minute, time.Minute}, []time.Duration{kept[0].Took, kept[1].Took})
	assert.Equal(t, 2, kept[0].RunThroughs)
	kept, err = d.Practices(evening(1))
	require.NoError(t, err)
	assert.Len(t, kept, 1)

	passes, err := d.Passes("Cha-cha")
	require.NoError(t, err)
	assert.Len(t, passes, 2)
}

// TestNothingIsKeptOfNothing: just looking at a sheet is not practice.
func TestNothingIsKeptOfNothing(t *testing.T) {
	d := fresh(t)
	d.Begin(lantern, evening(0))
	assert.Empty(t, entries(t, d, ""))
	kept, err := d.Practices(time.Time{})
	require.NoError(t, err)
	assert.Empty(t, kept)
}

// TestASheetIsKnownAgain by its title when it was edited, and by its steps when it was renamed.
func TestASheetIsKnownAgain(t *testing.T) {
	d := fresh(t)
	edited, renamed, other := lantern, lantern, lantern
	edited.Order = "basic, oar, oar"
	renamed.Title, renamed.Order = "Boathouse night", edited.Order
	other.Title, other.Order = "Boathouse morning", "oar"
	for day, s := range []practice.Sheet{lantern, edited, renamed, other} {
		keep(t, d.Begin(s, evening(day)), pass(evening(day), 112, "Basic"))
	}
	var titles []string
	for _, e := range entries(t, d, "") {
		titles = append(titles, e.Sheet.Title)
	}
	assert.Equal(t, []string{"Boathouse night", "Boathouse night", "Boathouse night", "Boathouse morning"}, titles)
}

// TestFigures: each partner's best clean tempo, across sheets, including figures that were renamed or
// edited.
func TestFigures(t *testing.T) {
	d := fresh(t)
	p := d.Begin(lantern, evening(0))
	fast := pass(evening(2), 120, "Basic", "Oar turn")
	fast.Marks = []practice.Mark{{Place: 1, Partner: routine.Leader}, {Place: 1, Join: true, Partner: routine.Follower}}
	alone := pass(evening(3), 124, "Oar turn")
	alone.Dancers = routine.LeaderAlone
	watched := pass(evening(1), 180, "Basic", "Oar turn")
	watched.Judged = [2]bool{}
	part := pass(evening(4), 200, "Oar turn")
	part.Danced[0].Whole = false
	keep(t, p, pass(evening(0), 100, "Basic", "Oar turn"), watched, fast, alone, part)
	list, err := d.Figures()
	require.NoError(t, err)
	require.Len(t, list, 2)
	bpm := func(leader, follower int) [2]routine.Tempo {
		return [2]routine.Tempo{routine.Tempo(leader) * routine.BeatPerMinute, routine.Tempo(follower) * routine.BeatPerMinute}
	}
	oar, basic := list[0], list[1]
	assert.Equal(t, figure("Oar turn"), oar.Figure)
	assert.Equal(t, bpm(124, 120), oar.Best)
	assert.Equal(t, [2]int{1, 0}, oar.Marks)
	assert.Equal(t, [2]int{3, 2}, oar.Judged)
	assert.Equal(t, [2]int{2, 2}, oar.Clean)
	assert.Equal(t, 4, oar.RunThroughs)
	assert.True(t, evening(3).Equal(oar.Last))
	assert.Equal(t, bpm(120, 120), basic.Best)

	renamed, edited := pass(evening(5), 80, "Jetty turn"), pass(evening(6), 80, "basics")
	renamed.Danced[0].Figure.Steps = figure("Oar turn").Steps
	edited.Danced[0].Figure.Steps = "other steps"
	keep(t, p, renamed, edited)
	list, err = d.Figures()
	require.NoError(t, err)
	require.Len(t, list, 2)
	assert.Equal(t, "basics", list[0].Name)
	assert.Equal(t, bpm(120, 120), list[0].Best)
	assert.Equal(t, "Jetty turn", list[1].Name)
	assert.Equal(t, bpm(124, 120), list[1].Best)
	assert.Equal(t, 5, list[1].RunThroughs)
}

// TestAFigureThatComesTwiceInARunThrough counts once, and is not clean if it was marked once.
func TestAFigureThatComesTwiceInARunThrough(t *testing.T) {
	d := fresh(t)
	clean, marked := pass(evening(0), 100, "Basic", "Oar turn", "Basic"), pass(evening(1), 120, "Basic", "Oar turn", "Basic")
	marked.Marks = []practice.Mark{{Place: 2, Partner: routine.Follower}}
	keep(t, d.Begin(lantern, evening(0)), clean, marked)
	list, err := d.Figures()
	require.NoError(t, err)
	require.Len(t, list, 2)
	assert.Equal(t, "Basic", list[0].Name)
	assert.Equal(t, 2, list[0].RunThroughs)
	assert.Equal(t, [2]int{0, 1}, list[0].Marks)
	assert.Equal(t, [2]routine.Tempo{120 * routine.BeatPerMinute, 100 * routine.BeatPerMinute}, list[0].Best)
}

// TestForget deletes one sheet's practices or all, even from the bytes of the file.
func TestForget(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	d := open(t, path)
	going := d.Begin(lantern, evening(0))
	keep(t, going, pass(evening(0), 112, "Basic"), pass(evening(0), 112, "Oar turn"))
	keep(t, d.Begin(jetty, evening(1)), pass(evening(1), 87, "Basic"))
	require.NoError(t, d.Leave(lantern, []byte("{}")))

	n, err := d.Forget("nothing of that name")
	require.NoError(t, err)
	assert.Zero(t, n)
	n, err = d.Forget(lantern.Title)
	require.NoError(t, err)
	assert.EqualValues(t, 1, n)
	assert.Len(t, entries(t, d, ""), 1)
	for _, file := range []string{path, path + "-wal"} {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, gone := range []string{"Lantern Night", "Oar turn"} {
			assert.NotContains(t, string(text), gone, file)
		}
	}
	var kept *diary.NotKept
	err = going.Keep(pass(evening(2), 112, "Basic"))
	require.ErrorAs(t, err, &kept, "it was forgotten while it went on")
	require.ErrorIs(t, err, diary.ErrForgotten)
	n, err = d.Forget("")
	require.NoError(t, err)
	assert.EqualValues(t, 1, n)
	for _, table := range []string{"sheet", "figure", "part", "part_figure", "practice", "pass", "mark", "session"} {
		var rows int
		require.NoError(t, d.DB().QueryRow("SELECT count(*) FROM "+table).Scan(&rows))
		assert.Zero(t, rows, table)
	}
}

// TestForgettingLeavesOtherSessions, even of sheets without a run-through.
func TestForgettingLeavesOtherSessions(t *testing.T) {
	d := fresh(t)
	keep(t, d.Begin(lantern, evening(0)), pass(evening(0), 112, "Basic"))
	require.NoError(t, d.Leave(jetty, []byte("plan")))
	_, err := d.Forget(lantern.Title)
	require.NoError(t, err)
	plan, err := d.Session(jetty)
	require.NoError(t, err)
	assert.Equal(t, "plan", string(plan))
}

// TestForgettingWhileSomebodyReads reports that what was forgotten is still in the file.
func TestForgettingWhileSomebodyReads(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	d, err := diary.Open(path)
	require.NoError(t, err)
	reader, err := diary.Open(path)
	require.NoError(t, err)
	keep(t, d.Begin(lantern, evening(0)), pass(evening(0), 112, "Basic"))
	tx, err := reader.DB().BeginTx(t.Context(), &sql.TxOptions{ReadOnly: true})
	require.NoError(t, err)
	var sheets int
	require.NoError(t, tx.QueryRow("SELECT count(*) FROM sheet").Scan(&sheets))
	n, err := d.Forget(lantern.Title)
	assert.EqualValues(t, 1, n)
	require.EqualError(t, err, "wipe what was forgotten: another program is using the diary; close it, and the file is wiped")
	require.NoError(t, d.Close())
	require.NoError(t, tx.Rollback())
	require.NoError(t, reader.Close())
	assert.NoFileExists(t, path+"-wal")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.NotContains(t, string(text), lantern.Title)
}

// TestASessionIsResumed only for the sheet as it was planned.
func TestASessionIsResumed(t *testing.T) {
	d := fresh(t)
	plan, err := d.Session(lantern)
	require.NoError(t, err)
	assert.Nil(t, plan)
	require.NoError(t, d.Leave(lantern, []byte("first")))
	require.NoError(t, d.Leave(lantern, []byte("second")))
	plan, err = d.Session(lantern)
	require.NoError(t, err)
	assert.Equal(t, "second", string(plan))
	renamed, edited := lantern, lantern
	renamed.Title, edited.Order = "Boathouse night", "oar"
	plan, err = d.Session(renamed)
	require.NoError(t, err)
	assert.Equal(t, "second", string(plan))
	plan, err = d.Session(edited)
	require.NoError(t, err)
	assert.Nil(t, plan, "its stretches are of other passages")
	require.NoError(t, d.Leave(lantern, nil))
	plan, err = d.Session(lantern)
	require.NoError(t, err)
	assert.Nil(t, plan)
}

// TestTwoProgramsAtOnce both keep all their run-throughs, from the first moment on.
func TestTwoProgramsAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	const programs, each = 4, 50
	var done sync.WaitGroup
	failures := make(chan error, programs*each)
	for i := range programs {
		done.Go(func() {
			d, err := diary.Open(path)
			if err != nil {
				failures <- err
				return
			}
			defer d.Close()
			p := d.Begin(practice.Sheet{Dance: "Cha-cha", Title: fmt.Sprint("Evening ", i), Order: fmt.Sprint(i)}, evening(0))
			for n := range each {
				if err := p.Keep(pass(evening(0), 100+n, "Basic", "Oar turn")); err != nil {
					failures <- err
				}
			}
		})
	}
	done.Wait()
	close(failures)
	for err := range failures {
		assert.NoError(t, err)
	}
	assert.Len(t, entries(t, open(t, path), ""), programs*each)
}

// TestWhoDoesNotWait: a program that won't wait for another's write gets ErrBusy from everything it tries.
func TestWhoDoesNotWait(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	writer := open(t, path)
	d, err := diary.OpenWithin(path, time.Millisecond)
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, d.Close()) })
	tx, err := writer.DB().Begin()
	require.NoError(t, err)
	err = d.Begin(lantern, evening(0)).Keep(pass(evening(0), 112, "Basic"))
	require.ErrorIs(t, err, diary.ErrBusy)
	assert.EqualError(t, err, "nothing is being kept in the diary "+path+": another program is using it")
	require.ErrorIs(t, d.Leave(lantern, []byte("plan")), diary.ErrBusy)
	_, err = d.Forget("")
	require.ErrorIs(t, err, diary.ErrBusy)
	require.NoError(t, tx.Rollback())
	require.NoError(t, d.Leave(lantern, []byte("plan")))
}

// oldDiary makes a diary of the schema that knows nothing of judging, as many run-throughs long. Every
// third is marked.
func oldDiary(t testing.TB, path string, passes int) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	for _, step := range append(slices.Clone(diary.Migrations[:2]), "PRAGMA user_version = 2",
		`INSERT INTO sheet VALUES (1, 'Cha-cha', 'Lantern Night', 'basic, oar')`,
		`INSERT INTO figure VALUES (1, 'Cha-cha', 'Basic', 'steps of Basic'), (2, 'Cha-cha', 'Oar turn', 'steps of Oar turn')`,
		`INSERT INTO part VALUES (1, '1 2 ')`, `INSERT INTO part_figure VALUES (1, 0, 1, 1), (1, 1, 2, 1)`,
		`INSERT INTO practice VALUES (1, 1, 1000, 2000), (2, 1, 1000, 2000)`,
		fmt.Sprintf(`WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < %d)
			INSERT INTO pass SELECT i, 1 + i %% 2, 1, 1000 * i, i, 112000, 0, 1 FROM n`, passes),
		`INSERT INTO mark SELECT id, 1, id % 2, 1 FROM pass WHERE id % 3 = 0`) {
		_, err := db.Exec(step)
		require.NoError(t, err, step)
	}
}

// fromOld is the nth run-through of oldDiary as it is to be read.
func fromOld(n int) practice.Kept {
	k := pass(time.UnixMilli(int64(1000*n)), 112, "Basic", "Oar turn")
	k.Took, k.Judged = time.Duration(n)*time.Millisecond, [2]bool{}
	if n%3 == 0 {
		k.Marks = []practice.Mark{{Place: 1, Join: n%2 == 1, Partner: routine.Follower}}
	}
	return k
}

// TestOldRunThroughsAreUnjudged: none is lost, and their marks stay.
func TestOldRunThroughsAreUnjudged(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	oldDiary(t, path, 12)
	d := open(t, path)
	list := entries(t, d, "")
	require.Len(t, list, 12)
	for i, e := range list {
		assert.Equal(t, fromOld(i+1), e.Kept)
	}
	figures, err := d.Figures()
	require.NoError(t, err)
	require.Len(t, figures, 2)
	for _, k := range figures {
		assert.Equal(t, 12, k.RunThroughs)
		assert.Zero(t, k.Best, k.Name)
		assert.Zero(t, k.Clean, k.Name)
	}
	assert.Equal(t, [2]int{0, 2}, figures[1].Judged)
	assert.Equal(t, [2]int{0, 2}, figures[1].Marks)
	keep(t, d.Begin(lantern, evening(0)), pass(evening(0), 100, "Basic", "Oar turn"))
	figures, err = d.Figures()
	require.NoError(t, err)
	assert.Equal(t, [2]routine.Tempo{100 * routine.BeatPerMinute, 100 * routine.BeatPerMinute}, figures[0].Best)
	assert.Equal(t, [2]int{1, 1}, figures[0].Clean)
}

// TestOlderDiariesAreBroughtUpToDate, and newer ones are left alone.
func TestOlderDiariesAreBroughtUpToDate(t *testing.T) {
	path := filepath.Join(t.TempDir(), "diary.db")
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	for _, step := range []string{diary.Migrations[0], "PRAGMA user_version = 1",
		`INSERT INTO sheet (dance, title, steps) VALUES ('Cha-cha', 'Lantern Night', 'basic, oar')`,
		`INSERT INTO practice (sheet, began, took) VALUES (1, 1000, 2000)`} {
		_, err := db.Exec(step)
		require.NoError(t, err)
	}
	require.NoError(t, db.Close())

	d := open(t, path)
	kept, err := d.Practices(time.Time{})
	require.NoError(t, err)
	require.Len(t, kept, 1)
	assert.Equal(t, 2*time.Second, kept[0].Took)
	require.NoError(t, d.Leave(lantern, []byte("plan")), "what a later step adds")

	_, err = d.DB().Exec(fmt.Sprint("PRAGMA user_version = ", len(diary.Migrations)+1))
	require.NoError(t, err)
	for _, f := range []func(string) (*diary.Diary, error){diary.Open, diary.Read} {
		_, err = f(path)
		require.ErrorIs(t, err, diary.ErrNewer)
	}
}

// TestWhereNothingCanBeKept: the error says so, and names the file and the cause.
func TestWhereNothingCanBeKept(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	require.NoError(t, os.WriteFile(file, []byte(strings.Repeat("no diary ", 1000)), 0o600))
	for name, path := range map[string]string{
		"a file in the folder's place": filepath.Join(file, "diary.db"),
		"a folder in its place":        dir,
		"another file in its place":    file,
	} {
		_, err := diary.Open(path)
		var notKept *diary.NotKept
		require.ErrorAs(t, err, &notKept, name)
		assert.Equal(t, path, notKept.Path, name)
		assert.Contains(t, err.Error(), "nothing is being kept in the diary", name)
	}
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, strings.Repeat("no diary ", 1000), string(text), "it is left as it was")

	_, err = diary.Read(filepath.Join(dir, "none.db"))
	assert.True(t, errors.Is(err, fs.ErrNotExist))
	_, err = os.Stat(filepath.Join(dir, "none.db"))
	assert.True(t, errors.Is(err, fs.ErrNotExist), "reading makes none")
}

// TestOnlyTheOwnerReads the diary; other users of the machine can't.
func TestOnlyTheOwnerReads(t *testing.T) {
	if os.PathSeparator == '\\' {
		t.Skip("files have no such modes here")
	}
	path := filepath.Join(t.TempDir(), "state ? 100%", "diary.db") // a name that a URI would misread
	d := open(t, path)
	keep(t, d.Begin(lantern, evening(0)), pass(evening(0), 112, "Basic"))
	files, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 2)
	for _, file := range append(files, filepath.Dir(path)) {
		info, err := os.Stat(file)
		require.NoError(t, err)
		assert.Zero(t, info.Mode().Perm()&0o077, file)
	}
}
