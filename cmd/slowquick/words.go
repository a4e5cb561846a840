package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/glossary"
)

func (a *app) words() *cobra.Command {
	asJSON, all, language := false, false, ""
	cmd := &cobra.Command{
		Use:   "words [PART…]",
		Short: "List the words that sheets are written with",
		Long: `Words lists what you can write in a sheet and what it means, with the other words that
are read as the same. PART is ` + flags.OrList(routine.VocabularyParts()) + `;
without it all are listed. Where more words are read than fit on a line, … stands for
the rest; --all lists them, and --json has the words of all languages. slowquick help
sheet shows how a sheet is written.`,
		Example:   "  slowquick words steps\n  slowquick words positions --language german",
		ValidArgs: routine.VocabularyParts(),
		RunE: func(_ *cobra.Command, args []string) error {
			parts, err := a.parts(args)
			if err != nil {
				return err
			}
			if asJSON {
				return a.PrintJSON(parts)
			}
			if language != "" {
				i := slices.IndexFunc(routine.Languages(), func(l string) bool { return routine.Key(l) == routine.Key(language) })
				if i < 0 {
					return outcome.New(exitUsage, fmt.Errorf("--language: the words of %q are not known", language), "known: "+strings.Join(routine.Languages(), ", "))
				}
				language = routine.Languages()[i]
			}
			for i, p := range parts {
				if i > 0 {
					fmt.Fprintln(a.Out)
				}
				report.Words(a.Page(a.Out), p, language, all)
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&language, "language", "", "list the words of this `LANGUAGE` beside the English: "+strings.ToLower(flags.OrList(routine.Languages())))
	cmd.Flags().BoolVar(&all, "all", false, "list every word that is read")
	a.printsJSON(cmd, &asJSON)
	_ = cmd.RegisterFlagCompletionFunc("language", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return routine.Languages(), cobra.ShellCompDirectiveNoFileComp
	}) // fails only for a flag that does not exist
	return cmd
}

// parts returns the parts of the vocabulary with these names, or all, with what the library knows of dances.
func (a *app) parts(names []string) (parts []glossary.Part, err error) {
	if len(names) == 0 {
		names = routine.VocabularyParts()
	}
	for _, name := range names {
		p, ok := a.Library.Words(strings.ToLower(name))
		if !ok {
			return nil, outcome.New(exitUsage, fmt.Errorf("no part of the vocabulary is called %q", name), outcome.Perhaps(name, routine.VocabularyParts(), "parts: "+strings.Join(routine.VocabularyParts(), ", ")))
		}
		parts = append(parts, p)
	}
	return parts, nil
}
