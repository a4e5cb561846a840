package screen_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/songs"
	"dance.example/slowquick/routine"
)

// records is a [songpage.Book] with one song for all sheets, or one for each file.
type records struct {
	song      *songs.Song
	files     map[string]*songs.Song // that sheets may name; nil has the one song for all
	reading   atomic.Int32           // how many are being read
	err       error
	part      chan float64  // of the reading
	read      chan struct{} // closed when it has been; nil for at once
	kept      []music.Grid
	forgotten int
	asked     atomic.Value // the sheet and the path that it was asked for last
}

func (r *records) Song(ctx context.Context, sheet, path string, score *routine.Score, told func(float64)) (*songs.Song, error) {
	r.asked.Store([2]string{sheet, path})
	r.reading.Add(1)
	defer r.reading.Add(-1)
	for r.read != nil {
		select {
		case part := <-r.part:
			told(part)
			continue
		case <-r.read:
		case <-ctx.Done():
		}
		break
	}
	if r.files == nil {
		return r.song, r.err
	}
	file := score.Music.File
	song, ok := r.files[file]
	if !ok && file != "" {
		return nil, fmt.Errorf("%s: no such file", file)
	}
	return song, ctx.Err()
}

func (r *records) Keep(s *songs.Song) error {
	r.kept = append(r.kept, s.Grid)
	return nil
}

func (r *records) Forget(*songs.Song) error {
	r.forgotten++
	return nil
}

// sure is what is measured of a song with plain beats.
var sure = music.Confidence{Strength: 2, Phase: 1, Bar: 1}

// steady is a grid of 200 beats a minute in 4/4, whose frames are milliseconds.
func steady(c music.Confidence) music.Grid {
	g := music.Grid{Rate: 1000, Frames: 60_000, Metre: 4, Tempo: 200, Steady: []music.Stretch{{To: 60_000}}, Confidence: c}
	for i := range int64(199) {
		g.Beats = append(g.Beats, music.Beat{Frame: 300 * i, Number: int(i)%4 + 1})
	}
	return g
}

func record(c music.Confidence) *records {
	return &records{song: &songs.Song{Name: "quay-song.flac", Hash: "1", Grid: steady(c)}}
}

// dancesTo runs a test with a show of a sheet that is danced to a song.
func dancesTo(t *testing.T, r *records, width, height int, test func(*show)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) { test(newShow(t, "boathouse", width, height, screen.Options{Songs: r})) })
}

func TestASheetIsDancedToItsSong(t *testing.T) {
	dancesTo(t, record(sure), 80, 24, func(s *show) {
		s.heard()
		require.NotNil(t, s.now().Timeline.Music())
		assert.Contains(t, s.text(), "50 bars/min", "the song's tempo, not the sheet's 60")
		assert.Contains(t, s.text(), "song: 49 bars left")
		assert.Contains(t, s.text(), "phrase 1, bar 1 of 8")
		s.set("m", "the song", "left").heard()
		assert.InDelta(t, 0.6, s.engine.Levels()[player.MusicLayer], 1e-6)
		s.keys(" ")
		s.wait(4*300*time.Millisecond + 25*time.Millisecond) // the lead-in
		assert.Equal(t, player.Dancing, s.now().State)
		s.wait(4 * 300 * time.Millisecond)
		assert.Equal(t, "2.2", s.at(), "a bar later")
	})
}

// TestASongHasOneTempo, if its beats hardly get faster; otherwise the dancer sees how fast they get.
func TestASongHasOneTempo(t *testing.T) {
	for faster, one := range map[float64]bool{0.0003: true, 0.003: false} { // with each beat
		r := record(sure)
		for i := range r.song.Grid.Beats {
			r.song.Grid.Beats[i].Frame = int64(300 * float64(i) * (1 - faster/2*float64(i)))
		}
		dancesTo(t, r, 80, 24, func(s *show) {
			s.heard()
			s.keys(" ")
			told := map[string]bool{}
			for range 40 {
				s.wait(100 * time.Millisecond)
				title, _, _ := strings.Cut(s.text(), "\n")
				told[title] = true
			}
			assert.Equal(t, one, len(told) == 1, "%v", told)
		})
	}
}

