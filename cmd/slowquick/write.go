package main

import (
	"errors"
	"strings"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"github.com/spf13/cobra"
)

func (a *app) write() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "write",
		Short: "Write handouts: pages, tracks, captions, plans",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			var names []string
			for _, c := range cmd.Commands() {
				names = append(names, c.Name())
			}
			return outcome.Usage(errors.New("say what to write: " + strings.Join(names, ", ")))
		},
	}
	cmd.AddCommand(a.writeHandout(), a.writeWAV(), a.writeMIDI(), a.writeCaptions(), a.writeCalendar(), a.writeTimeline(), a.writePlan(), a.writeAll())
	return cmd
}
