package writing

import (
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/handout/encoder"
)

func (d desk) writePlayAlong() *cobra.Command {
	var sound uint8 // 0 for FLAC
	var program *encoder.Program
	return d.command(kind{
		timed:   true,
		heard:   true,
		use:     "playalong SHEET -o FILE",
		formats: []flags.Format{flags.Text("HTML", ".html", ".htm")},
		short:   "Write a page that plays the track and shows each step as it sounds, for a phone",
		example: "  slowquick write playalong lantern-night.md -o lantern-night.html --aloud --rhythm\n  slowquick write playalong lantern-night.md -o small.html --aloud --sound mp3",
		flags: func(cmd *cobra.Command) {
			flags.Word(cmd, &sound, "sound", "the `SOUND` in the page: flac, or mp3, opus or aac, which are smaller and need ffmpeg or the like", []string{"flac", "mp3", "opus", "aac"})
		},
		check: func(wanted) (err error) {
			if sound > 0 {
				program, err = encoder.Find(encoder.Format(sound - 1))
			}
			return outcome.Failed(err, "--sound flac needs no program")
		},
		write: func(out io.Writer, w wanted) error { return w.track.PlayAlong(d.Ctx, out, program, w.Timeline) },
	})
}
