package handout

import (
	"crypto/md5"
	"fmt"
	"io"

	"github.com/gopxl/beep/v2"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout/encoder"
)

// FLAC writes the same samples as WAV, losslessly compressed. It renders the routine twice, as the
// checksum with which a reader verifies the samples comes before them.
func (t ClickTrack) FLAC(w io.Writer, timeline *player.Timeline) error {
	if err := t.flac(w, timeline); err != nil {
		return fmt.Errorf("write flac: %w", err)
	}
	return nil
}

func (t ClickTrack) flac(w io.Writer, timeline *player.Timeline) error {
	frames := t.frames(t.course(t.Rate, t.Sounds, timeline), timeline)
	if frames > encoder.MostFLAC {
		return fmt.Errorf("%d frames are more than a FLAC file can hold", frames)
	}
	heard, err := t.measured(timeline, 0.2)
	if err != nil {
		return err
	}
	tags, err := t.tags(timeline, heard)
	if err != nil {
		return err
	}
	samples := func(w io.Writer) func(beep.Streamer, int64) error {
		return func(s beep.Streamer, frames int64) error {
			return audio.WritePCM(w, scaled(s, heard.gain), t.Bits, frames)
		}
	}
	sum := md5.New()
	if err := t.render(timeline, heard.done, 0.3, samples(io.MultiWriter(sum, emptyWrites{w}))); err != nil {
		return err
	}
	out, err := encoder.NewFLAC(w, t.Rate, t.Bits, frames, [md5.Size]byte(sum.Sum(nil)), &tags)
	if err != nil {
		return err
	}
	if err := t.render(timeline, heard.done+0.3, 0.7-heard.done, samples(out)); err != nil {
		return err
	}
	return out.Close()
}

// emptyWrites makes a zero-length write for each write, so that a dead writer stops the first
// rendering, too.
type emptyWrites struct{ w io.Writer }

func (e emptyWrites) Write(p []byte) (int, error) {
	if _, err := e.w.Write(nil); err != nil {
		return 0, err
	}
	return len(p), nil
}
