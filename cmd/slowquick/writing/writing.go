// Package writing has the commands that write handouts.
package writing

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/outcome"
)

// Command returns the command write, which has one for each kind of handout.
func Command(r *arguments.Reader) *cobra.Command {
	d := desk{r}
	cmd := &cobra.Command{
		Use:   "write",
		Short: "Write handouts: pages, tracks, captions, plans",
		Args:  arguments.None,
		RunE: func(cmd *cobra.Command, _ []string) error {
			var names []string
			for _, c := range cmd.Commands() {
				names = append(names, c.Name())
			}
			return outcome.Usage(errors.New("say what to write: " + strings.Join(names, ", ")))
		},
	}
	cmd.AddCommand(d.writeHandout(), d.writeCards(), d.writePlayAlong(), d.writeTrack(), d.writeMIDI(), d.writeCaptions(), d.writeCalendar(), d.writeTimeline(), d.writePlan(), d.writeTable(), d.writeAll())
	return cmd
}
