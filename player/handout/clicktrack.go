// Package handout writes a timeline for others to read or hear: the click
// track, and the timeline itself as JSON.
package handout

import (
	"fmt"
	"io"
	"math"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
)

// ClickTrack says how a routine is rendered.
type ClickTrack struct {
	Settings player.Settings
	Sounds   player.Sounds // at Rate
	Levels   audio.Levels
	Rate     int // frames a second: 44100 or 48000
	Bits     int // a sample: 16 or 24
}

// tail is how long, in seconds, the last sound may ring.
const tail = 0.5

// WAV writes the routine once through as a WAV file (RIFF, PCM, stereo): the
// lead-in from frame 0 on, then every step on its exact frame.
func (t ClickTrack) WAV(w io.Writer, line *player.Timeline) error {
	if t.Rate != 44100 && t.Rate != 48000 {
		return fmt.Errorf("write wav: %d frames a second, not 44100 or 48000", t.Rate)
	}
	set := t.Settings
	set.Repeat = player.Stretch{}
	course := player.NewCourse(t.Rate, t.Sounds, line, set).Start(0, line, line.Start, set)
	engine := audio.NewEngine(t.Rate)
	engine.SetLevels(0, t.Levels)
	engine.Play(course)
	frames := int64(math.Ceil(course.End() + tail*float64(t.Rate)))
	if err := audio.WriteWAV(w, engine, t.Rate, t.Bits, frames); err != nil {
		return fmt.Errorf("write wav: %w", err)
	}
	return nil
}
