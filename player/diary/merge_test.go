package diary_test

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/testdata/thorough"
)

// contents lists all that a diary holds, in whatever order it was kept: each run-through with its sheet, and
// which of them are of one practice.
func contents(t *testing.T, path string) (list []string) {
	t.Helper()
	d, err := diary.Open(path)
	require.NoError(t, err)
	defer d.Close()
	first := map[int64]time.Time{} // of a practice
	for _, e := range entries(t, d, "") {
		if first[e.Practice].IsZero() {
			first[e.Practice] = e.At
		}
		list = append(list, fmt.Sprint(e.Kept, e.Sheet, first[e.Practice].UnixMilli()))
	}
	practices, err := d.Practices(time.Time{})
	require.NoError(t, err)
	for _, p := range practices {
		if p.RunThroughs > 0 {
			list = append(list, fmt.Sprint(p.Began.UnixMilli(), p.Took, p.RunThroughs, p.Sheet))
		}
	}
	slices.Sort(list)
	return list
}

// randomDiary keeps some practices of two sheets.
func randomDiary(t *testing.T, path string, chance *rand.Rand) {
	t.Helper()
	d, err := diary.Open(path)
	require.NoError(t, err)
	defer d.Close()
	for day := range 2 + chance.IntN(4) {
		p := d.Begin([]practice.Sheet{lantern, jetty}[chance.IntN(2)], evening(day))
		for n := range 1 + chance.IntN(5) {
			k := pass(evening(day).Add(time.Duration(n)*time.Minute), 80+chance.IntN(40), "Basic", fmt.Sprint("Figure ", chance.IntN(3)))
			k.Judged = [2]bool{chance.IntN(2) == 0, chance.IntN(2) == 0}
			for place := range chance.IntN(3) {
				k.Marks = append(k.Marks, practice.Mark{Place: place, Partner: routine.Partner(chance.IntN(2))})
			}
			keep(t, p, k)
		}
	}
}

// halve writes a diary's run-throughs into two copies of it, each into one or both.
func halve(t *testing.T, whole string, chance *rand.Rand) (halves [2]string) {
	t.Helper()
	text, err := os.ReadFile(whole)
	require.NoError(t, err)
	lost := [2]string{"0", "0"} // ids
	for id := range 5000 {
		if n := chance.IntN(3); n < 2 {
			lost[n] += fmt.Sprint(",", id)
		}
	}
	for i := range halves {
		halves[i] = fmt.Sprint(whole, ".", i)
		damage(t, halves[i], text, "DELETE FROM mark WHERE pass IN ("+lost[i]+"); DELETE FROM pass WHERE id IN ("+lost[i]+
			"); UPDATE practice SET took = (SELECT ifnull(sum(took), 0) FROM pass WHERE practice = practice.id); DELETE FROM practice WHERE id NOT IN (SELECT practice FROM pass)")
	}
	return halves
}

func merge(t *testing.T, into, path string) (m diary.Merged) {
	t.Helper()
	d, err := diary.Open(into)
	require.NoError(t, err)
	defer d.Close()
	m, err = d.Merge(path)
	require.NoError(t, err)
	return m
}

// TestHalvesOfADiaryAreTheDiary again, in whatever order and however often they are merged, into one of
// them or into another. So are halves of a diary of the previous schema, which get their identities one by
// one. THOROUGH=1 tries many diaries.
func TestHalvesOfADiaryAreTheDiary(t *testing.T) {
	diaries := 3
	if thorough.Asked() {
		diaries = 300
	}
	for n := range diaries {
		chance := rand.New(rand.NewPCG(uint64(n), 2))
		whole := filepath.Join(t.TempDir(), "diary.db")
		if n%3 == 0 {
			oldDiary(t, whole, 2+chance.IntN(30)) // both its practices have some
			text, err := os.ReadFile(whole)
			require.NoError(t, err)
			damage(t, whole, text, "UPDATE practice SET took = (SELECT ifnull(sum(took), 0) FROM pass WHERE practice = practice.id)")
		} else {
			randomDiary(t, whole, chance)
		}
		halves := halve(t, whole, chance)
		want := contents(t, whole)
		into := filepath.Join(t.TempDir(), "other.db")
		from := []string{halves[0], halves[1], halves[0]}
		switch n % 3 {
		case 1:
			into, from = halves[0], halves[1:]
		case 2:
			slices.Reverse(from)
		}
		for _, half := range from {
			merge(t, into, half)
		}
		assert.Equal(t, want, contents(t, into), n)
		assert.Zero(t, merge(t, into, whole), "nothing is new")
	}
}

