package writing

import (
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/player/handout"
)

func (d desk) writeCards() *cobra.Command {
	var size handout.CardSize
	return d.command(kind{
		printed: true,
		use:     "cards SHEET -o FILE",
		formats: []flags.Format{flags.Text("HTML", ".html", ".htm"), flags.Binary("PDF", ".pdf")},
		short:   "Write a card for each figure, to print and to cut out",
		long:    "Cards writes a card for each figure, four or eight to a page, with marks where to cut: its\nchart, its drawing if that fits, and in words where it leads and which hands hold.",
		example: "  slowquick write cards lantern-night.md -o cards.pdf\n  slowquick write cards lantern-night.md -o cards.html --per-page 8 --paper letter",
		flags: func(cmd *cobra.Command) {
			flags.Word(cmd, &size, "per-page", "the `NUMBER` of cards on a page: 4 or 8", handout.CardNumbers[:])
		},
		write: func(out io.Writer, w wanted) error {
			s := handout.Sheet{Text: w.Text, Line: w.Timeline, Options: w.Options}
			if w.format.Name == "PDF" {
				return size.PDF(out, s)
			}
			return size.HTML(out, s)
		},
	})
}
