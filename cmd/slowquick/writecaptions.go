package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/player/handout"
)

func (a *app) writeCaptions() *cobra.Command {
	var of string
	return a.command(kind{
		timed:   true,
		use:     "captions SHEET -o FILE",
		formats: []format{{"WebVTT", []string{".vtt"}, false}, {"SubRip", []string{".srt"}, false}},
		short:   "Write counts, steps or figures as captions of a film (WebVTT, SubRip)",
		example: "  slowquick write captions lantern-night.md -o steps.vtt --of steps\n  slowquick write captions lantern-night.md -o chapters.vtt --of figures",
		flags: func(cmd *cobra.Command) {
			cmd.Flags().StringVar(&of, "of", "counts", "`WHAT` they tell: counts, steps, or figures as chapters")
			complete(cmd, "of", handout.CaptionNames[:]...)
		},
		writer: func(w wanted) (func(io.Writer) error, error) {
			k, err := captionsOf(of)
			if err != nil {
				return nil, err
			}
			write := k.WebVTT
			if w.format.name == "SubRip" {
				write = k.SubRip
			}
			return func(out io.Writer) error { return write(out, w.Timeline, w.Options) }, nil
		},
	})
}

func captionsOf(word string) (handout.Captions, error) {
	for k, name := range handout.CaptionNames {
		if name == word {
			return handout.Captions(k), nil
		}
	}
	return 0, usage(fmt.Errorf("--of: %q is not %s", word, strings.Join(handout.CaptionNames[:], ", ")))
}
