package main

import (
	"bytes"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

func (a *app) tidy() *cobra.Command {
	show, only := false, false
	cmd := &cobra.Command{
		Use:   "tidy SHEET…",
		Short: "Write sheets in their one form",
		Long: `Tidy aligns the charts of sheets and writes counts, steps, positions and the
order in their full form. Prose and comments stay, and what is danced never
changes. Files are changed in place, whole or not at all; a sheet that can't be
read stays as it is. The names of changed files are printed.`,
		Example:           "  slowquick tidy lantern-night.md\n  slowquick tidy - < notes.md > lantern-night.md",
		Args:              sheetArgs(0),
		ValidArgsFunction: a.completeSheets,
		RunE: func(_ *cobra.Command, args []string) error {
			docs, err := a.openAll(args)
			untidy := false
			for _, d := range docs {
				text, found := routine.Tidy(d.Name, d.Text, a.library)
				if routine.HasErrors(found) {
					a.printFindings(a.err, d, found)
					fmt.Fprintf(a.err, "slowquick: hint: %s stays as it is until that is mended\n", harmless.Masked(d.Name))
					untidy = true
					continue
				}
				same := bytes.Equal(text, d.Text)
				switch {
				case only:
					if !same {
						fmt.Fprintln(a.out, harmless.Masked(d.Name))
						untidy = true
					}
				case show || d.Path == "":
					_, _ = a.out.Write(text) // a.out keeps its error
				case !same:
					if err := store.WriteWhole(d.Path, func(w io.Writer) error { _, err := w.Write(text); return err }); err != nil {
						return failed(err, "the file is as it was")
					}
					fmt.Fprintln(a.out, harmless.Masked(d.Name))
				}
			}
			switch {
			case err != nil:
				return err
			case untidy:
				return withFindings()
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&show, "print", false, "print the tidy sheets instead of changing files")
	cmd.Flags().BoolVar(&only, "list", false, "name the sheets that are not tidy and change nothing; exit code 1 if there are any")
	return cmd
}
