package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/music/timestretch"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/routine"
)

// songs reads the songs that sheets are danced to. It is a [screen.Songs].
type songs struct {
	given string // the file that was named for a sheet, in place of its own; "" for none
	sheet string // that sheet's name
}

// noSong is what is named for a sheet that is to be danced without its song.
const noSong = "none"

// find gives the file of a sheet's song; "" if it has none. A song that the sheet names
// lies in its folder, wherever links lead. Path is the sheet's own file.
func (s songs) find(sheet, path string, m routine.Music) (string, error) {
	switch {
	case s.given == noSong && sheet == s.sheet:
		return "", nil
	case s.given != "" && sheet == s.sheet:
		return s.given, nil
	case m.File == "":
		return "", nil
	case path == "":
		return "", fmt.Errorf("%s: this sheet lies in no folder, so its song can't be found", m.File)
	}
	folder, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		return "", err
	}
	file, err := filepath.EvalSymlinks(filepath.Join(folder, filepath.FromSlash(m.File)))
	if err != nil {
		return "", fmt.Errorf("read a song: %w", err)
	}
	if rel, err := filepath.Rel(folder, file); err != nil || !filepath.IsLocal(rel) {
		return "", fmt.Errorf("%s leads out of the sheet's folder", m.File)
	}
	return file, nil
}

// Song reads the song of a sheet that is shown.
func (s songs) Song(ctx context.Context, l screen.Loaded, told func(part float64)) (*screen.Song, error) {
	score := l.Timeline.Score
	file, err := s.find(l.ID, l.Path, score.Music)
	if err != nil || file == "" {
		return nil, err
	}
	return s.read(ctx, file, score.Dance, rate, told)
}

// read reads a song at a rate, and finds its beats as those of a dance, or takes the
// ones that the dancer gave. Told is told how far it is, from 0 to 1; it may be nil.
func (s songs) read(ctx context.Context, file string, d *routine.Dance, rate int, told func(part float64)) (*screen.Song, error) {
	const reading = 0.7 // of the time
	if told == nil {
		told = func(float64) {}
	}
	recalled := make(chan *remembered, 1)
	go func() { recalled <- openMemory().recall(ctx, file, rate) }()
	song, err := music.ReadFile(ctx, file, music.Options{Rate: rate, Progress: func(part float64) { told(reading * part) }})
	if err != nil {
		return nil, err
	}
	out := &screen.Song{Name: filepath.Base(file), Hash: song.Hash, Damage: song.Damage}
	if out.Sound, err = timestretch.New(timestretch.Sound{Rate: song.Rate, Frames: song.Frames}); err != nil {
		return nil, err
	}
	var heard *music.Heard
	out.Heard = sync.OnceValue(func() *music.Heard {
		if heard != nil {
			return heard
		}
		h, _ := music.Listen(context.WithoutCancel(ctx), song) // fails only with the context
		return h
	})
	told(0.8)
	kept, ok, err := keptBeats(soundOf(song))
	if err != nil {
		out.Damage = errors.Join(out.Damage, err)
	}
	if out.Grid = kept; !ok || kept.Metre != d.Metre.Beats {
		known := <-recalled
		known.is(soundOf(song))
		out.Grid, _ = known.find(search{songTempi(d), d.Metre.Beats}, func() (_ *music.Heard, err error) {
			heard, err = music.Listen(ctx, song)
			return heard, err
		})
		known.keep()
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	told(1)
	return out, nil
}

// Keep keeps the beats of a song that the dancer has corrected.
func (songs) Keep(s *screen.Song) error { return keepBeats(s.Hash, s.Grid) }

// Forget forgets what was corrected of a song.
func (songs) Forget(s *screen.Song) error {
	if _, err := os.Stat(beatsFile(s.Hash)); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return forgetBeats(s.Hash)
}

// songTempi are the tempi at which the beat of a song is looked for, in beats a minute:
// those of its dance, and some to either side, as songs to practise to are slower. A
// wider range would also hold two thirds of a tempo.
func songTempi(d *routine.Dance) music.Range {
	const wider, widest = 1.15, 1.5
	r := d.Usual
	if c := d.Competition; c != (routine.TempoRange{}) {
		r.Min, r.Max = min(r.Min, c.Min), max(r.Max, c.Max)
	}
	out := music.Range{Min: r.Min.Float() / wider, Max: r.Max.Float() * wider}
	if out.Max > out.Min*widest {
		out = music.Range{Min: r.Min.Float() * 0.99, Max: r.Max.Float() * 1.01}
	}
	return out
}

// layOn lays a sheet's timeline on its song, if it has one that can be danced to; what
// is wrong or unsure is told.
func (a *app) layOn(ctx context.Context, s songs, d document, timeline *player.Timeline, rate int) (*player.Timeline, error) {
	file, err := s.find(d.name, d.path, timeline.Score.Music)
	if err != nil || file == "" {
		return timeline, err
	}
	a.inputs = append(a.inputs, file)
	song, err := s.read(ctx, file, timeline.Score.Dance, rate, nil)
	if err != nil {
		return timeline, err
	}
	if song.Damage != nil {
		a.warn(fmt.Errorf("%s: %w", song.Name, song.Damage))
	}
	if doubt := song.Doubt(); doubt != "" {
		a.warn(fmt.Errorf("%s: %s", song.Name, doubt))
	}
	return song.Lay(timeline)
}

// songFindings says where a sheet and its song part.
func (a *app) songFindings(ctx context.Context, d document, score *routine.Score) []routine.Finding {
	if score.Music.File == "" || len(score.Passages) == 0 || d.path == "" {
		return nil
	}
	unusable := func(err error) []routine.Finding {
		return score.AgainstSong(routine.SongFound{Trouble: err.Error()})
	}
	file, err := songs{}.find(d.name, d.path, score.Music)
	if err != nil {
		return unusable(err)
	}
	song, err := songs{}.read(ctx, file, score.Dance, rate, nil)
	if err != nil {
		return unusable(err)
	}
	timeline, err := song.Lay(player.NewTimeline(score))
	if err != nil {
		return unusable(err)
	}
	return score.AgainstSong(routine.SongFound{Bars: timeline.MusicBars()})
}

// checked gives every finding of a sheet, also where it parts from its song.
func (a *app) checked(ctx context.Context, d document) []routine.Finding {
	score, found := check.Sheet(d.name, d.text, a.library)
	return routine.Sorted(append(found, a.songFindings(ctx, d, score)...))
}
