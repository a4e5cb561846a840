package diary_test

import (
	"fmt"
	"math/rand/v2"
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

// runThroughsAYear is the number of run-throughs in a year of daily practice.
const runThroughsAYear = 10_000

// writeYears keeps years of practice: five sheets of twelve figures, danced whole or in part, every
// fifth run-through with marks.
func writeYears(t testing.TB, years int, path string) {
	t.Helper()
	d, err := diary.Open(path)
	require.NoError(t, err)
	chance := rand.New(rand.NewPCG(10, 1))
	days, all := years*365, years*runThroughsAYear
	parts := map[string]int64{}
	for day := range days {
		title := fmt.Sprint("Lantern Night ", day%5)
		var passes []practice.Kept
		for n := day * all / days; n < (day+1)*all/days; n++ {
			p := practice.Kept{
				At: evening(day - days).Add(time.Duration(len(passes)) * 40 * time.Second), Took: 35 * time.Second,
				Tempo: routine.Tempo(80+chance.IntN(40)) * routine.BeatPerMinute, Finished: true,
			}
			from, to := 0, 12
			if chance.IntN(3) > 0 {
				from = chance.IntN(11)
				to = from + 1 + chance.IntN(min(3, 12-from))
			}
			for i := from; i < to; i++ {
				p.Danced = append(p.Danced, practice.Danced{Figure: figure(fmt.Sprint(title, ", figure ", i)), Whole: true})
			}
			if chance.IntN(5) == 0 {
				place := chance.IntN(to - from)
				p.Marks = append(p.Marks, practice.Mark{Place: place, Partner: routine.Leader}, practice.Mark{Place: place, Partner: routine.Follower})
			}
			passes = append(passes, p)
		}
		require.NoError(t, d.Begin(practice.Sheet{Dance: "Cha-cha", Title: title, Order: title}, evening(day-days)).KeepAll(passes, parts))
	}
	require.NoError(t, d.Close())
}

// TestAYearIsASmallFile of less than 5 MB, so that ten years are less than 50.
func TestAYearIsASmallFile(t *testing.T) {
	if testing.Short() {
		t.Skip("writes 10,000 run-throughs")
	}
	path := filepath.Join(t.TempDir(), "diary.db")
	writeYears(t, 1, path)
	assert.Less(t, megabytes(t, path), 5.0)
	d := open(t, path)
	passes, err := d.Passes("Cha-cha")
	require.NoError(t, err)
	assert.Len(t, passes, runThroughsAYear)
	figures, err := d.Figures()
	require.NoError(t, err)
	assert.Len(t, figures, 60)
}

func megabytes(t testing.TB, path string) float64 {
	t.Helper()
	info, err := os.Stat(path)
	require.NoError(t, err)
	t.Logf("%.1f MB", float64(info.Size())/1e6)
	return float64(info.Size()) / 1e6
}

// BenchmarkTenYears opens such a file of less than 50 MB (wanted: under 100 ms), and reads it.
func BenchmarkTenYears(b *testing.B) {
	const years = 10
	path := filepath.Join(b.TempDir(), "diary.db")
	writeYears(b, years, path)
	require.Less(b, megabytes(b, path), 50.0)
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			d, err := diary.Open(path)
			require.NoError(b, err)
			require.NoError(b, d.Close())
		}
	})
	d := open(b, path)
	b.Run("practices", func(b *testing.B) {
		for b.Loop() {
			kept, err := d.Practices(time.Time{})
			require.NoError(b, err)
			require.Len(b, kept, years*365)
		}
	})
	b.Run("figures", func(b *testing.B) {
		for b.Loop() {
			_, err := d.Figures()
			require.NoError(b, err)
		}
	})
	b.Run("passes", func(b *testing.B) {
		for b.Loop() {
			_, err := d.Passes("Cha-cha")
			require.NoError(b, err)
		}
	})
	b.Run("keep", func(b *testing.B) {
		p := d.Begin(lantern, evening(0))
		for b.Loop() {
			require.NoError(b, p.Keep(pass(evening(0), 112, "Basic", "Oar turn")))
		}
	})
}

// BenchmarkMigration brings ten years of the schema that knows nothing of judging up to date, which happens once.
func BenchmarkMigration(b *testing.B) {
	dir := b.TempDir()
	old := filepath.Join(dir, "old.db")
	oldDiary(b, old, 10*runThroughsAYear)
	text, err := os.ReadFile(old)
	require.NoError(b, err)
	path := filepath.Join(dir, "diary.db")
	for b.Loop() {
		b.StopTimer()
		for _, file := range []string{path, path + "-wal", path + "-shm"} {
			require.NoError(b, os.RemoveAll(file))
		}
		require.NoError(b, os.WriteFile(path, text, 0o600))
		b.StartTimer()
		d, err := diary.Open(path)
		require.NoError(b, err)
		require.NoError(b, d.Close())
	}
}
