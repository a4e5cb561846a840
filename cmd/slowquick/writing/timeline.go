package writing

import (
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/player/handout"
)

func (d desk) writeTimeline() *cobra.Command {
	return d.command(kind{
		timed:   true,
		use:     "timeline SHEET -o FILE",
		formats: []flags.Format{flags.Text("JSON", ".json")},
		schema:  handout.TimelineSchema,
		short:   "Write every beat and step of a routine with its time, as JSON",
		example: "  slowquick write timeline lantern-night.md -o -\n  slowquick write timeline --schema",
		write:   func(out io.Writer, w wanted) error { return handout.JSON(out, w.Timeline, w.Options) },
	})
}
