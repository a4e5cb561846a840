package writing

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
)

func (d desk) writeWAV() *cobra.Command {
	return d.command(kind{
		timed:   true,
		heard:   true,
		use:     "wav SHEET -o FILE",
		formats: []flags.Format{flags.Binary("WAV", ".wav"), flags.Binary("FLAC", ".flac")},
		short:   "Write the click track of a routine as a WAV or FLAC file",
		example: "  slowquick write wav lantern-night.md -o slow.wav --tempo '80 %' --aloud\n  slowquick write wav lantern-night.md -o practice.flac --figures 2-3 --gradually '70 to 100 % by 10' --rest 1",
		check: func(w wanted) error {
			if err := w.track.FitsWAV(w.Timeline); err != nil && w.format.Name == "WAV" {
				return outcome.Failed(fmt.Errorf("write %s: %w", w.file, err), "write a .flac file, which can be longer")
			}
			return nil
		},
		write: func(out io.Writer, w wanted) error {
			if w.format.Name == "FLAC" {
				return w.track.FLAC(out, w.Timeline)
			}
			return w.track.WAV(out, w.Timeline)
		},
	})
}
