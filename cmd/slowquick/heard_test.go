//go:build soundserver

package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/device/nullsink"
)

// TestTheScreenStaysWithTheSong dances to a song with a click on each beat, with all other sounds off, and
// compares when a sound server plays the clicks with when the counts are drawn. How close they are depends
// on what else the machine does, so it requires little and logs the figures.
func TestTheScreenStaysWithTheSong(t *testing.T) {
	dir := danceHall(t)
	putFile(t, dir, "hall/evening.md", evening(4, "music: tune.wav"))
	server := nullsink.Start(t)
	require.NoError(t, keepIn(filepath.Join(dir, "config"), "choices", `{"cautions seen": 1}`))
	require.NoError(t, keepIn(filepath.Join(dir, "config"), "levels",
		`{"voice": 0, "clicks": 0, "rhythm": 0, "song": 1, "leader": 0, "follower": 0}`))
	for _, test := range []struct{ tempo, view, key string }{
		{"60 %", "the steps", ""}, {"100 %", "the steps", ""}, {"60 %", "the plan as it moves", "v"}, {"100 %", "the plan as it moves", "v"},
	} {
		tempo := test.tempo
		cmd := inFolder(dir, "dance", "hall/evening.md", "--tempo", tempo)
		cmd.Env = append(cmd.Env, "PULSE_SERVER=unix:"+server.Socket())
		file, err := pty.StartWithSize(cmd, &pty.Winsize{Cols: 80, Rows: 24})
		require.NoError(t, err)
		t.Cleanup(func() {
			_ = cmd.Process.Kill()
			file.Close()
		})
		drawn := drawings(file)
		for d := range drawn {
			if bytes.Contains(d.text, []byte("space starts")) && !bytes.Contains(d.text, []byte("reading")) {
				break
			}
		}
		blocks := server.Record("1")
		_, err = file.WriteString(test.key + " ")
		require.NoError(t, err)
		clicks := clicksHeard(t, blocks, 15*rate)
		require.NoError(t, cmd.Process.Kill())
		var off []float64 // ms
		for d := range drawn {
			if !bytes.Contains(d.text, []byte("▲")) { // below another count
				continue
			}
			nearest := slices.MinFunc(clicks, func(a, b time.Time) int {
				return int(d.at.Sub(a).Abs() - d.at.Sub(b).Abs())
			})
			if ms := float64(d.at.Sub(nearest).Microseconds()) / 1000; math.Abs(ms) < 150 { // else it is a count between two
				off = append(off, ms)
			}
		}
		require.InDelta(t, len(clicks), len(off), 3, "%s, %s: a count is drawn for each click", tempo, test.view)
		slices.SortFunc(off, func(a, b float64) int { return int(1000 * (math.Abs(a) - math.Abs(b))) })
		half, most := math.Abs(off[len(off)/2]), math.Abs(off[len(off)*9/10])
		t.Logf("%s, %s: of %d counts half are drawn within %.1f ms of their click, nine of ten within %.1f, the last %.1f ms off",
			tempo, test.view, len(off), half, most, off[len(off)-1])
		assert.Less(t, half, 15.0, "%s, %s", tempo, test.view)
		assert.Less(t, most, 40.0, "%s, %s", tempo, test.view)
	}
}

// drawnScreen is what came to a terminal at one time.
type drawnScreen struct {
	at   time.Time
	text []byte
}

// drawings are what comes to a terminal until it is closed.
func drawings(terminal *os.File) <-chan drawnScreen {
	out := make(chan drawnScreen, 1<<14)
	go func() {
		defer close(out)
		buf := make([]byte, 1<<16)
		for {
			n, err := terminal.Read(buf)
			if err != nil {
				return
			}
			out <- drawnScreen{time.Now(), bytes.Clone(buf[:n])}
		}
	}()
	return out
}

// clicksHeard tells when clicks begin in the next frames of a recording.
func clicksHeard(t *testing.T, blocks <-chan nullsink.Block, frames int) (clicks []time.Time) {
	quiet := 0
	for n := 0; n < frames; {
		b := nullsink.Next(t, blocks)
		for i, f := range b.Frames {
			if quiet++; math.Abs(float64(f.Left)) > 0.05 {
				if quiet > rate/5 {
					clicks = append(clicks, b.At.Add(time.Duration(i)*time.Second/rate))
				}
				quiet = 0
			}
		}
		n += len(b.Frames)
	}
	return clicks
}
