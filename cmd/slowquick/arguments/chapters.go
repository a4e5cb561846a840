package arguments

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
)

// Chapters returns the chapter of a dance, or all chapters if dance is "".
func (r *Reader) Chapters(dance string) ([]*library.Chapter, error) {
	if dance == "" {
		return r.Library.Chapters(), nil
	}
	c, ok := r.Library.Chapter(dance)
	if !ok {
		return nil, outcome.New(outcome.UsageCode, fmt.Errorf("no dance is called %q", dance), outcome.Perhaps(dance, r.Library.Dances(), "dances: "+strings.Join(r.Library.Dances(), ", ")))
	}
	return []*library.Chapter{c}, nil
}

// FiguresOfOneDance returns the figures with some names and the one chapter that has them all.
func (r *Reader) FiguresOfOneDance(chapters []*library.Chapter, names []string) (*library.Chapter, []*routine.Figure, error) {
	var in []*library.Chapter
	var found []*routine.Figure
	for _, c := range chapters {
		if figs, ok := c.Named(names...); ok {
			in, found = append(in, c), figs
		}
	}
	switch len(in) {
	case 1:
		return in[0], found, nil
	case 0:
		for _, name := range names {
			if err := r.Knows(chapters, name); err != nil {
				return nil, nil, err
			}
		}
		return nil, nil, outcome.New(outcome.FindingsCode, errors.New("no dance has both figures"), "slowquick figures WORDS shows whose they are")
	}
	var dances []string
	for _, c := range in {
		dances = append(dances, c.Dance.Name)
	}
	return nil, nil, outcome.New(outcome.UsageCode, fmt.Errorf("several dances have %s", strings.Join(names, " and ")), "--dance "+strings.Join(dances, ", or "))
}

// Knows returns an error if no chapter has a figure with that name.
func (r *Reader) Knows(chapters []*library.Chapter, name string) error {
	for _, c := range chapters {
		if _, ok := c.Named(name); ok {
			return nil
		}
	}
	return NoFigure(chapters, name)
}

// NoFigure returns the error that no figure of some chapters has a name, with those that are like it.
func NoFigure(chapters []*library.Chapter, name string) error {
	var known []string
	for _, c := range chapters {
		for _, fig := range c.Figures {
			known = append(known, fig.Names()...)
		}
	}
	return outcome.New(outcome.FindingsCode, fmt.Errorf("no figure is called %q", name), outcome.Perhaps(name, known, "slowquick figures lists them all"))
}

// CompleteDances completes the flag --dance of a command.
func (r *Reader) CompleteDances(cmd *cobra.Command) {
	_ = cmd.RegisterFlagCompletionFunc("dance", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return r.Library.Dances(), cobra.ShellCompDirectiveNoFileComp // asked late, as --library adds some
	}) // fails only for a flag that does not exist
}
