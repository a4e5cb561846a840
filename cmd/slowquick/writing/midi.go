package writing

import (
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/player/handout/midi"
)

func (d desk) writeMIDI() *cobra.Command {
	return d.command(kind{
		timed:   true,
		use:     "midi SHEET -o FILE",
		formats: []flags.Format{flags.Binary("MIDI", ".mid", ".midi")},
		short:   "Write clicks, rhythm, counts and steps as a MIDI file for music programs",
		example: "  slowquick write midi lantern-night.md -o lantern-night.mid",
		write:   func(out io.Writer, w wanted) error { return midi.Write(out, w.Timeline, w.Options) },
	})
}
