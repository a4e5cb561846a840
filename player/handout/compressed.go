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
		err = p.Encode(ctx, w, &tags, func(w io.Writer) error { return t.WAV(w, timeline) })
	}
	if err != nil {
		return fmt.Errorf("compress track: %w", err)
	}
	return nil
}

// tags returns what a track says about itself.
func (t ClickTrack) tags(timeline *player.Timeline) (encoder.Tags, error) {
	o := t.Options
	o.Before = t.Before(timeline)
	r, err := newTiming(timeline, &o)
	if err != nil {
		return encoder.Tags{}, err
	}
	d := timeline.Score.Dance
	tempo := timeline.OwnTempo().Scaled(r.runThroughs[0].Percent)
	tags := encoder.Tags{Title: oneLine(timeline.Score.Title), Genre: oneLine(d.Name), Comment: d.TempoText(tempo), Tempo: tempo.Float(), End: r.end}
	for _, c := range Chapters.laidOut(r, &o) {
		tags.Chapters = append(tags.Chapters, encoder.Chapter{From: c.from, Name: oneLine(c.text)})
	}
	tags.Chapters[0].From = 0
	return tags, nil
}
