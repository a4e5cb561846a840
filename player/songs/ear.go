package songs

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/recording"
	"dance.example/slowquick/routine"
)

// Ear finds which dances songs suit.
type Ear struct {
	dances []*routine.Dance // that are asked about
	all    []*routine.Dance // that are known
	memory memory
}

// NewEar returns an ear for some dances. All are the dances known: whether a song suits one
// depends on how well it suits the others.
func NewEar(dances, all []*routine.Dance) *Ear { return &Ear{dances, all, openMemory()} }

// Listened is a song that was listened to.
type Listened struct {
	Path  string
	Sound Sound
	Given bool                         // the dancer gave its beats
	Fits  []Fit                        // one for each dance that was asked about, the best first
	Heard func() (*music.Heard, error) // reads or listens again if the song was remembered
}

// Suiting returns the fits of the dances that the song suits, the best first.
func (l *Listened) Suiting() []Fit {
	if i := slices.IndexFunc(l.Fits, func(f Fit) bool { return !f.Suits }); i >= 0 {
		return l.Fits[:i]
	}
	return l.Fits
}

// Fit is how well a song fits a dance.
type Fit struct {
	Dance *routine.Dance
	Grid  music.Grid // its beats as those of the dance
	Suits bool
}

// Levels returns the tempi, in beats a minute, at which a song's beat can be taken for the dances it
// suits, the slowest first.
func (l *Listened) Levels() (tempi []float64) {
	const alike = 0.03
	for _, f := range l.Suiting() {
		tempi = append(tempi, f.Grid.Tempo)
	}
	slices.Sort(tempi)
	return slices.CompactFunc(tempi, func(a, b float64) bool { return math.Abs(a/b-1) < alike })
}

// BarsPerMinute returns the tempo in bars a minute.
func (f Fit) BarsPerMinute() float64 { return f.Grid.Tempo / float64(f.Dance.Metre.Beats) }

// AtCompetitions reports whether the song suits the dance at a tempo of competitions.
func (f Fit) AtCompetitions() bool {
	c := f.Dance.Competition
	return f.Suits && f.Grid.Tempo >= c.Min.Float()*0.995 && f.Grid.Tempo <= c.Max.Float()*1.005
}

// Hear returns which dances a song suits, which was read from the file at path.
func (e *Ear) Hear(ctx context.Context, path string, song *music.Audio) (*Listened, error) {
	known := e.memory.recall(ctx, path, 0)
	known.is(SoundOf(song))
	return e.hear(ctx, path, known, sync.OnceValues(func() (*music.Heard, error) { return music.Listen(ctx, song) }))
}

// HearFile is like [Ear.Hear], but reads the song only if not enough is remembered of it.
func (e *Ear) HearFile(ctx context.Context, path string) (*Listened, error) {
	known := e.memory.recall(ctx, path, 0)
	heard := sync.OnceValues(func() (*music.Heard, error) {
		song, err := music.ReadFile(ctx, path, music.Options{Mute: true})
		if err != nil {
			return nil, err
		}
		if !known.is(SoundOf(song)) {
			return nil, fmt.Errorf("%s changed while it was being read: try again", path)
		}
		return music.Listen(ctx, song)
	})
	if known.Sound.Hash == "" {
		if _, err := heard(); err != nil {
			return nil, err
		}
	}
	return e.hear(ctx, path, known, heard)
}

// mostAtOnce is the most songs that are heard at the same time: each takes up to a quarter of
// a gigabyte.
const mostAtOnce = 4

