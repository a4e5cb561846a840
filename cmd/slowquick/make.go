package main

import (
	"errors"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/making"
	"dance.example/slowquick/player/typed"
)

func (a *app) make() *cobra.Command {
	plain := false
	cmd := &cobra.Command{
		Use:   "make [SHEET|DANCE]",
		Short: "Make a routine, or change one",
		Long: `Make opens the screen on which a routine is made, figure after figure from what can
follow: a new one of a dance, or a sheet to be changed. Without a name it asks for the
dance.

With --plain it prints lines and takes typed commands, for a screen reader or a
script; "help" lists them. Whatever isn't saved is kept: the list of sheets has it.`,
		Example: "  slowquick make\n  slowquick make waltz\n  slowquick make lantern-night.md --plain",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return outcome.Usage(errors.New("name one sheet or one dance"))
			}
			return nil
		},
		ValidArgsFunction: a.CompleteSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			open := func() (draft.Draft, error) { return a.toMake(args[0]) }
			plain = plain || !a.Draws()
			switch {
			case plain && len(args) == 0:
				return outcome.Usage(errors.New("name a sheet or a dance to make a routine of"))
			case plain:
				d, err := open()
				if err != nil {
					return err
				}
				return outcome.Failed(typed.Run(a.In, a.Out, d, a.drafts()), "")
			case len(args) == 0:
				return a.showList(cmd.Context(), func(o *screen.Options) { o.Make.Begin = true })
			}
			d, err := open()
			if err != nil {
				return err
			}
			return a.showList(cmd.Context(), func(o *screen.Options) {
				o.Make.First = func() (draft.Draft, error) { return d, nil }
			})
		},
	}
	cmd.Flags().BoolVar(&plain, "plain", false, "print lines, and read commands")
	return cmd
}

// toMake returns the draft of a dance's new routine, or of a sheet.
func (a *app) toMake(name string) (draft.Draft, error) {
	if d, ok := a.Library.Dance(name); ok && !a.Shelf().Names(name) {
		return a.newDraft(making.Beginning{Dance: d})
	}
	doc, err := a.Open(name)
	if err != nil {
		return draft.Draft{}, err
	}
	d, err := draft.Open(a.Shelf(), doc)
	return d, outcome.Failed(err, "")
}
