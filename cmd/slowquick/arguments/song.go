package arguments

import (
	"context"
	"fmt"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/songs"
)

// ToSong returns a sheet's timeline as danced to its song. Without a song, or with an error, that is
// the timeline itself. It warns of what is damaged or unsure about the song.
func (r *Reader) ToSong(ctx context.Context, book songs.Book, d sheets.Document, timeline *player.Timeline) (*player.Timeline, error) {
	file, err := book.File(d.Name, d.Path, timeline.Score.Music)
	if err != nil || file == "" {
		return timeline, err
	}
	r.Reads(file)
	song, err := book.Read(ctx, file, timeline.Score.Dance, nil)
	if err != nil {
		return timeline, err
	}
	if song.Damage != nil {
		r.Warn(fmt.Errorf("%s: %w", song.Name, song.Damage))
	}
	if doubt := song.Doubt(); doubt != "" {
		r.Warn(fmt.Errorf("%s: %s", song.Name, doubt))
	}
	return song.Lay(timeline)
}
