package writing

import (
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/pages"
	"dance.example/slowquick/player/picture"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

func (d desk) writePlan() *cobra.Command {
	var to flags.Target
	var dancers routine.Dancers
	var view plan.View
	var pixels flags.Pixels
	cmd := &cobra.Command{
		Use:               "plan SHEET -o FILE",
		Short:             "Write where both partners' feet go, as a drawing (SVG, PDF, PNG) to print",
		Long:              "Plan draws both partners' feet, figure by figure, and the way through the room, as wide\nas A4 and Letter allow.",
		Example:           "  slowquick write plan lantern-night.md -o plan.pdf\n  slowquick write plan lantern-night.md -o plan.png --width 1200",
		Args:              arguments.Sheets(1),
		ValidArgsFunction: d.CompleteSheets,
		RunE: func(_ *cobra.Command, args []string) error {
			format, err := to.Format(d.AtTerminal())
			if err != nil {
				return err
			}
			if err := pixels.Check(format); err != nil {
				return err
			}
			s, err := d.Danceable(args[0])
			if err != nil {
				return err
			}
			paper := drawing.Paper{Shown: dancers.Each(), View: view}
			path := floor.Trace(s.Timeline.Score)
			return d.WriteTo(to.Path, to.Force, func(w io.Writer) error {
				drawn := paper.Draw(path)
				switch format.Name {
				case "PDF":
					return pages.Cut(w, path.Score.Title, &drawn, drawing.PageHeight)
				case "PNG":
					return picture.PNG(w, &drawn, pixels.Width)
				}
				return paper.SVG(w, path)
			})
		},
	}
	to.Flags(cmd, flags.Text("SVG", ".svg"), flags.Binary("PDF", ".pdf"), flags.Pixelled("PNG", ".png"))
	pixels.Flag(cmd)
	flags.Partner(cmd, &dancers)
	flags.Word(cmd, &view, "view", "where to look from, the `VIEW`: behind the leader, or the follower with --partner follower; opposite; or above",
		[]string{plan.Behind: "behind", plan.Opposite: "opposite", plan.Above: "above"})
	return cmd
}