// TestTheBarsThatAreLeftChangeWithABar, even if the song ends three beats into one.
func TestTheBarsThatAreLeftChangeWithABar(t *testing.T) {
	dancesTo(t, record(sure), 80, 24, func(s *show) {
		s.heard()
		s.set("o", "lead-in", "left").keys(" ")
		seen := map[int]bool{}
		for range 100 {
			s.wait(45 * time.Millisecond)
			var bar, left int
			_, text, _ := strings.Cut(s.text(), " DANCING  ")
			_, err := fmt.Sscanf(text, "bar %d of", &bar)
			require.NoError(t, err, text)
			_, text, _ = strings.Cut(text, "song: ")
			_, err = fmt.Sscanf(text, "%d bars left", &left)
			require.NoError(t, err, text)
			require.Equal(t, 50, bar+left)
			seen[bar] = true
		}
		assert.Len(t, seen, 5)
	})
}

func TestOneDancesWhileTheSongIsRead(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		r := record(sure)
		r.part, r.read = make(chan float64), make(chan struct{})
		s := newShow(t, "boathouse", 80, 24, screen.Options{Songs: r})
		s.keys(" ")
		r.part <- 0.42
		s.wait(2 * time.Second)
		assert.Equal(t, player.Dancing, s.now().State)
		assert.Nil(t, s.now().Timeline.Music())
		assert.Contains(t, s.text(), "reading the song, 42 %")
		s.choose("o", "the song")
		assert.Contains(t, s.text(), "The song is still being read")
		close(r.read)
		s.settle()
		s.wait(2 * time.Second) // with the next bar
		assert.NotNil(t, s.now().Timeline.Music())
		assert.Contains(t, s.text(), "song: ")
	})
}

// TestATempoIsWhatIsHeard, even once the song has joined; a percentage is of the tempo of what leads.
func TestATempoIsWhatIsHeard(t *testing.T) {
	for _, c := range []struct{ typed, before, after, said string }{
		{"45 bars/min", "45 bars/min (75 %)", "45 bars/min (90 %)", ""},
		{"180 beats/min", "45 bars/min (75 %)", "45 bars/min (90 %)", ""},
		{"80 %", "48 bars/min (80 %)", "40 bars/min (80 %)", ""},
		{"20 bars/min", "20 bars/min (33 %)", "25 bars/min (50 %)", "20 bars/min is too slow: the song's 50 bars/min can be danced from 50 to 120 %"},
		{"20 %", "12 bars/min (20 %)", "25 bars/min (50 %)", "20 % is too slow: the song's 50 bars/min can be danced from 50 to 120 %"},
		{"90 bars/min", "90 bars/min (150 %)", "60 bars/min (120 %)", "90 bars/min is too fast: the song's 50 bars/min can be danced from 50 to 120 %"},
	} {
		synctest.Test(t, func(t *testing.T) {
			r := record(sure)
			r.part, r.read = make(chan float64), make(chan struct{})
			s := newShow(t, "boathouse", 80, 24, screen.Options{Songs: r})
			s.keys("t", c.typed, "enter").heard()
			assert.Contains(t, s.text(), c.before)
			close(r.read)
			s.settle()
			assert.Contains(t, s.text(), c.said)
			s.heard()
			require.NotNil(t, s.now().Timeline.Music())
			assert.Contains(t, s.text(), c.after)
			s.keys("t", "enter").heard()
			assert.Contains(t, s.text(), "50 bars/min")
		})
	}
}

func TestASongThatCanNotBeRead(t *testing.T) {
	dancesTo(t, &records{err: errors.New("there is no sound in it")}, 80, 24, func(s *show) {
		s.heard()
		assert.Contains(t, s.text(), "without music: there is no sound in it")
		s.choose("o", "the song")
		assert.Contains(t, s.text(), "No song: name a song in the sheet")
		s.keys("esc", "m")
		assert.NotContains(t, s.text(), "the song")
	})
}

