package writing

import (
	"io"

	"dance.example/slowquick/cmd/slowquick/flags"
	"github.com/spf13/cobra"
)

func (d desk) writePlayAlong() *cobra.Command {
	return d.command(kind{
		timed:   true,
		heard:   true,
		use:     "playalong SHEET -o FILE",
		formats: []flags.Format{flags.Text("HTML", ".html", ".htm")},
		short:   "Write a page that plays the track and shows each step as it sounds, for a phone",
		example: "  slowquick write playalong lantern-night.md -o lantern-night.html --aloud --rhythm",
		write:   func(out io.Writer, w wanted) error { return w.track.PlayAlong(out, w.Timeline) },
	})
}
