package writing

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/handout/encoder"
)

// compressed are the formats that another program writes.
var compressed = map[string]encoder.Format{"MP3": encoder.MP3, "Opus": encoder.Opus, "AAC": encoder.AAC}

func (d desk) writeTrack() *cobra.Command {
	var program *encoder.Program // that compresses the track; nil for none
	return d.command(kind{
		timed:   true,
		heard:   true,
		use:     "track SHEET -o FILE",
		also:    "wav",
		formats: []flags.Format{flags.Binary("WAV", ".wav"), flags.Binary("FLAC", ".flac"), flags.Binary("MP3", ".mp3"), flags.Binary("Opus", ".opus"), flags.Binary("AAC", ".m4a")},
		short:   "Write the click track of a routine as a WAV, FLAC, MP3, Opus or AAC file",
		long: `Track writes the click track, as loud as --loudness says if its loudest click allows
that; the file says how loud it is. MP3, Opus and AAC need a program that compresses sound:
ffmpeg, or lame for MP3 and opusenc for Opus. They have the title, the tempo, and a
chapter for each figure. They begin exactly with the WAV file in browsers and in players
that know gapless sound; others play all of it up to 50 ms later.`,
		example: "  slowquick write track lantern-night.md -o slow.wav --tempo '80 %' --aloud\n  slowquick write track lantern-night.md -o practice.flac --figures 2-3 --gradually '70 to 100 % by 10' --rest 1",
		check: func(w wanted) error {
			if err := w.track.FitsWAV(w.Timeline); err != nil && w.format.Name != "FLAC" {
				return outcome.Failed(fmt.Errorf("write %s: %w", w.file, err), "write a .flac file, which can be longer")
			}
			if f, ok := compressed[w.format.Name]; ok {
				var err error
				program, err = encoder.Find(f)
				return outcome.Failed(err, "a .flac or .wav file needs no program")
			}
			return nil
		},
		write: func(out io.Writer, w wanted) error {
			if program != nil {
				return w.track.Compressed(d.Ctx, out, program, w.Timeline)
			}
			if w.format.Name == "FLAC" {
				return w.track.FLAC(out, w.Timeline)
			}
			return w.track.WAV(out, w.Timeline)
		},
	})
}
