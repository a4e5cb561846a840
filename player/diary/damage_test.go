package diary_test

import (
	"database/sql"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// columns are the columns of each table, except the ids of rows.
var columns = map[string][]string{
	"sheet": {"dance", "title", "steps"}, "figure": {"dance", "name", "steps"}, "part": {"key"}, "part_figure": {"part", "place", "figure", "whole"},
	"practice": {"sheet", "began", "took", "uid"}, "pass": {"practice", "part", "at", "took", "tempo", "side", "finished", "judged", "number"},
	"mark": {"pass", "place", "is_join", "partner", "taken_back"}, "session": {"sheet", "steps", "plan"},
}

// keptFile returns a diary of three practices of two dances, as the bytes of its file.
func keptFile(t testing.TB) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "diary.db")
	d, err := diary.Open(path)
	require.NoError(t, err)
	marked := pass(evening(1), 120, "Basic", "Oar turn")
	marked.Marks = []practice.Mark{{Place: 1, Partner: routine.Follower}, {Place: 1, Join: true, Partner: routine.Leader}}
	keep(t, d.Begin(lantern, evening(0)), pass(evening(0), 112, "Basic", "Oar turn"), pass(evening(0), 116, "Basic"))
	keep(t, d.Begin(lantern, evening(1)), marked)
	keep(t, d.Begin(jetty, evening(2)), pass(evening(2), 87, "Box step"))
	require.NoError(t, d.Leave(lantern, []byte("{}")))
	require.NoError(t, d.Close())
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return text
}

// damage runs SQL on a copy of a diary, with the schema's constraints switched off.
func damage(t require.TestingT, path string, text []byte, query string, args ...any) {
	require.NoError(t, os.WriteFile(path, text, 0o600))
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	if _, err = db.Exec(query, args...); err != nil { // a constraint still applies: nothing is damaged
		require.Regexp(t, "constraint failed|datatype mismatch", err)
	}
}

// sound requires that somebody may have danced an entry.
func sound(t require.TestingT, p *practice.Kept) {
	_ = p.Dancers.String()
	require.LessOrEqual(t, p.Dancers, routine.FollowerAlone)
	require.Positive(t, p.Tempo)
	require.GreaterOrEqual(t, p.Took, time.Duration(0))
	_, err := p.At.MarshalJSON()
	require.NoError(t, err)
	require.NotEmpty(t, p.Danced)
	for _, m := range p.Marks {
		require.Less(t, m.Place, len(p.Danced))
		require.True(t, m.Place > 0 || m.Place == 0 && !m.Join)
		require.LessOrEqual(t, m.Partner, routine.Follower)
	}
}

// TestDamagedRows: whatever is in a row, nothing panics, all that can be read is, what can't be is
// reported, and the rest is there.
func TestDamagedRows(t *testing.T) {
	text, dir, n := keptFile(t), t.TempDir(), 0
	var tables []string
	for table := range columns {
		tables = append(tables, table)
	}
	rapid.Check(t, func(t *rapid.T) {
		n++
		path := filepath.Join(dir, fmt.Sprint(n, ".db"))
		table := rapid.SampledFrom(tables).Draw(t, "table")
		column := rapid.SampledFrom(columns[table]).Draw(t, "column")
		value := rapid.OneOf(rapid.Just[any](int64(math.MinInt64)), rapid.Just[any](int64(math.MaxInt64)), rapid.Just[any](int64(200)), rapid.Just[any](int64(-1)),
			rapid.Just[any](math.Inf(1)), rapid.Just[any](2.5), rapid.Just[any]("five"), rapid.Just[any]([]byte{0xff, 0}), rapid.Map(rapid.Int64(), func(n int64) any { return n }),
			rapid.Map(rapid.IntRange(0, 9), func(n int) any { return int64(n) })).Draw(t, "value")
		damage(t, path, text, fmt.Sprintf("UPDATE %s SET %s = ?", table, column)+first(table), value)
		d, err := diary.Read(path)
		require.NoError(t, err)
		defer d.Close()
		told := false
		check := func(err error) {
			if err != nil {
				require.ErrorAs(t, err, new(*diary.Damaged))
				told = true
			}
		}
		all := 0
		for e, err := range d.Entries("") {
			if check(err); err == nil {
				all++
				sound(t, &e.Kept)
			}
		}
		list, err := d.Figures()
		check(err)
		for _, k := range list {
			require.LessOrEqual(t, k.Best[routine.Leader], 2*routine.FastestTempo)
			require.Positive(t, k.RunThroughs)
		}
		_, err = d.Practices(time.Time{})
		check(err)
		_, err = d.Session(lantern)
		require.NoError(t, err)
		if all < 4 {
			require.True(t, told, "%d of 4 run-throughs are read", all)
		}
		if table == "mark" || table == "pass" || table == "practice" {
			require.GreaterOrEqual(t, all, 2, "the rest is there")
		}
		_, err = d.Forget("")
		require.NoError(t, err, "all of it can be forgotten")
	})
}