// TestTheDancerIsAsked if the beats aren't certain: there is a key for each way in which they may be wrong,
// and the answer is kept.
func TestTheDancerIsAsked(t *testing.T) {
	r := record(music.Confidence{Strength: 2, Phase: 0.2, Bar: 1})
	dancesTo(t, r, 80, 24, func(s *show) {
		s.heard()
		assert.Contains(t, s.text(), "and which lie between (o)")
		assert.Contains(t, s.text(), "unsure: o")
		s.choose("o", "the song")
		assert.Contains(t, s.text(), "if the clicks come between the beats, h moves them")
		first := func() music.Beat { return r.kept[len(r.kept)-1].Beats[0] }
		s.keys("h").heard()
		assert.Equal(t, music.Beat{Frame: 150, Number: 1}, first())
		assert.Contains(t, s.text(), "The beats are as you gave them, and kept for the next time.")
		assert.Contains(t, s.text(), "\nBeats half a beat later", "at the foot of the page")
		s.keys("right").heard()
		assert.Equal(t, music.Beat{Frame: 150, Number: 4}, first())
		s.keys("left").heard()
		assert.Equal(t, 1, first().Number)
		s.keys("+").heard()
		assert.Equal(t, 398, len(r.kept[len(r.kept)-1].Beats))
		s.keys("-").heard()
		assert.Equal(t, 199, len(r.kept[len(r.kept)-1].Beats))
		s.keys(" ")
		s.wait(2900 * time.Millisecond)
		n := len(r.kept)
		s.keys("1").heard()
		require.Len(t, r.kept, n+1)
		s.keys("0").heard()
		assert.Equal(t, 1, r.forgotten)
		assert.Contains(t, s.text(), "and which lie between")
		s.keys("esc").heard()
		assert.Contains(t, s.text(), "DANCING")
	})
}

// heardSong is what is heard of a made song: clicks 200 a minute, from 0.3 s on.
func heardSong(t *testing.T) *music.Heard {
	const rate = 16000
	path := filepath.Join(t.TempDir(), "clicks.wav")
	f, err := os.Create(path)
	require.NoError(t, err)
	sound := make(audio.Sound, rate*30)
	for at := rate * 3 / 10; at < len(sound)-800; at += rate * 3 / 10 {
		for i := range 800 {
			sound[at+i] = float32(0.5 * math.Exp(-float64(i)/100) * math.Sin(float64(i)))
		}
	}
	e := audio.NewEngine(rate)
	e.Play(allOf(sound, rate))
	require.NoError(t, audio.WriteWAV(f, e, rate, 16, int64(len(sound))))
	require.NoError(t, f.Close())
	s, err := music.ReadFile(t.Context(), path, music.Options{})
	require.NoError(t, err)
	h, err := music.Listen(t.Context(), s)
	require.NoError(t, err)
	return h
}

// hits is a schedule written out.
type hits []audio.Hit

func (l hits) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	for _, h := range l {
		if h.Frame >= from && h.Frame < to {
			dst = append(dst, h)
		}
	}
	return dst
}

// allOf is a long sound in parts that are not too long for an engine.
func allOf(sound audio.Sound, rate int) (list hits) {
	for at := 0; at < len(sound); at += 3 * rate {
		list = append(list, audio.Hit{Frame: int64(at), Sound: sound[at:min(at+3*rate, len(sound))], Gain: 1})
	}
	return list
}

// TestWhereThereIsNoBeatOnlyTapsTell: the song isn't danced to until somebody has tapped along.
func TestWhereThereIsNoBeatOnlyTapsTell(t *testing.T) {
	r := record(sure)
	heard := heardSong(t)
	r.song.Heard = func() *music.Heard { return heard }
	r.song.Grid = music.Grid{Rate: 16000, Frames: 30 * 16000, Metre: 4}
	dancesTo(t, r, 80, 24, func(s *show) {
		s.heard()
		assert.Nil(t, s.now().Timeline.Music())
		s.choose("o", "the song")
		assert.NotContains(t, s.text(), "half a beat later", "only tapping is offered")
		assert.Contains(t, s.text(), "tap along")
		s.keys("h", "b").heard()
		assert.Empty(t, r.kept)
		assert.Contains(t, s.text(), "Space plays the song")
		s.keys(" ")
		s.wait(1500 * time.Millisecond)
		assert.True(t, s.now().Settings.Quiet, "only the song is heard")
		for range 8 {
			s.keys("b")
			s.wait(300 * time.Millisecond)
		}
		s.wait(2 * time.Second)
		s.settle()
		require.Len(t, r.kept, 1)
		assert.InDelta(t, 200, r.kept[0].Tempo, 2)
		assert.True(t, r.kept[0].BeatGiven)
		s.heard()
		assert.NotNil(t, s.now().Timeline.Music())
	})
}

