// Package arguments reads what the arguments of commands name.
package arguments

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"dance.example/slowquick/cmd/slowquick/console"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
)

// Reader reads sheets, figures and what belongs to them.
type Reader struct {
	*console.Console
	Library *library.Library
}

// Page returns one of the outputs as a page.
func (r *Reader) Page(out io.Writer) report.Page {
	return report.Page{Writer: out, Columns: r.Columns(), Fits: r.AtTerminal()}
}

// None refuses arguments and suggests commands with similar names.
func None(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	f := outcome.Usage(fmt.Errorf("unknown command %q", args[0]))
	if near := commandsLike(cmd, args[0]); len(near) > 0 {
		f.Hint = "perhaps " + strings.Join(near, ", ")
	}
	return f
}

// commandsLike returns the commands of a group whose names are like a word or begin with it.
func commandsLike(cmd *cobra.Command, word string) []string {
	var names []string
	for _, sub := range cmd.Commands() {
		if sub.IsAvailableCommand() || sub.IsAdditionalHelpTopicCommand() || sub.Name() == "help" {
			names = append(names, sub.Name())
		}
	}
	if near := routine.Nearest(word, names); len(near) > 0 {
		return near
	}
	return cmd.SuggestionsFor(word)
}

// UnknownFlag refuses a flag that a command doesn't take, and suggests those it does.
func UnknownFlag(cmd *cobra.Command, err error) error {
	f := outcome.Usage(err)
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return f
	}
	var names []string
	cmd.Flags().VisitAll(func(flag *pflag.Flag) {
		if !flag.Hidden {
			names = append(names, flag.Name)
		}
	})
	if near := routine.Nearest(unknown.GetSpecifiedName(), names); len(near) > 0 {
		f.Hint = "perhaps --" + strings.Join(near, ", --")
	}
	return f
}

// Sheets wants at least one sheet and at most most; 0 for any number.
func Sheets(most int) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		first := slices.Index(args, "-")
		switch {
		case len(args) == 0:
			return outcome.Usage(fmt.Errorf("name a sheet"))
		case first >= 0 && slices.Contains(args[first+1:], "-"):
			return outcome.Usage(fmt.Errorf("standard input (-) can only be read once"))
		case most > 0 && len(args) > most:
			return outcome.Usage(fmt.Errorf("%d sheets are too many; name %d", len(args), most))
		}
		return nil
	}
}
