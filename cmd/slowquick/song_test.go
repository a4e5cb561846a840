package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/adrg/xdg"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
)

// The tune has 17 bars of 4/4 at 112 beats a minute: a click on each beat, the first at
// 0.5 s.
const (
	tuneBars = 17
	tuneBeat = 60.0 / 112
)

// tune is the tune as a WAV file.
var tune = sync.OnceValues(func() (string, error) {
	e := audio.NewEngine(rate)
	e.Play(clicking{audio.NewKit(rate).Block, 4 * tuneBars})
	var wav strings.Builder
	err := audio.WriteWAV(&wav, e, rate, 16, tuneFrame(4*tuneBars))
	return wav.String(), err
})

type clicking struct {
	click audio.Sound
	beats int
}

func tuneFrame(k int) int64 { return int64(math.Round((0.5 + float64(k)*tuneBeat) * rate)) }

func (c clicking) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	for k := range c.beats {
		if f := tuneFrame(k); f >= from && f < to {
			dst = append(dst, audio.Hit{Frame: f, Sound: c.click, Gain: 1})
		}
	}
	return dst
}

// danceHall is a folder with the tune, whose beats are known, and a state folder
// of its own.
func danceHall(t *testing.T) string {
	dir := t.TempDir()
	t.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	t.Setenv("XDG_CACHE_HOME", filepath.Join(dir, "cache"))
	xdg.Reload()
	t.Cleanup(xdg.Reload)
	hallOnce.Do(func() { hall = listenedTo(t, dir) })
	require.NotNil(t, hall, "the tune can't be listened to")
	for name, text := range hall {
		putFile(t, dir, name, text)
	}
	return dir
}

// hall is what is in the dance hall, made once.
var (
	hallOnce sync.Once
	hall     map[string]string
)

// listenedTo writes the tune into a folder and listens to it; it returns all that the
// folder then holds.
func listenedTo(t *testing.T, dir string) map[string]string {
	wav, err := tune()
	require.NoError(t, err)
	var beats strings.Builder
	for k := range 4 * tuneBars {
		fmt.Fprintf(&beats, "%.6f %d\n", 0.5+float64(k)*tuneBeat, k%4+1)
	}
	putFile(t, dir, "hall/tune.wav", wav)
	putFile(t, dir, "beats.txt", beats.String())
	exit, _, errs := slowquick("listen", "--dance", "cha-cha", "--beats", filepath.Join(dir, "beats.txt"), filepath.Join(dir, "hall/tune.wav"))
	require.Equal(t, 0, exit, errs)
	return heldBy(t, dir)
}

// heldBy gives the texts of a folder's files by their paths.
func heldBy(t testing.TB, folder string) map[string]string {
	t.Helper()
	held := map[string]string{}
	require.NoError(t, fs.WalkDir(os.DirFS(folder), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(filepath.Join(folder, path))
		held[path] = string(text)
		return err
	}))
	return held
}