// withSong is the sheet of the tests with a song.
func withSong(file string) dance.Sheet {
	return read(strings.Replace(rehearsal.Boathouse, "tempo:", "music: "+file+"\ntempo:", 1))
}

// quayAndPier are songs with beats at 200 and at 240 a minute, and one without.
func quayAndPier() *records {
	pier := steady(sure)
	pier.Tempo = 240
	for i := range pier.Beats {
		pier.Beats[i].Frame = 250 * int64(i)
	}
	none := music.Grid{Rate: 1000, Frames: 60_000, Metre: 4}
	return &records{files: map[string]*songs.Song{
		"quay.flac": {Name: "quay.flac", Hash: "1", Grid: steady(sure)},
		"pier.flac": {Name: "pier.flac", Hash: "2", Grid: pier},
		"fog.flac":  {Name: "fog.flac", Hash: "3", Grid: none, Heard: func() *music.Heard { return &music.Heard{} }},
	}}
}

// tempoOfSong is that of the song that is heard; 0 for none.
func tempoOfSong(s *show) float64 {
	if m := s.now().Timeline.Music(); m != nil {
		return m.Grid.Tempo
	}
	return 0
}

// TestWhateverIsSavedWhileAPageIsOpen: the song that the sheet names now is heard, the page of a song that
// is gone closes, and any keys may follow.
func TestWhateverIsSavedWhileAPageIsOpen(t *testing.T) {
	const quay, pier, none, before = 200, 240, 0, -1 // beats a minute
	saved := map[string]struct {
		sheet dance.Sheet
		heard float64
		stays bool // the page
		words string
	}{
		"no song":           {read(rehearsal.Boathouse), none, false, "The sheet no longer names a song"},
		"missing song":      {withSong("gone.flac"), none, false, "without music: gone.flac: no such file"},
		"other dance":       {read(rehearsal.Lounge), none, false, "The sheet no longer names a song"},
		"other song":        {withSong("pier.flac"), pier, true, ""},
		"song without beat": {withSong("fog.flac"), none, true, ""},
		"faulty sheet":      {read(broken), before, true, ""},
		"empty sheet":       {read(""), before, true, ""},
	}
	pages := map[string][]string{
		"dance": nil, "help": {"?"}, "findings": {"o", "up", "enter"}, "questions": {"u", "down", "down", "enter"}, "tempo typed": {"t"},
		"mixer": {"m"}, "song": {"o", "up", "up", "enter"}, "song's help": {"o", "up", "up", "enter", "?"},
		"song played": {"o", "up", "up", "enter", " "}, "song tapped": {"o", "up", "up", "enter", " ", "b", "b"},
	}
	for file, tempo := range map[string]float64{"quay.flac": quay, "fog.flac": none} {
		for page, keys := range pages {
			for what, c := range saved {
				t.Run(file+"/"+page+"/"+what, func(t *testing.T) {
					synctest.Test(t, func(t *testing.T) {
						s := newShow(t, "", 80, 24, screen.Options{Songs: quayAndPier()})
						s.shelf.sheets["boathouse"] = withSong(file)
						s.keys("enter").heard()
						s.keys(keys...).heard()
						played := s.now().Timeline.Music() != nil && tempo == none // as the page lets a song be heard
						s.shelf.saved <- c.sheet
						s.settle()
						if page == "dance" || strings.HasPrefix(page, "song") && page != "song's help" {
							assert.Contains(t, s.text(), c.words)
						}
						s.wait(2 * time.Second) // a bar
						want := c.heard
						if want == before {
							want = tempo
						}
						if !played || !c.stays {
							assert.Equal(t, want, tempoOfSong(s))
						}
						if page == "song's help" {
							s.keys("esc").heard()
						}
						if strings.HasPrefix(page, "song") {
							assert.Equal(t, c.stays, strings.Contains(s.text(), "back to the dance"), s.text())
						}
						for _, key := range []string{"b", " ", "b", "h", "left", "+", "0", "k", "1", "?", "esc", "o", "up", "up", "enter", "b", "h", "0", "esc", "esc"} {
							s.keys(key).heard()
						}
						s.wait(2 * time.Second)
						assert.NotEmpty(t, s.text())
					})
				})
			}
		}
	}
}

