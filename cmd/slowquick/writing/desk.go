package writing

import (
	"context"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/calling"
	"dance.example/slowquick/player/handout"
)

// desk reads sheets, and writes handouts of them.
type desk struct{ *arguments.Reader }

// sounds makes the sounds that a track's flags ask for.
func (d desk) sounds(ctx context.Context, t flags.Track, timeline *player.Timeline) player.Sounds {
	s := player.Sounds{Kit: audio.NewKit(t.Rate)}
	if t.Aloud || t.Call {
		v := d.Voice(t.Rate, t.Voice)
		if t.Aloud {
			s.Voice = v
		}
		if t.Call {
			s.Calls = calling.All(ctx, timeline, calling.NewSayer(v, t.Rate, calling.Folder()), d.Warn)
		}
	}
	if t.Rhythm {
		s.Band = audio.NewBand(t.Rate)
	}
	return s
}

// rhythmLevel is how loud the rhythm is in a track.
const rhythmLevel = 0.5

// clickTrack returns a track with some sounds, as its flags ask for it.
func (d desk) clickTrack(t flags.Track, s player.Sounds, o handout.Options) handout.ClickTrack {
	o.Settings.Call = t.Call
	c := handout.ClickTrack{Options: o, Sounds: s, Levels: player.DefaultLevels(o.Shown), Rate: t.Rate, Bits: t.Bits, Loudness: t.Loudness}
	if t.Rhythm {
		c.Levels[player.RhythmLayer] = rhythmLevel
	}
	for name, percent := range t.Levels {
		for _, layer := range levelled[name] {
			c.Levels[layer] = float32(percent) / 100
		}
	}
	return c
}

// levelled are the layers of what [flags.Levelled] names.
var levelled = map[string][]audio.Layer{
	"voice": {player.VoiceLayer}, "clicks": {player.ClickLayer}, "rhythm": {player.RhythmLayer}, "steps": player.StepLayers[:], "song": {player.MusicLayer},
}