// TestAMergeOnlyReadsTheOther, even an older one.
func TestAMergeOnlyReadsTheOther(t *testing.T) {
	dir := t.TempDir()
	old, mine := filepath.Join(dir, "old.db"), filepath.Join(dir, "mine.db")
	oldDiary(t, old, 7)
	before, err := os.ReadFile(old)
	require.NoError(t, err)
	assert.Equal(t, diary.Merged{RunThroughs: 7, Practices: 2}, merge(t, mine, old))
	after, err := os.ReadFile(old)
	require.NoError(t, err)
	assert.Equal(t, before, after)
	files, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, files, 2)
}

// TestWhatGoesOnInCopies comes together: a practice from each, a sheet that one has renamed and edited, and
// a mark that the other has taken back.
func TestWhatGoesOnInCopies(t *testing.T) {
	dir := t.TempDir()
	here, there := filepath.Join(dir, "here.db"), filepath.Join(dir, "there.db")
	d, err := diary.Open(here)
	require.NoError(t, err)
	marked := pass(evening(0), 112, "Basic", "Oar turn")
	marked.Marks = []practice.Mark{{Place: 1, Partner: routine.Follower}}
	keep(t, d.Begin(lantern, evening(0)), marked)
	require.NoError(t, d.Close())
	text, err := os.ReadFile(here)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(there, text, 0o600))

	edited, renamed := lantern, lantern
	edited.Order = "oar"
	renamed.Title, renamed.Order = "Boathouse night", edited.Order
	d = open(t, there)
	keep(t, d.Begin(edited, evening(1)), pass(evening(1), 100, "Oar turn"))
	keep(t, d.Begin(renamed, evening(2)), pass(evening(2), 104, "Oar turn"))
	d = open(t, here)
	keep(t, d.Begin(jetty, evening(3)), pass(evening(3), 87, "Box step"))
	marks, err := d.Marks()
	require.NoError(t, err)
	require.Len(t, marks, 1)
	n, err := d.TakeBack(marks[0])
	require.NoError(t, err)
	assert.Equal(t, 1, n)

	assert.Equal(t, diary.Merged{RunThroughs: 2, Practices: 2}, merge(t, here, there))
	assert.Equal(t, diary.Merged{RunThroughs: 1, Practices: 1, TakenBack: 1}, merge(t, there, here))
	assert.Equal(t, contents(t, here), contents(t, there))
	for _, e := range entries(t, d, "Cha-cha") {
		assert.Equal(t, "Boathouse night", e.Sheet.Title)
	}
}

// TestWhatCantBeMerged leaves the diary as it was, and says why.
func TestWhatCantBeMerged(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	newer := filepath.Join(dir, "newer.db")
	damage(t, newer, keptFile(t), "PRAGMA user_version = 99")
	d := open(t, filepath.Join(dir, "mine.db"))
	for path, want := range map[string]error{
		filepath.Join(dir, "none.db"):    fs.ErrNotExist,
		file("text.db", "Lantern Night"): diary.ErrCorrupt,
		file("empty.db", ""):             diary.ErrCorrupt,
		newer:                            diary.ErrNewer,
		filepath.Join(file("file", "x"), "diary.db"): nil,
	} {
		_, err := d.Merge(path)
		require.Error(t, err, path)
		assert.Contains(t, err.Error(), path)
		if want != nil {
			require.ErrorIs(t, err, want, path)
		}
	}
	assert.Empty(t, entries(t, d, ""))

	damaged := filepath.Join(dir, "damaged.db")
	damage(t, damaged, keptFile(t), "UPDATE pass SET side = 200 WHERE id = 1")
	m, err := d.Merge(damaged)
	var told *diary.Damaged
	require.ErrorAs(t, err, &told)
	assert.Equal(t, diary.Damaged{Path: damaged, Rows: 1}, *told)
	assert.Equal(t, diary.Merged{RunThroughs: 3, Practices: 3}, m)
}