// TestASavedSheetIsDancedWhateverBecomesOfItsSong: its steps aren't lost if its song comes or goes before
// the bar is over.
func TestASavedSheetIsDancedWhateverBecomesOfItsSong(t *testing.T) {
	for _, file := range []string{"", "pier.flac", "fog.flac", "gone.flac"} {
		synctest.Test(t, func(t *testing.T) {
			s := newShow(t, "", 80, 24, screen.Options{Songs: quayAndPier()})
			s.shelf.sheets["boathouse"] = withSong("quay.flac")
			s.keys("enter").heard()
			s.keys(" ")
			s.wait(1500 * time.Millisecond)
			require.Equal(t, player.Dancing, s.now().State)
			edited := strings.Replace(rehearsal.Boathouse, "Lantern step × 2", "Lantern step × 4", 1)
			if file != "" {
				edited = strings.Replace(edited, "tempo:", "music: "+file+"\ntempo:", 1)
			}
			s.shelf.saved <- read(edited)
			s.settle()
			s.wait(2 * time.Second)
			assert.Len(t, s.now().Timeline.Score.Passages, 6, "with %q", file)
		})
	}
}

// TestOnlyTheSongThatIsWantedIsRead: reading one that is no longer wanted ends, and nothing waits for a
// song that was read.
func TestOnlyTheSongThatIsWantedIsRead(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		r := quayAndPier()
		s := newShow(t, "boathouse", 80, 24, screen.Options{Songs: r})
		s.wait(11 * time.Second)
		waiting := s.waiting.Load()
		for range 5 {
			for _, file := range []string{"quay.flac", "pier.flac"} {
				s.shelf.saved <- withSong(file)
				s.heard()
			}
		}
		s.wait(11 * time.Second) // nothing is said any more
		assert.Equal(t, waiting, s.waiting.Load(), "commands that wait for something")

		r.read = make(chan struct{})
		for range 5 {
			for _, file := range []string{"quay.flac", "pier.flac"} {
				s.shelf.saved <- withSong(file)
				s.heard()
				assert.EqualValues(t, 1, r.reading.Load())
			}
		}
		s.keys("esc")
		s.settle()
		assert.Zero(t, r.reading.Load(), "once the sheet is left")
	})
}

func TestTheSongsPage(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {40, 10}} {
		for name, c := range map[string]music.Confidence{"sure": sure, "unsure": {Strength: 2, Phase: 1, Bar: 0.1}, "none": {Strength: 0.4}} {
			name := fmt.Sprintf("%s %dx%d", name, size[0], size[1])
			t.Run(name, func(t *testing.T) {
				dancesTo(t, record(c), size[0], size[1], func(s *show) {
					s.choose("o", "the song")
					rehearsal.Fits(t, s.styled(), size[0], size[1])
					golden.Equal(t, s.text())
				})
			})
		}
	}
}

// TestASongIsAskedForByTheSheetsWholeName: a song given for a sheet in another folder is given by that
// name.
func TestASongIsAskedForByTheSheetsWholeName(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		r := &records{}
		s := newShow(t, "", 80, 24, screen.Options{Songs: r})
		sheet := read(rehearsal.Boathouse)
		sheet.Name, sheet.ID, sheet.Path = "evening.md", "hall/evening.md", "/quay/hall/evening.md"
		s.shelf.sheets["boathouse"] = sheet
		s.keys("enter")
		want := [2]string{"hall/evening.md", "/quay/hall/evening.md"}
		assert.Equal(t, want, r.asked.Load())
		r.asked.Store([2]string{})
		sheet.Timeline, _ = rehearsal.Read(strings.Replace(rehearsal.Boathouse, "tempo:", "music: other.ogg\ntempo:", 1))
		s.shelf.saved <- sheet
		s.settle()
		assert.Equal(t, want, r.asked.Load(), "when it was saved, too")
	})
}
