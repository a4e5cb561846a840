package songs

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/adrg/xdg"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/library"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// pierSheet is a cha-cha of a minute, whose couple steps on every beat.
var pierSheet = `---
dance: cha-cha
---

## Order

1. Pier step × 30

## Pier step

| Count | Leader | Follower |
|-------|--------|----------|
| 1 | LF forward | RF back |
| 2 | RF replace | LF replace |
| 3 | LF back | RF forward |
| 4 | RF replace | LF replace |
`

// TestClicksAreOnASongThatBreathes: 95 % of a track's clicks are within 15 ms of the song's own, whose
// tempo grows by four per cent after it stopped for one and a half beats. That the slowed song sounds where
// the timeline says is tested with the player.
func TestClicksAreOnASongThatBreathes(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	t.Setenv("XDG_CACHE_HOME", filepath.Join(dir, "cache"))
	xdg.Reload()
	t.Cleanup(xdg.Reload)
	file, truth := pierSong()
	song, err := Book{Rate: rate}.Read(t.Context(), putFile(t, dir, "pier.wav", file), mustDance(t, "cha-cha"), nil)
	require.NoError(t, err)
	score, found := routine.Read("pier.md", []byte(pierSheet), library.Open())
	require.False(t, routine.HasErrors(found), "%v", found)
	timeline, err := song.Lay(player.NewTimeline(score))
	require.NoError(t, err)
	for _, percent := range []float64{75, 100} {
		set := player.Settings{Percent: percent}
		c := player.NewCourse(rate, player.Sounds{Kit: audio.NewKit(rate)}, timeline, set).Start(0, timeline, timeline.Start, set)
		near, all := 0, 0
		for _, h := range c.Hits(nil, 0, int64(c.End())) {
			place := float64(timeline.MusicFrame(c.At(float64(h.Frame)).Beat))
			if h.Layer != player.ClickLayer || place > truth[len(truth)-1]+rate/4 {
				continue
			}
			apart := math.Inf(1)
			for _, beat := range truth {
				apart = min(apart, math.Abs(place-beat)/rate/(percent/100))
			}
			if all++; apart <= 0.015 {
				near++
			}
		}
		assert.Greater(t, all, 100)
		assert.GreaterOrEqual(t, float64(near), 0.95*float64(all), "%g %%: %d of %d", percent, near, all)
		t.Logf("%g %%: %d of %d", percent, near, all)
	}
}

const rate = 44100

// pierSong is a WAV file with a click on each of some frames: 118 a minute, and four per cent more after a
// stop of one and a half beats.
func pierSong() (file string, truth []float64) {
	samples := []byte(strings.Repeat("\x80", 70*rate))
	length, at := 60.0/118*rate, 0.5*rate
	for i := range 128 {
		copy(samples[int(at):], strings.Repeat("\xff\xe0\xc0\x40\x20\x01", 20))
		truth = append(truth, at)
		if at += length; i == 63 {
			at += 1.5 * length
			length /= 1.04
		}
	}
	head := wav(string(samples))[:44]
	return strings.ReplaceAll(head, "\x40\x1f\x00\x00", "\x44\xac\x00\x00") + string(samples), truth // at this rate, not at 8000
}

func mustDance(t *testing.T, name string) *routine.Dance {
	d, ok := library.Open().Dance(name)
	require.True(t, ok)
	return d
}
