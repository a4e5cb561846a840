package main

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/timing"
	"dance.example/slowquick/routine"
)

// TestTimingsAreListed from the diary, and merged from another.
func TestTimingsAreListed(t *testing.T) {
	other, dir := t.TempDir(), t.TempDir()
	file := filepath.Join(other, "slowquick", "diary.db")
	d, err := diary.Open(file)
	require.NoError(t, err)
	r := timing.Result{
		Counts: []timing.Count{
			{Name: "4", Offsets: make([]float64, 9), Estimate: timing.Estimate{Value: 0.0046}, Spread: 0.0118},
			{Name: "&", Offsets: make([]float64, 9), Estimate: timing.Estimate{Value: -0.0604}, Spread: 0.015},
		},
		Drift: timing.Drift{Estimate: timing.Estimate{Value: 0.0104}, Known: true},
	}
	at := time.Date(2026, 9, 5, 19, 30, 0, 0, time.Local)
	require.NoError(t, d.KeepTimed(diary.NewTimed(practice.Sheet{Dance: "Cha-cha", Title: "Jetty", Order: "2"}, at, 120*routine.BeatPerMinute, r)))
	require.NoError(t, d.Close())

	stateIn(t, dir)
	out, _ := told(t, exitOK, "diary", "merge", file)
	assert.Equal(t, "Added how steps were tapped once.\n", out)
	out, _ = told(t, exitOK, "diary", "--timing")
	assert.Equal(t, `WHEN              SHEET  TEMPO        COUNT: MS LATE ± SPREAD  IN SILENCE
2026-09-05 19:30  Jetty  30 bars/min  4:+5±12 &:-60±15         +1.0 %
In milliseconds: + is late, − early. In silence + is slower.
`, out)
	const listed = "2026-09-05 19:30  Jetty  30 bars/min  4:+5±12 &:-60±15         +1.0 %\n"
	out, _ = told(t, exitOK, "diary")
	assert.Contains(t, out, listed, "the diary's page ends with it")
	out, _ = told(t, exitOK, "diary", "--timing", "--csv")
	assert.Equal(t, "ended,dance,sheet,beats_per_minute,count,ms,spread_ms,taps,all_ms,unsure_ms,drift_percent\n"+
		at.Format(time.RFC3339)+",Cha-cha,Jetty,120,4,4.6,11.8,9,0,0,1.04\n"+
		at.Format(time.RFC3339)+",Cha-cha,Jetty,120,&,-60.4,15,9,0,0,1.04\n", out)
	out, _ = told(t, exitOK, "diary", "--json")
	assert.Contains(t, out, `"spreadMs": 11.8`)

	_, errOut := told(t, exitUsage, "diary", "forget", "--sheet", "Quay", "--yes")
	assert.Contains(t, errOut, `the diary has no sheet with the title "Quay"`)
	out, _ = told(t, exitOK, "diary", "forget", "--sheet", "jetty", "--yes")
	assert.Equal(t, "Deleted 0 practices and 1 timing.\n", out, "a sheet that was only tapped")
	out, _ = told(t, exitOK, "diary", "--timing")
	assert.Equal(t, "No steps were tapped.\n", out)
}
