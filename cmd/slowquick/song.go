package main

import (
	"context"
	"fmt"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/songs"
)

// songbook is the book of songs as a [screen.Songs].
type songbook struct{ songs.Book }

// Song reads the song of a sheet that is shown.
func (s songbook) Song(ctx context.Context, l screen.Loaded, told func(part float64)) (*songs.Song, error) {
	score := l.Timeline.Score
	file, err := s.File(l.ID, l.Path, score.Music)
	if err != nil || file == "" {
		return nil, err
	}
	return s.Read(ctx, file, score.Dance, told)
}

// layOn returns a sheet's timeline as danced to its song, if it has one that can be danced to.
// It warns of what is wrong or unsure.
func (a *app) layOn(ctx context.Context, book songs.Book, d sheets.Document, timeline *player.Timeline) (*player.Timeline, error) {
	file, err := book.File(d.Name, d.Path, timeline.Score.Music)
	if err != nil || file == "" {
		return timeline, err
	}
	a.inputs = append(a.inputs, file)
	song, err := book.Read(ctx, file, timeline.Score.Dance, nil)
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
