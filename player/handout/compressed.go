package handout

import (
	"context"
	"fmt"
	"io"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout/encoder"
)

// Compressed writes the track as a program compresses it, with tags and a chapter for each figure. Its
// sounds are on the same times as those of [ClickTrack.WAV] for players that know gapless sound; others
// play the whole up to 50 ms later. The track must fit a WAV file.
func (t ClickTrack) Compressed(ctx context.Context, w io.Writer, p *encoder.Program, timeline *player.Timeline) error {
	tags, err := t.tags(timeline)
	if err == nil {
		err = p.Encode(ctx, w, &tags, func(w io.Writer) error { return t.wav(w, timeline, false) })
	}
	if err != nil {
		return fmt.Errorf("compress track: %w", err)
	}
	return nil
}
