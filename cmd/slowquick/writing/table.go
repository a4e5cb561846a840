package writing

import (
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/player/handout"
)

func (d desk) writeTable() *cobra.Command {
	var of handout.Table
	return d.command(kind{
		use:     "table SHEET -o FILE",
		formats: []flags.Format{flags.Text("CSV", ".csv"), flags.Text("TSV", ".tsv")},
		short:   "Write charts, order or flash cards as a table (CSV, TSV)",
		example: "  slowquick write table lantern-night.md -o charts.csv\n  slowquick write table lantern-night.md -o cards.tsv --of cards --partner follower",
		flags: func(cmd *cobra.Command) {
			flags.Word(cmd, &of, "of", "`WHAT` it lists: charts, order, or cards with a question and an answer each", handout.TableNames[:])
		},
		write: func(out io.Writer, w wanted) error {
			if w.format.Name == "TSV" {
				return of.TSV(out, w.Timeline, w.Options)
			}
			return of.CSV(out, w.Timeline, w.Options)
		},
	})
}
