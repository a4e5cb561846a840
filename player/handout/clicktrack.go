package handout

import (
	"fmt"
	"io"
	"math"

	"github.com/gopxl/beep/v2"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout/encoder"
	"dance.example/slowquick/player/harmless"
)

// ClickTrack says how a routine is rendered.
type ClickTrack struct {
	Options
	Sounds player.Sounds // at Rate
	Levels audio.Levels
	Rate   int // frames a second: 44100 or 48000
	Bits   int // per sample: 16 or 24
	// Loudness is how loud the track is as a whole, in LUFS, if its peaks allow that; 0 to leave it as Levels
	// have it.
	Loudness float64
	// Progress is called now and then with the part of the whole that is written, from 0 to 1; it may
	// be nil.
	Progress func(part float64)
}

// How long, in seconds, the last sound may ring, and the song fades after the last step.
const (
	tail   = 0.5
	fading = 1.5
)

// WAV writes the routine as a WAV file (RIFF, PCM, stereo): the lead-in from frame 0 on, then every
// step on its exact frame, with the song if there is one. For a routine that is too long it returns an
// error before it writes; see [ClickTrack.FitsWAV].
func (t ClickTrack) WAV(w io.Writer, timeline *player.Timeline) error {
	if err := t.taggedWAV(w, timeline); err != nil {
		return fmt.Errorf("write wav: %w", err)
	}
	return nil
}

func (t ClickTrack) taggedWAV(w io.Writer, timeline *player.Timeline) error {
	if err := t.FitsWAV(timeline); err != nil {
		return err
	}
	heard, err := t.measured(timeline, 0.3)
	if err != nil {
		return err
	}
	tags, err := t.tags(timeline, heard)
	if err != nil {
		return err
	}
	return t.wav(w, timeline, heard, tags.RIFF(t.Rate))
}

// wav writes the sound, which has been measured, and chunks after it.
func (t ClickTrack) wav(w io.Writer, timeline *player.Timeline, heard loud, chunks []byte) error {
	return t.render(timeline, heard.done, 1-heard.done, func(s beep.Streamer, frames int64) error {
		return audio.WriteWAV(w, scaled(s, heard.gain), t.Rate, t.Bits, frames, chunks)
	})
}

// measured renders the track, which is share of the work, to find how loud it is.
func (t ClickTrack) measured(timeline *player.Timeline, share float64) (heard loud, err error) {
	if t.Loudness == 0 {
		return loud{gain: 1}, nil
	}
	err = t.render(timeline, 0, share, func(s beep.Streamer, frames int64) error {
		heard = measure(s, frames, t.Rate, t.Loudness)
		return nil
	})
	heard.done = share
	return heard, err
}

// tags returns what a track says about itself.
func (t ClickTrack) tags(timeline *player.Timeline, heard loud) (encoder.Tags, error) {
	o := t.Options
	o.Before = t.Before(timeline)
	r, err := NewTiming(timeline, &o)
	if err != nil {
		return encoder.Tags{}, err
	}
	d := timeline.Score.Dance
	tempo := timeline.OwnTempo().Scaled(r.RunThroughs[0].Percent)
	tags := encoder.Tags{Title: harmless.Handout(timeline.Score.Title), Genre: harmless.Handout(d.Name), Comment: d.TempoText(tempo), Tempo: tempo.Float(), End: r.End}
	heard.tag(&tags)
	for _, c := range r.Chapters() {
		tags.Chapters = append(tags.Chapters, encoder.Chapter{From: c.From, Name: harmless.Handout(c.Name)})
	}
	tags.Chapters[0].From = 0
	return tags, nil
}

// FitsWAV returns an error if the routine is longer than a WAV file can be. A FLAC file can hold it.
func (t ClickTrack) FitsWAV(timeline *player.Timeline) error {
	return audio.FitsWAV(t.Bits, t.frames(t.course(t.Rate, t.Sounds, timeline), timeline))
}

// Seconds returns how long the track is.
func (t ClickTrack) Seconds(timeline *player.Timeline) float64 {
	return float64(t.frames(t.course(t.Rate, t.Sounds, timeline), timeline)) / float64(t.Rate)
}

// Before returns how long, in seconds, the track sounds before its first count: a voice takes breath,
// and names the first figure. Handouts with this in their Options begin with the track.
func (t ClickTrack) Before(timeline *player.Timeline) float64 {
	late := t.course(t.Rate, t.Sounds, timeline).End() - t.course(t.Rate, player.Sounds{}, timeline).End()
	return math.Round(late/float64(t.Rate)*1e9) / 1e9 // a difference of large numbers has rounding errors
}

// render has write write the sound. In the progress reported, this begins at done and takes share.
func (t ClickTrack) render(timeline *player.Timeline, done, share float64, write func(s beep.Streamer, frames int64) error) error {
	if t.Rate != 44100 && t.Rate != 48000 {
		return fmt.Errorf("%d frames a second, not 44100 or 48000", t.Rate)
	}
	if len(timeline.Events)*t.times() > mostCounts {
		return errTooLong
	}
	course := t.course(t.Rate, t.Sounds, timeline)
	engine := audio.NewEngine(t.Rate)
	engine.SetLevels(0, t.Levels)
	engine.Play(course)
	frames := t.frames(course, timeline)
	if timeline.Music() != nil {
		song := player.NewAccompaniment(course)
		song.Plan(0, frames)
		engine.Accompany(song, player.MusicLayer)
	}
	s := beep.Streamer(engine)
	if t.Progress != nil {
		s = &progress{Engine: engine, tell: func(frame int) { t.Progress(done + share*float64(frame)/float64(frames)) }}
	}
	return write(s, frames)
}

func (t ClickTrack) frames(course *player.Course, timeline *player.Timeline) int64 {
	ringing := tail
	if timeline.Music() != nil {
		ringing = fading
	}
	return int64(math.Ceil(course.End() + ringing*float64(t.Rate)))
}

// progress is an engine that reports its position.
type progress struct {
	*audio.Engine
	tell func(frame int)
}

func (p *progress) Stream(samples [][2]float64) (n int, ok bool) {
	n, ok = p.Engine.Stream(samples)
	p.tell(p.Position())
	return n, ok
}
