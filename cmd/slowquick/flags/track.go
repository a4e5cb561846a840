package flags

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/handout"
)

// Rate is how many frames of sound the program plays a second.
const Rate = 48000

// Track holds the flags of a track.
type Track struct {
	Aloud, Rhythm bool
	Call          bool   // figures are named aloud
	Voice         string // a folder
	Bits, Rate    int
	Loudness      float64        // of the whole, in LUFS; 0 to leave it as the levels make it
	Levels        map[string]int // per cent, by what is heard; those of Levelled
}

// Levelled are the names of what has a level.
var Levelled = []string{"voice", "clicks", "rhythm", "steps", "song"}

// VoiceFlags adds the flags that say what is spoken in the track. They also change how long the track
// sounds before its first count, so handouts that start together with it take them too.
func (t *Track) VoiceFlags(cmd *cobra.Command, heard bool) {
	aloud, call := "count aloud", callUsage
	if !heard {
		aloud = "start together with a track written with --aloud"
		call = "start together with a track written with --call"
	}
	cmd.Flags().BoolVar(&t.Aloud, "aloud", false, aloud)
	cmd.Flags().BoolVar(&t.Call, "call", false, call)
	cmd.Flags().StringVar(&t.Voice, "voice", "", VoiceUsage)
}

// SoundFlags adds the flags that say how the track sounds.
func (t *Track) SoundFlags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&t.Rhythm, "rhythm", false, "play the dance's rhythm")
	cmd.Flags().StringToIntVar(&t.Levels, "levels", nil, "how loud it is in per cent, the `LEVELS` of "+strings.Join(Levelled, ", ")+": voice=80,clicks=0")
	cmd.Flags().Float64Var(&t.Loudness, "loudness", handout.UsualLoudness, "how loud the whole is, in `LUFS`, -40 to -10, if its loudest click allows that; 0 to leave it as the levels make it")
	cmd.Flags().IntVar(&t.Bits, "bits", t.Bits, "`BITS` per sample: 16 or 24")
	cmd.Flags().IntVar(&t.Rate, "rate", t.Rate, "`FRAMES` per second: 44100 or 48000")
}

// Check returns an error if a flag has a wrong value.
func (t *Track) Check() error {
	if t.Bits != 16 && t.Bits != 24 {
		return outcome.Usage(fmt.Errorf("--bits: %d; use 16 or 24", t.Bits))
	}
	if t.Rate != 44100 && t.Rate != 48000 {
		return outcome.Usage(fmt.Errorf("--rate: %d; use 44100 or 48000", t.Rate))
	}
	if t.Loudness != 0 && !(t.Loudness >= -40 && t.Loudness <= -10) { // NaN isn't either
		return outcome.Usage(fmt.Errorf("--loudness: %g; use -40 to -10, or 0", t.Loudness))
	}
	for _, name := range slices.Sorted(maps.Keys(t.Levels)) {
		if !slices.Contains(Levelled, name) {
			return outcome.Usage(fmt.Errorf("--levels: %q is not heard; use %s", name, OrList(Levelled)))
		}
		if level := t.Levels[name]; level < 0 || level > 100 {
			return outcome.Usage(fmt.Errorf("--levels: %s=%d; use 0 to 100", name, level))
		}
	}
	return nil
}