func putFile(t *testing.T, dir, name, text string) string {
	path := filepath.Join(dir, name)
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

func slowquick(args ...string) (exit int, out, errs string) {
	var o, e bytes.Buffer
	exit = run(args, strings.NewReader(""), &o, &e)
	return exit, o.String(), e.String()
}

// evening is a routine of so many times two bars, with settings of its song.
func evening(times int, settings string) string {
	return fmt.Sprintf("---\ndance: cha-cha\ntempo: 30 bars/min\n%s\n---\n\n## Order\n\n1. Closed basic × %d\n", settings, times)
}

// TestCheckSaysWhereSheetAndSongPart in a finding at the sheet's own line.
func TestCheckSaysWhereSheetAndSongPart(t *testing.T) {
	dir := danceHall(t)
	require.NoError(t, os.Symlink("../out.wav", filepath.Join(dir, "hall/link.wav")))
	putFile(t, dir, "out.wav", "")
	for _, c := range []struct{ name, sheet, want string }{
		{"fits", evening(4, "music: tune.wav\nmusic begins: bar 2"), ""},
		{"fits four times", evening(2, "music: tune.wav\nmusic begins: bar 2\nphrases: 8"), ""},
		{"long", evening(2, "music: tune.wav\nmusic begins: bar 1"),
			"4:8: warning: the song goes on for 1 bar after the routine has been danced 4 times: it has 17 bars from where the dance begins, the routine has 4 [song-long]"},
		{"short", evening(4, "music: tune.wav\nmusic begins: bar 11"),
			"4:8: warning: the song ends 1 bar before the routine: it has 7 bars from where the dance begins, the routine has 8 [song-short]"},
		{"late", evening(4, "music: tune.wav\nmusic begins: bar 40"),
			"4:8: warning: the song has 17 bars, so the dance can't begin with its bar 40 [song-unusable]"},
		{"gone", evening(4, "music: gone.wav"), "no such file or directory [song-unusable]"},
		{"up", evening(4, "music: ../out.wav"), `4:8: error: "../out.wav" is not in the sheet's folder or below it [bad-value]`},
		{"link", evening(4, "music: link.wav"), "4:8: warning: link.wav is outside the sheet's folder: move it there, or below [song-unusable]"},
		{"phrases", evening(4, "music: tune.wav\nmusic begins: bar 2\nphrases: 3 1"),
			`11:4: warning: phrase 1 of the song ends after bar 3, in the middle of "Closed basic" [phrase-crossed]`},
	} {
		t.Run(c.name, func(t *testing.T) {
			exit, out, errs := slowquick("check", putFile(t, dir, "hall/evening.md", c.sheet))
			assert.Empty(t, errs)
			if c.want == "" {
				assert.Empty(t, out)
				assert.Equal(t, 0, exit)
				return
			}
			assert.Equal(t, 1, exit)
			assert.Contains(t, out, c.want)
		})
	}
}

// TestATrackHoldsTheSong: in a song louder than everything else, each click is where the timeline has the
// beat, at any tempo.
func TestATrackHoldsTheSong(t *testing.T) {
	dir := danceHall(t)
	sheet := putFile(t, dir, "hall/evening.md", evening(4, "music: tune.wav\nmusic begins: bar 2"))
	for tempo, percent := range map[string]float64{"100 %": 100, "75 %": 75, "24 bars/min": 9600. / 112, "84 beats/min": 75} {
		file := filepath.Join(dir, fmt.Sprintf("%g.json", percent))
		exit, _, errs := slowquick("write", "timeline", sheet, "-o", file, "--force", "--tempo", tempo)
		require.Equal(t, 0, exit, errs)
		var doc struct {
			BeatsPerMinute float64
			Events         []struct{ Beat, Seconds float64 }
		}
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(text, &doc))
		for _, e := range doc.Events {
			want := (e.Beat - doc.Events[0].Beat) * tuneBeat * 100 / percent
			assert.InDelta(t, want, e.Seconds-doc.Events[0].Seconds, 1e-3)
		}
		assert.InDelta(t, 112*percent/100, doc.BeatsPerMinute, 0.01, "the song's 28 bars/min, not the sheet's 30")
	}
	plain, mixed := filepath.Join(dir, "plain.wav"), filepath.Join(dir, "mixed.wav")
	for file, song := range map[string]string{plain: "none", mixed: filepath.Join(dir, "hall/tune.wav")} {
		exit, _, errs := slowquick("write", "wav", sheet, "-o", file, "--music", song, "--tempo", "80 %")
		require.Equal(t, 0, exit, errs)
	}
	a, err := os.Stat(plain)
	require.NoError(t, err)
	b, err := os.Stat(mixed)
	require.NoError(t, err)
	assert.Greater(t, b.Size(), a.Size(), "the song is slower than the sheet, and dies away")
}

// TestATempoBeyondTheSong is a mistake on the command line, wherever it is given.
func TestATempoBeyondTheSong(t *testing.T) {
	dir := danceHall(t)
	sheet := putFile(t, dir, "hall/evening.md", evening(4, "music: tune.wav\nmusic begins: bar 2"))
	slow := "12 bars/min is too slow: the song's 28 bars/min can be danced from 50 to 120 %: 14 to 33.6 bars/min"
	for _, c := range []struct {
		args        []string
		tempo, want string
	}{
		{[]string{"write", "wav", sheet, "-o", filepath.Join(dir, "x.wav")}, "12 bars/min", slow},
		{[]string{"write", "captions", sheet, "-o", filepath.Join(dir, "x.srt")}, "48 beats/min", "48 beats/min is too slow: the song's 28 bars/min"},
		{[]string{"write", "midi", sheet, "-o", filepath.Join(dir, "x.mid")}, " 140 beats/min", "140 beats/min is too fast: the song's 28 bars/min"},
		{[]string{"write", "timeline", sheet, "-o", filepath.Join(dir, "x.json")}, "40 %", "40 % is too slow: the song's 28 bars/min"},
		{[]string{"write", "all", sheet, "-o", filepath.Join(dir, "x")}, "12 bars/min", slow},
		{[]string{"dance", "--plain", "--silent", sheet}, "12 bars/min", slow},
	} {
		exit, _, errs := slowquick(append(c.args, "--tempo", c.tempo)...)
		assert.Equal(t, 2, exit, c.args)
		assert.Contains(t, errs, "slowquick: error: --tempo: "+c.want, c.args)
	}
}

// TestPagesTellTheTempoThatIsHeard and not the sheet's.
func TestPagesTellTheTempoThatIsHeard(t *testing.T) {
	dir := danceHall(t)
	sheet := putFile(t, dir, "hall/evening.md", strings.Replace(evening(1, "music: tune.wav\nmusic begins: bar 2"), "× 1", "× 1\n   - tempo: 29 bars/min", 1))
	exit, _, errs := slowquick("write", "all", sheet, "-o", filepath.Join(dir, "all"), "--tempo", "24 bars/min")
	require.Equal(t, 0, exit, errs)
	text, err := os.ReadFile(filepath.Join(dir, "all/handout.txt"))
	require.NoError(t, err)
	assert.Contains(t, string(text), "24 bars/min (96 beats/min), 85.71 % of the song's")
	assert.NotContains(t, string(text), "24.9", "the tempo of an item is not heard")
}
