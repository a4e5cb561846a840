package songs

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"sync"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/music/timestretch"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Book finds and reads the songs that sheets name.
type Book struct {
	Rate  int    // frames a second at which songs are read
	Given string // a file that replaces the song of one sheet, or None; "" for nothing
	For   string // the name of that sheet
}

// None is the song given for a sheet that is to be danced without one.
const None = "none"

// File returns the file of a sheet's song, or "" if it has none. Path is the sheet's own
// file: a song must lie in that folder or below it, even if links lead there.
func (b Book) File(sheet, path string, m routine.Music) (string, error) {
	switch {
	case b.Given == None && sheet == b.For:
		return "", nil
	case b.Given != "" && sheet == b.For:
		return b.Given, nil
	case m.File == "":
		return "", nil
	case path == "":
		return "", fmt.Errorf("%s can't be found, as the sheet is not in a folder: save the sheet beside its song", m.File)
	}
	folder, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		return "", err
	}
	file, err := filepath.EvalSymlinks(filepath.Join(folder, filepath.FromSlash(m.File)))
	if err != nil {
		return "", fmt.Errorf("find the song: %w", err)
	}
	if rel, err := filepath.Rel(folder, file); err != nil || !filepath.IsLocal(rel) {
		return "", fmt.Errorf("%s is outside the sheet's folder: move it there, or below", m.File)
	}
	return file, nil
}

// Song reads the song of a sheet, as File and Read do; nil if it has none.
func (b Book) Song(ctx context.Context, sheet, path string, score *routine.Score, told func(part float64)) (*Song, error) {
	file, err := b.File(sheet, path, score.Music)
	if err != nil || file == "" {
		return nil, err
	}
	return b.Read(ctx, file, score.Dance, told)
}

// Read reads a song. Its beats are those the dancer gave, or else those that are found at the
// tempi of d. Read calls told, which may be nil, with the part that is done, from 0 to 1.
func (b Book) Read(ctx context.Context, file string, d *routine.Dance, told func(part float64)) (*Song, error) {
	const reading = 0.7 // of the time
	if told == nil {
		told = func(float64) {}
	}
	recalled := make(chan *remembered, 1)
	go func() { recalled <- openMemory().recall(ctx, file, b.Rate) }()
	song, err := music.ReadFile(ctx, file, music.Options{Rate: b.Rate, Progress: func(part float64) { told(reading * part) }})
	if err != nil {
		return nil, err
	}
	out := &Song{Name: filepath.Base(file), Hash: song.Hash, Damage: song.Damage}
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
	kept, ok, err := keptBeats(SoundOf(song))
	if err != nil {
		out.Damage = errors.Join(out.Damage, err)
	}
	if out.Grid = kept; !ok || kept.Metre != d.Metre.Beats {
		known := <-recalled
		known.is(SoundOf(song))
		out.Grid, _ = known.find(search{widerTempi(d), d.Metre.Beats}, func() (_ *music.Heard, err error) {
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
func (Book) Keep(s *Song) error { return KeepBeats(s.Hash, s.Grid) }

// Forget forgets what was kept of a song, if anything was.
func (Book) Forget(s *Song) error {
	if err := ForgetBeats(s.Hash); !errors.Is(err, ErrNoneKept) {
		return err
	}
	return nil
}

// Findings reports where a sheet and its song disagree. Path is the sheet's own file; a sheet
// without one has no findings.
func (b Book) Findings(ctx context.Context, sheet, path string, score *routine.Score) []routine.Finding {
	if score.Music.File == "" || len(score.Passages) == 0 || path == "" {
		return nil
	}
	timeline, err := b.laid(ctx, sheet, path, score)
	if err != nil {
		return score.AgainstSong(routine.SongFound{Trouble: err.Error()})
	}
	return score.AgainstSong(routine.SongFound{Bars: timeline.MusicBars()})
}

// laid returns the timeline of a score as danced to its song.
func (b Book) laid(ctx context.Context, sheet, path string, score *routine.Score) (*player.Timeline, error) {
	file, err := b.File(sheet, path, score.Music)
	if err != nil {
		return nil, err
	}
	song, err := b.Read(ctx, file, score.Dance, nil)
	if err != nil {
		return nil, err
	}
	return song.Lay(player.NewTimeline(score))
}

// danced returns the tempi at which a dance is danced anywhere.
func danced(d *routine.Dance) routine.TempoRange {
	r := d.Usual
	if c := d.Competition; c != (routine.TempoRange{}) {
		r.Min, r.Max = min(r.Min, c.Min), max(r.Max, c.Max)
	}
	return r
}

// tempiOf returns the tempi at which a dance is danced, in beats a minute, and a hundredth
// around them: recordings are not made to measure.
func tempiOf(d *routine.Dance) music.Range {
	r := danced(d)
	return music.Range{Min: r.Min.Float() * 0.99, Max: r.Max.Float() * 1.01}
}

// widerTempi returns the tempi at which the beat of a dance's song is looked for, in beats a
// minute. Songs to practise to may be slower than the dance, so the range is wider, unless it
// would then hold two thirds of a tempo as well.
func widerTempi(d *routine.Dance) music.Range {
	const wider, widest = 1.15, 1.5
	r := danced(d)
	out := music.Range{Min: r.Min.Float() / wider, Max: r.Max.Float() * wider}
	if out.Max > out.Min*widest {
		return tempiOf(d)
	}
	return out
}
