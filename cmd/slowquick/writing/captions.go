package writing

import (
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/player/handout/captions"
)

func (d desk) writeCaptions() *cobra.Command {
	var of captions.Kind
	return d.command(kind{
		timed:   true,
		use:     "captions SHEET -o FILE",
		formats: []flags.Format{flags.Text("WebVTT", ".vtt"), flags.Text("SubRip", ".srt")},
		short:   "Write counts, steps or figures as captions for a film (WebVTT, SubRip)",
		example: "  slowquick write captions lantern-night.md -o steps.vtt --of steps\n  slowquick write captions lantern-night.md -o chapters.vtt --of figures",
		flags: func(cmd *cobra.Command) {
			flags.Word(cmd, &of, "of", "`WHAT` they say: counts, steps by half bars, or figures as chapters", captions.Names[:])
		},
		write: func(out io.Writer, w wanted) error {
			if w.format.Name == "SubRip" {
				return of.SubRip(out, w.Timeline, w.Options)
			}
			return of.WebVTT(out, w.Timeline, w.Options)
		},
	})
}
