package main

import (
	"errors"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/blank"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
)

func (a *app) newSheet() *cobra.Command {
	var to flags.Target
	metre := ""
	cmd := &cobra.Command{
		Use:   "new DANCE",
		Short: "Begin a sheet",
		Long: `New writes a sheet to begin with: an order, one figure with its steps, and a few words
on how to go on. It never writes over a file. Any dance works with its --metre.`,
		Example: "  slowquick new rumba -o boathouse.md\n  slowquick new 'Boathouse swing' --metre 4/4",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return outcome.Usage(errors.New("name one dance, such as rumba"))
			}
			return nil
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return a.Library.Dances(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if _, err := to.Format(a.AtTerminal()); err != nil {
				return err
			}
			text, err := blank.Sheet(a.Library, strings.Join(strings.Fields(args[0]), " "), metre)
			if err != nil {
				return err
			}
			return a.WriteNew(to.Path, func(w io.Writer) error { _, err := w.Write(text); return err })
		},
	}
	to.Formats = []flags.Format{flags.Text("a sheet", ".md")}
	cmd.Flags().StringVarP(&to.Path, "output", "o", "-", "the new `FILE`, .md; - for standard output")
	cmd.Flags().StringVar(&metre, "metre", "", "the `METRE` of a dance that is not in the library: 3/4")
	_ = cmd.MarkFlagFilename("output", "md") // fails only for a flag that does not exist
	return cmd
}