// first returns the condition that chooses one row of a table.
func first(table string) string {
	if table == "part_figure" || table == "mark" { // they have no row ids
		column := columns[table][0]
		return fmt.Sprintf(" WHERE %[1]s = (SELECT min(%[1]s) FROM %[2]s)", column, table)
	}
	return fmt.Sprintf(" WHERE rowid = (SELECT max(rowid) FROM %s)", table)
}

// TestWhatIsDamagedIsTold: the error says what is damaged, and how many rows are.
func TestWhatIsDamagedIsTold(t *testing.T) {
	text := keptFile(t)
	for query, want := range map[string]struct{ rows, passes int }{
		"UPDATE pass SET side = 200 WHERE id = 1":                                 {1, 3},
		"UPDATE pass SET tempo = -5, at = 'late' WHERE id < 3":                    {2, 2},
		"UPDATE mark SET partner = 7":                                             {3, 3}, // its run-through is unclear, too
		"UPDATE mark SET place = 9":                                               {1, 3},
		"DELETE FROM figure WHERE name = 'Box step'":                              {1, 3},
		"DELETE FROM part_figure WHERE place = 0":                                 {4, 0},
		"DELETE FROM sheet WHERE title = 'Jetty waltz'":                           {1, 3},
		"UPDATE practice SET took = -1":                                           {3 + 4, 0},
		"INSERT INTO pass VALUES (9, 1, 77, 1000, 1000, 112000, 0, 1, 3, 9)":      {1, 4},
		"INSERT INTO pass VALUES (9, 1, 1, 1000, 1000, 112000, 0, 'maybe', 3, 9)": {1, 4},
	} {
		path := filepath.Join(t.TempDir(), "diary.db")
		damage(t, path, text, query)
		d, err := diary.Read(path)
		require.NoError(t, err, query)
		passes := 0
		var damaged *diary.Damaged
		for _, err := range d.Entries("") {
			if err == nil {
				passes++
			} else {
				require.ErrorAs(t, err, &damaged, query)
			}
		}
		require.NotNil(t, damaged, query)
		assert.Equal(t, want.rows, damaged.Rows, query)
		assert.Equal(t, want.passes, passes, query)
		require.NoError(t, d.Close())
	}
}

// TestFiguresCountsDamageAsEntriesDoes: run-throughs of a part without marks are read together, but each
// one that can't be read counts, and a damaged mark spoils none of them.
func TestFiguresCountsDamageAsEntriesDoes(t *testing.T) {
	text := keptFile(t)
	for query, want := range map[string]struct{ rows, passes int }{
		"INSERT INTO pass SELECT id + 10, practice, part, at, took, tempo, side, finished, judged, number + 10 FROM pass WHERE id = 1; " +
			"DELETE FROM part_figure WHERE part = 1 AND place = 0": {3, 2}, // run-throughs 1 and 11, and 3, which is marked
		"UPDATE mark SET pass = 0 WHERE is_join = 0":                              {1, 6},
		"UPDATE mark SET pass = -1":                                               {2, 6},
		"UPDATE mark SET partner = 7":                                             {3, 4},
		"UPDATE pass SET side = 200 WHERE id = 1":                                 {1, 4},
		"UPDATE pass SET tempo = -5, at = 'late' WHERE id < 3":                    {2, 3},
		"INSERT INTO pass VALUES (9, 1, 1, 1000, 1000, 112000, 0, 'maybe', 3, 9)": {1, 6},
	} {
		path := filepath.Join(t.TempDir(), "diary.db")
		damage(t, path, text, query)
		d, err := diary.Read(path)
		require.NoError(t, err, query)
		_, err = d.Passes("")
		var damaged *diary.Damaged
		require.ErrorAs(t, err, &damaged, query)
		assert.Equal(t, want.rows, damaged.Rows, query)
		figures, err := d.Figures()
		require.ErrorAs(t, err, &damaged, query)
		assert.Equal(t, want.rows, damaged.Rows, query)
		passes := 0
		for _, f := range figures {
			passes += f.RunThroughs
		}
		assert.Equal(t, want.passes, passes, query)
		require.NoError(t, d.Close())
	}
}

// TestNoVersionPanics: an impossible version is reported.
func TestNoVersionPanics(t *testing.T) {
	text := keptFile(t)
	for _, version := range []int{math.MinInt32, -1, math.MaxInt32} {
		path := filepath.Join(t.TempDir(), "diary.db")
		damage(t, path, text, fmt.Sprint("PRAGMA user_version = ", version))
		want := diary.ErrCorrupt
		if version > 0 {
			want = diary.ErrNewer
		}
		for _, f := range []func(string) (*diary.Diary, error){diary.Open, diary.Read} {
			_, err := f(path)
			require.ErrorIs(t, err, want, version)
		}
	}
	path := filepath.Join(t.TempDir(), "diary.db")
	require.NoError(t, os.WriteFile(path, append(text[:len(text)/2:len(text)/2], make([]byte, len(text)/2)...), 0o600))
	if d, err := diary.Read(path); err == nil {
		defer d.Close()
		_, err = d.Figures()
		require.ErrorIs(t, err, diary.ErrCorrupt)
	} else {
		require.ErrorIs(t, err, diary.ErrCorrupt)
	}
}
