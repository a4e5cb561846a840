package main

import (
	"context"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/settings"
	"dance.example/slowquick/cmd/slowquick/writing"
	"dance.example/slowquick/library"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/sheetlist"
)

func (a *app) root() *cobra.Command {
	var version bool
	root := &cobra.Command{
		Use:   "slowquick",
		Short: "Practise a partner dance from a written sheet",
		Long: `Slowquick checks a routine written as a sheet, counts it, plays it and shows both
partners' steps in time, as slowly as you like.

Without a command it opens a list of the sheets in this folder and the examples, or
dances the sheet that is named. A sheet is named by its file or its title.

` + cautions,
		Args: a.noCommand,

		ValidArgsFunction: a.CompleteSheets,
		Example:           "  slowquick\n  slowquick lantern-night.md --tempo '70 %'\n  slowquick practise 'Lantern Night waltz'",
		SilenceUsage:      true,
		SilenceErrors:     true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if version {
				a.tellVersion()
				return nil
			}
			return a.choose(cmd.Context())
		},
	}
	root.Flags().BoolVar(&version, "version", false, "print the version, and what the library holds")
	root.PersistentFlags().StringVar(&a.ownFolder, settings.Library, settings.OwnFolder(), "the `FOLDER` of your own figures and dances, which are added to the library")
	root.PersistentFlags().BoolVar(&a.Quiet, "quiet", false, "print no warnings and no hints")
	root.PersistentPreRunE = func(cmd *cobra.Command, _ []string) error { return a.prepare(cmd, version) }
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		if words := cmd.Flags().Args(); cmd.HasSubCommands() && len(words) > 0 {
			return arguments.None(cmd, words) // the flag belongs to a mistyped command
		}
		return arguments.UnknownFlag(cmd, err)
	})
	root.AddCommand(a.dance(), a.tidy(), a.compose(), writing.Command(a.Reader), a.sync(), a.timing(), a.listen(), a.practise(), a.make(), a.newSheet())
	root.AddCommand(a.paged(a.check(), a.figures(), a.figure(), a.link(), a.explain(), a.diary(), a.class(), a.words(), a.settings())...)
	root.AddCommand(a.topics()...)
	root.AddCommand(a.forPackages()...)
	root.SetUsageTemplate(strings.NewReplacer(
		".FlagUsages ", fmt.Sprintf(".FlagUsagesWrapped %d ", a.Columns()),
		"Additional help topics:", "More help:",
		"{{rpad .CommandPath .CommandPathPadding}} {{.Short}}", `{{rpad (printf "%s help %s" .Root.Name .Name) 22}} {{.Short}}`,
	).Replace(root.UsageTemplate()))
	root.SetOut(a.Out) // before the completion commands are made, which ask for it at once
	root.SetErr(a.Err)
	a.addHelp(root)
	root.InitDefaultCompletionCmd()
	if completion, _, err := root.Find([]string{"completion"}); err == nil {
		completion.Short = "Complete commands, sheets and figures in your shell"
	}
	return root
}

// addHelp adds the command help, whose pages are held back until they are whole.
func (a *app) addHelp(root *cobra.Command) {
	help := root.HelpFunc()
	root.SetHelpFunc(func(cmd *cobra.Command, args []string) {
		a.HoldPages()
		help(cmd, args)
	})
	root.InitDefaultHelpCmd()
	if help, _, err := root.Find([]string{"help"}); err == nil {
		help.Args = knownCommand
	}
}

// prepare reads the settings and the library for a command.
func (a *app) prepare(cmd *cobra.Command, version bool) error {
	// These work even while what is set can't be used.
	mends := version || cmd.Name() == settingsName || cmd.Name() == "help" || cmd.Parent() != nil && cmd.Parent().Name() == "completion"
	if err := a.readSettings(cmd, mends); err != nil || mends {
		return err
	}
	given := "--library"
	if !cmd.Flags().Changed(settings.Library) {
		given = a.set.Of(settings.Library).From
	}
	if info, err := os.Stat(a.ownFolder); given != "" && (err != nil || !info.IsDir()) {
		return outcome.Failed(fmt.Errorf("%s: %s is not a folder that can be read", given, a.ownFolder), "")
	}
	a.Library = library.Open().With(os.DirFS(a.ownFolder))
	a.Reads(a.ownFolder)
	return nil
}

// danced puts dance in front of arguments that name a sheet in place of a command.
func (a *app) danced(root *cobra.Command, args []string) []string {
	for i := 0; i < len(args); i++ {
		switch word := args[i]; {
		case word == "--library":
			i++ // past the folder
		case word == "-" || !strings.HasPrefix(word, "-"):
			if cmd, _, _ := root.Find([]string{word}); cmd == root && a.Shelf().Names(word) {
				return append([]string{"dance"}, args...)
			}
			return args
		}
	}
	return args
}

// paged has commands print pages, which are held back until they are whole.
func (a *app) paged(commands ...*cobra.Command) []*cobra.Command {
	for _, cmd := range commands {
		tell := cmd.RunE
		cmd.RunE = func(cmd *cobra.Command, args []string) error {
			a.HoldPages()
			return tell(cmd, args)
		}
	}
	return commands
}

// noCommand refuses a word that is neither a command nor a sheet, and suggests either.
func (a *app) noCommand(root *cobra.Command, args []string) error {
	err := arguments.None(root, args)
	if f, ok := err.(*outcome.Failure); ok && f.Hint == outcome.HelpHint {
		if near := a.Shelf().Like(args[0]); len(near) > 0 {
			f.Hint = "perhaps " + strings.Join(near, ", ")
		}
	}
	return err
}

// knownCommand refuses an unknown command, for which help alone would just list the known ones.
func knownCommand(help *cobra.Command, args []string) error {
	cmd, rest, err := help.Root().Find(args)
	if err != nil {
		return outcome.Usage(err)
	}
	return arguments.None(cmd, rest)
}

// firstExample is what somebody dances who starts the program for the first time: the slowest.
const firstExample = "lantern-night-rumba"

// choose opens the list of sheets.
func (a *app) choose(ctx context.Context) error {
	if !a.Draws() {
		entries, err := shelf{app: a}.Entries()
		if err != nil {
			return outcome.Failed(err, "")
		}
		for _, e := range entries {
			fmt.Fprintf(a.Out, "%s\t%s\t%s\n", harmless.Masked(e.ID), e.Dance, e.Title)
		}
		a.Hint("to dance one, slowquick dance SHEET; for more, slowquick help")
		return nil
	}
	return a.showList(ctx, func(o *screen.Options) {
		if o.Seen != nil {
			o.First = &sheetlist.Entry{ID: firstExample, Title: "Lantern Night rumba"}
		}
	})
}
