package writing

import (
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/folders"
)

func (d desk) writeCalendar() *cobra.Command {
	var to flags.Target
	var how flags.Handed
	var when flags.Evenings
	cmd := &cobra.Command{
		Use:   "calendar SHEET|FOLDER -o FILE --until DATE",
		Short: "Write a practice plan for calendars (iCalendar)",
		Long: `Calendar plans practice from the first day to the last: first in parts and slowly, then
the whole, up to tempo. The sheets of a folder are practised one after the other,
--minutes each, on the same evenings. Written again, the plan takes the old one's place.`,
		Example:           "  slowquick write calendar lantern-night.md -o practice.ics --until 2026-12-18 --days mon,fri --at 19:30\n  slowquick write calendar sheets -o practice.ics --until 2026-12-18 --minutes 20 --remind 60",
		Args:              arguments.Sheets(1),
		ValidArgsFunction: d.CompleteSheets,
		RunE: func(_ *cobra.Command, args []string) error {
			if _, err := to.Format(d.AtTerminal()); err != nil {
				return err
			}
			list, err := d.Danceables(args[0])
			if err != nil {
				return err
			}
			turns, err := when.Each(list)
			if err != nil {
				return err
			}
			var plans []handout.Plan
			for i, s := range list {
				o, err := how.Options(s.Timeline)
				if err != nil {
					return err
				}
				plans = append(plans, handout.Plan{Sheet: handout.Sheet{Text: s.Text, Line: s.Timeline, Options: o}, Practice: turns[i]})
			}
			name := list[0].Timeline.Score.Title
			if len(list) > 1 {
				name = folders.BookTitle(args[0])
			}
			return d.WriteTo(to.Path, to.Force, func(w io.Writer) error { return handout.Calendar(w, name, plans...) })
		},
	}
	to.Flags(cmd, flags.Text("iCalendar", ".ics"))
	how.Flags(cmd)
	when.Flags(cmd)
	return cmd
}
