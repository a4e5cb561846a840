package songs

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/music/timestretch"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Song is a song that was read. It is never changed; a corrected song is a copy.
type Song struct {
	Name   string // of its file
	Hash   string // of its sound
	Damage error  // nil if it is whole
	Sound  *timestretch.Source
	Heard  func() *music.Heard // listens on the first call, which takes its time
	Grid   music.Grid
}

// ErrNoBeat means that a song has no beat a dance could follow.
var ErrNoBeat = errors.New("no clear beat is heard in the song at this dance's tempi")

// Lay returns the timeline as danced to the song. With an error, such as [ErrNoBeat], it returns
// the timeline as it was.
func (s *Song) Lay(timeline *player.Timeline) (*player.Timeline, error) {
	if !s.Grid.Clear() {
		return timeline, ErrNoBeat
	}
	return s.lay(timeline, s.Grid)
}

// LayEvenly is like Lay, but with beats at the dance's own tempo, whatever the song's are:
// for a song that has yet to be tapped along to.
func (s *Song) LayEvenly(timeline *player.Timeline) (*player.Timeline, error) {
	return s.lay(timeline, s.even(timeline.Score.Dance))
}

func (s *Song) lay(timeline *player.Timeline, g music.Grid) (*player.Timeline, error) {
	laid, err := timeline.To(&player.Music{Grid: g, Sound: s.Sound, Bar: timeline.Score.Music.Bar})
	if err != nil {
		return timeline, err
	}
	return laid, nil
}

// Doubt says what is unsure about the song's beats; "" if nothing is.
func (s *Song) Doubt() string {
	switch g := &s.Grid; {
	case !g.Clear():
		return ErrNoBeat.Error()
	case !g.SureOfBeat():
		return "not sure which are the song's beats, and which lie between"
	case !g.SureOfBar():
		return "not sure where the song's bars begin"
	}
	return Guessed(s.Grid)
}

// DoubtAt reports whether something is unsure about the song's beats at a frame, or soon after.
func (s *Song) DoubtAt(frame int64) bool {
	const soon = 5 // seconds
	if len(s.Grid.Doubtful) == 0 {
		return s.Doubt() != ""
	}
	return !s.Grid.SureOfBar() || slices.ContainsFunc(s.Grid.Doubtful, func(d music.Stretch) bool {
		return frame >= d.From-soon*int64(s.Grid.Rate) && frame <= d.To
	})
}

// Guessed says in which seconds the beats of a grid are a guess; "" if they are nowhere.
func Guessed(g music.Grid) string {
	if len(g.Doubtful) == 0 {
		return ""
	}
	var parts []string
	for _, d := range g.Doubtful {
		at := func(frame int64) string { return audio.Clock(float64(frame) / float64(g.Rate)) }
		parts = append(parts, at(d.From)+"–"+at(d.To))
	}
	const most = 4
	if n := len(parts); n > most {
		parts = append(parts[:most], fmt.Sprintf("%d more", n-most))
	}
	return "the beats are a guess at " + strings.Join(parts, ", ")
}

// even returns beats at the dance's tempo from the song's first frame to its last.
func (s *Song) even(d *routine.Dance) music.Grid {
	g := music.Grid{Rate: s.Grid.Rate, Frames: s.Grid.Frames, Metre: d.Metre.Beats, Steady: []music.Stretch{{To: s.Grid.Frames}}}
	beat := 60 / d.Tempo().Float() * float64(g.Rate)
	for i := 0; ; i++ {
		frame := int64(math.Round(float64(i) * beat))
		if frame >= g.Frames {
			return g
		}
		g.Beats = append(g.Beats, music.Beat{Frame: frame, Number: i%g.Metre + 1})
	}
}
