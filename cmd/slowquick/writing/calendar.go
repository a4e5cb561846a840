package writing

import (
	"io"
	"time"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/player/handout"
)

func (d desk) writeCalendar() *cobra.Command {
	var when flags.Evenings
	var plan handout.Practice
	return d.command(kind{
		use:     "calendar SHEET -o FILE --until DATE",
		formats: []flags.Format{flags.Text("iCalendar", ".ics")},
		short:   "Write a practice plan for calendars (iCalendar)",
		example: "  slowquick write calendar lantern-night.md -o practice.ics --until 2026-12-18 --days mon,fri --at 19:30",
		flags:   when.Flags,
		check: func(wanted) (err error) {
			plan, err = when.Practice(time.Now())
			return err
		},
		write: func(out io.Writer, w wanted) error {
			return handout.Calendar(out, handout.Sheet{Text: w.Text, Line: w.Timeline, Options: w.Options}, plan)
		},
	})
}
