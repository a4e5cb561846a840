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
	if err := t.compressed(ctx, w, p, timeline); err != nil {
		return fmt.Errorf("compress track: %w", err)
	}
	return nil
}

func (t ClickTrack) compressed(ctx context.Context, w io.Writer, p *encoder.Program, timeline *player.Timeline) error {
	heard, err := t.measured(timeline, 0.3)
	if err != nil {
		return err
	}
	tags, err := t.tags(timeline, heard)
	if err != nil {
		return err
	}
	return p.Encode(ctx, w, &tags, func(w io.Writer) error { return t.wav(w, timeline, heard, nil) })
}
