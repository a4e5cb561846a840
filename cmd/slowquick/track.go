package main

import (
	"context"
	"fmt"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/calling"
	"dance.example/slowquick/player/handout"
	"github.com/spf13/cobra"
)

// trackFlags holds the flags of a track.
type trackFlags struct {
	aloud, rhythm bool
	call          bool   // figures are named aloud
	voice         string // a folder
	bits, rate    int
}

// voiceFlags adds the flags that say what is spoken in the track. They also change how long the track
// sounds before its first count, so handouts that start together with it take them too.
func (t *trackFlags) voiceFlags(cmd *cobra.Command, heard bool) {
	aloud, call := "count aloud", callUsage
	if !heard {
		aloud = "start together with a track written with --aloud"
		call = "start together with a track written with --call"
	}
	cmd.Flags().BoolVar(&t.aloud, "aloud", false, aloud)
	cmd.Flags().BoolVar(&t.call, "call", false, call)
	cmd.Flags().StringVar(&t.voice, "voice", "", voiceUsage)
}

func (t *trackFlags) soundFlags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&t.rhythm, "rhythm", false, "play the dance's rhythm")
	cmd.Flags().IntVar(&t.bits, "bits", t.bits, "`BITS` per sample: 16 or 24")
	cmd.Flags().IntVar(&t.rate, "rate", t.rate, "`FRAMES` per second: 44100 or 48000")
}

func (t *trackFlags) check() error {
	if t.bits != 16 && t.bits != 24 {
		return outcome.Usage(fmt.Errorf("--bits: %d; use 16 or 24", t.bits))
	}
	if t.rate != 44100 && t.rate != 48000 {
		return outcome.Usage(fmt.Errorf("--rate: %d; use 44100 or 48000", t.rate))
	}
	return nil
}

// sounds makes the sounds that a track's flags ask for.
func (a *app) sounds(ctx context.Context, t trackFlags, timeline *player.Timeline) player.Sounds {
	s := player.Sounds{Kit: audio.NewKit(t.rate)}
	if t.aloud || t.call {
		v := a.voice(t.rate, t.voice)
		if t.aloud {
			s.Voice = v
		}
		if t.call {
			s.Calls = calling.All(ctx, timeline, calling.NewSayer(v, t.rate, calling.Folder()), a.warn)
		}
	}
	if t.rhythm {
		s.Band = audio.NewBand(t.rate)
	}
	return s
}

// rhythmLevel is how loud the rhythm is in a track.
const rhythmLevel = 0.5

// clickTrack returns a track with some sounds, as its flags ask for it.
func (a *app) clickTrack(t trackFlags, s player.Sounds, o handout.Options) handout.ClickTrack {
	o.Settings.Call = t.call
	c := handout.ClickTrack{Options: o, Sounds: s, Levels: player.DefaultLevels(o.Shown), Rate: t.rate, Bits: t.bits}
	if t.rhythm {
		c.Levels[player.RhythmLayer] = rhythmLevel
	}
	return c
}