// HearAll hears the songs of files, several at a time. It calls tell with each result, from
// the calling goroutine and in the order of the files; the songs' Heard is nil, so that no
// sound stays in memory. Guard runs each of its own goroutines.
func (e *Ear) HearAll(ctx context.Context, paths []string, guard func(func()), tell func(*Listened, error)) error {
	type result struct {
		song *Listened
		err  error
	}
	results := make([]chan result, len(paths))
	for i := range results {
		results[i] = make(chan result, 1)
	}
	next := make(chan int)
	go func() {
		defer close(next)
		for i := range paths {
			select {
			case next <- i:
			case <-ctx.Done():
				return
			}
		}
	}()
	for range min(runtime.GOMAXPROCS(0), mostAtOnce) {
		go guard(func() {
			for i := range next {
				song, err := e.HearFile(ctx, paths[i])
				if err == nil {
					song.Heard = nil // and with it the decoded sound
				}
				results[i] <- result{song, err}
			}
		})
	}
	for _, r := range results {
		select {
		case heard := <-r:
			tell(heard.song, heard.err)
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return nil
}

// hear takes the beats that are kept for a song, or else finds them for each dance.
func (e *Ear) hear(ctx context.Context, path string, known *remembered, heard func() (*music.Heard, error)) (*Listened, error) {
	l := &Listened{Path: path, Sound: known.Sound, Heard: heard}
	kept, ok, err := keptBeats(l.Sound)
	if err != nil {
		return nil, err
	}
	if l.Given = ok; ok {
		for _, d := range e.dances {
			tempi := tempiOf(d)
			suits := kept.Metre == d.Metre.Beats && kept.Tempo >= tempi.Min && kept.Tempo <= tempi.Max
			l.Fits = append(l.Fits, Fit{d, kept, suits})
		}
	} else {
		find := func(by search) (music.Grid, error) {
			if err := ctx.Err(); err != nil {
				return music.Grid{}, err
			}
			return known.find(by, heard)
		}
		if l.Fits, err = fitsOf(find, e.all); err != nil {
			return nil, err
		}
	}
	known.keep()
	l.Fits = slices.DeleteFunc(l.Fits, func(f Fit) bool { return !slices.Contains(e.dances, f.Dance) })
	slices.SortStableFunc(l.Fits, func(a, b Fit) int {
		return cmp.Or(compareBools(b.Suits, a.Suits), compareBools(b.Grid.SureOfBeat(), a.Grid.SureOfBeat()),
			compareBools(b.AtCompetitions(), a.AtCompetitions()), cmp.Compare(b.Grid.Phase, a.Grid.Phase))
	})
	return l, nil
}

// compareBools puts false before true.
func compareBools(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// fitsOf finds the beats of a song for each dance. A dance suits if there is a beat at its
// tempo that is about as strong as the strongest of all dances, and if the bars at that tempo
// don't clearly have another number of beats.
func fitsOf(find func(search) (music.Grid, error), dances []*routine.Dance) (fits []Fit, err error) {
	for _, d := range dances {
		g, err := find(search{tempiOf(d), d.Metre.Beats})
		if err != nil {
			return nil, err
		}
		fits = append(fits, Fit{Dance: d, Grid: g})
	}
	for i := range fits {
		f := &fits[i]
		f.Suits = f.Grid.Clear() && !slices.ContainsFunc(fits, f.isWeakBeside) && !slices.ContainsFunc(fits, f.hasOtherBars)
	}
	return fits, nil
}

// isWeakBeside reports whether other has much stronger beats. Beats that come once in a bar of f may
// be stronger still: they are no rivals of each beat.
func (f Fit) isWeakBeside(other Fit) bool {
	const enough, enoughInBar, alike = 0.6, 0.3, 0.03
	least := enough
	if bar := f.Grid.Tempo / float64(f.Dance.Metre.Beats); math.Abs(bar/other.Grid.Tempo-1) < alike {
		least = enoughInBar
	}
	return f.Grid.Strength < least*other.Grid.Strength
}

// hasOtherBars reports whether other, at the same tempo, has clearer bars: in threes where f
// has twos or fours, or the other way round.
func (f Fit) hasOtherBars(other Fit) bool {
	const clearly, alike = 0.3, 0.02
	threes := func(f Fit) bool { return f.Dance.Metre.Beats == 3 }
	return threes(f) != threes(other) && math.Abs(f.Grid.Tempo/other.Grid.Tempo-1) < alike && other.Grid.Bar > f.Grid.Bar+clearly
}

// Files returns the paths of the songs in a folder.
func Files(folder string) (paths []string, err error) {
	files, err := os.ReadDir(folder)
	for _, f := range files {
		if !f.IsDir() && recording.IsSound(recording.Kind(f.Name())) {
			paths = append(paths, filepath.Join(folder, f.Name()))
		}
	}
	return paths, err
}
