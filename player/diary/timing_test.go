package diary_test

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/timing"
)

// tapped is what is kept when somebody taps a sheet on an evening.
func tapped(sheet practice.Sheet, day int) diary.Timed {
	r := timing.Result{
		Unsure: timing.Unsure{Sound: 0.024, Taps: 0.032}, Whole: timing.Estimate{Value: -0.0123},
		Counts: []timing.Count{
			{Name: "2", Offsets: make([]float64, 16), Estimate: timing.Estimate{Value: 0.0011}, Spread: 0.020},
			{Name: "&", Offsets: make([]float64, 15), Estimate: timing.Estimate{Value: -0.060}, Spread: 0.0305},
			{Name: "1", Missed: 3},
		},
	}
	if day%2 == 1 {
		r.Drift = timing.Drift{Estimate: timing.Estimate{Value: 0.0102}, Known: true}
	}
	return diary.NewTimed(sheet, evening(day), 120_000, r)
}

// timings lists what a diary has of taps.
func timings(t *testing.T, d *diary.Diary) (list []diary.Timed) {
	t.Helper()
	all, err := d.Timings()
	require.NoError(t, err)
	for _, k := range all {
		list = append(list, diary.Timed{At: k.At, Sheet: k.Sheet, Tempo: k.Tempo, Whole: k.Whole, Unsure: k.Unsure, Drift: k.Drift, Counts: k.Counts})
	}
	return list
}

func TestTimingIsKept(t *testing.T) {
	d, err := diary.Open(filepath.Join(t.TempDir(), "diary.db"))
	require.NoError(t, err)
	defer d.Close()
	assert.Empty(t, timings(t, nil))
	want := []diary.Timed{tapped(lantern, 0), tapped(jetty, 1)}
	for _, k := range want {
		require.NoError(t, d.KeepTimed(k))
	}
	got := timings(t, d)
	require.Len(t, got, 2)
	for i := range got {
		assert.True(t, want[i].At.Equal(got[i].At))
		got[i].At = want[i].At
	}
	assert.Equal(t, want, got)
	assert.Equal(t, []diary.TimedCount{
		{Name: "2", Median: 1100 * time.Microsecond, Spread: 20 * time.Millisecond, Taps: 16},
		{Name: "&", Median: -60 * time.Millisecond, Spread: 30500 * time.Microsecond, Taps: 15},
	}, got[0].Counts)

	_, err = d.Forget(lantern.Title)
	require.NoError(t, err)
	assert.Len(t, timings(t, d), 1)
	_, err = d.Forget("")
	require.NoError(t, err)
	assert.Empty(t, timings(t, d))
}

func TestTimingIsMerged(t *testing.T) {
	dir := t.TempDir()
	ours, theirs := filepath.Join(dir, "ours.db"), filepath.Join(dir, "theirs.db")
	d, err := diary.Open(ours)
	require.NoError(t, err)
	defer d.Close()
	require.NoError(t, d.KeepTimed(tapped(lantern, 0)))
	other, err := diary.Open(theirs)
	require.NoError(t, err)
	require.NoError(t, other.KeepTimed(tapped(lantern, 1)))
	require.NoError(t, other.KeepTimed(tapped(jetty, 2)))
	require.NoError(t, other.Close())
	m, err := d.Merge(theirs)
	require.NoError(t, err)
	assert.Equal(t, diary.Merged{Timings: 2}, m)
	merged := timings(t, d)
	require.Len(t, merged, 3)
	assert.Equal(t, tapped(jetty, 2).Counts, merged[2].Counts)
	m, err = d.Merge(theirs)
	require.NoError(t, err)
	assert.Zero(t, m, "nothing is doubled")
	assert.Equal(t, merged, timings(t, d))
}

func TestDamagedTimingIsLeftOut(t *testing.T) {
	d, err := diary.Open(filepath.Join(t.TempDir(), "diary.db"))
	require.NoError(t, err)
	defer d.Close()
	require.NoError(t, d.KeepTimed(tapped(lantern, 0)))
	require.NoError(t, d.KeepTimed(tapped(lantern, 1)))
	_, err = d.DB().Exec("UPDATE timing SET tempo = 'fast' WHERE id = 1")
	require.NoError(t, err)
	got, err := d.Timings()
	assert.True(t, diary.IsDamaged(err), "%v", err)
	require.Len(t, got, 1)
	assert.NotNil(t, got[0].Drift)
}
