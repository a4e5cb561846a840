package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
)

func (a *app) figures() *cobra.Command {
	var dance string
	var level int
	asJSON := false
	cmd := &cobra.Command{
		Use:     "figures [WORDS]",
		Short:   "Search the library's figures",
		Long:    "Figures lists the figures of the library whose names, other names or dance\ncontain all WORDS.",
		Example: "  slowquick figures --dance waltz\n  slowquick figures new york",
		RunE: func(_ *cobra.Command, words []string) error {
			chapters, err := a.chapters(dance)
			if err != nil {
				return err
			}
			list := []figureEntry{}
			for _, c := range chapters {
				for _, fig := range c.Figures {
					if (level == 0 || fig.Level == level) && mentions(c, fig, words) {
						list = append(list, newFigureEntry(c, fig))
					}
				}
			}
			if asJSON {
				return a.printJSON(list)
			}
			if len(list) == 0 {
				return &failure{exitFindings, fmt.Errorf("no figure is known as %q", strings.Join(words, " ")), "slowquick figures lists them all"}
			}
			w := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
			fmt.Fprintln(w, "DANCE\tFIGURE\tLEVEL\tCOUNT\tSTARTS\tENDS")
			for _, e := range list {
				fmt.Fprintf(w, "%s\t%s\t%d\t%s\t%s\t%s\n", e.Dance, e.Name, e.Level, strings.Join(e.Counts, " "), e.Starts, e.Ends)
			}
			return w.Flush()
		},
	}
	cmd.Flags().StringVar(&dance, "dance", "", "only figures of this dance")
	cmd.Flags().IntVar(&level, "level", 0, "only figures of this teaching level")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print for programs")
	a.completeDances(cmd)
	return cmd
}

// figureEntry is a figure as programs read it.
type figureEntry struct {
	Dance     string     `json:"dance"`
	Name      string     `json:"name"`
	AlsoNamed []string   `json:"alsoCalled,omitempty"`
	Level     int        `json:"level"`
	Starts    string     `json:"starts"`
	Ends      string     `json:"ends"`
	Counts    []string   `json:"counts"`
	Beats     float64    `json:"beats"`
	Source    string     `json:"source"`
	Rows      []rowEntry `json:"rows"`
}

type rowEntry struct {
	Count    string  `json:"count"`
	Beat     float64 `json:"beat"` // from the figure's first step
	Leader   string  `json:"leader"`
	Follower string  `json:"follower"`
}

func newFigureEntry(c *library.Chapter, fig *routine.Figure) figureEntry {
	e := figureEntry{
		Dance: c.Dance.Name, Name: fig.Name, AlsoNamed: fig.Aliases, Level: fig.Level, Source: fig.Source,
		Starts: fig.Starts.String(), Ends: fig.Ends.String(), Beats: fig.Length(0, len(fig.Rows)).Float(),
	}
	for i := range fig.Rows {
		r := &fig.Rows[i]
		e.Counts = append(e.Counts, r.Count.String())
		e.Rows = append(e.Rows, rowEntry{r.Count.String(), (r.At - fig.Rows[0].At).Float(), r.Steps[0].String(), r.Steps[1].String()})
	}
	return e
}

// mentions reports whether a figure's names and dance contain all words.
func mentions(c *library.Chapter, fig *routine.Figure, words []string) bool {
	key := routine.Key(strings.Join(append(fig.Names(), c.Dance.Name), " "))
	for _, w := range words {
		if !strings.Contains(key, routine.Key(w)) {
			return false
		}
	}
	return true
}

// chapters gives the chapter of a dance, or all if none is named.
func (a *app) chapters(dance string) ([]*library.Chapter, error) {
	names := []string{dance}
	if dance == "" {
		names = a.library.Dances()
	}
	var all []*library.Chapter
	for _, name := range names {
		c, ok := a.library.Chapter(name)
		if !ok {
			f := usage(fmt.Errorf("no dance is known as %q", name))
			f.hint = "known: " + strings.Join(a.library.Dances(), ", ")
			return nil, f
		}
		all = append(all, c)
	}
	return all, nil
}

func (a *app) figure() *cobra.Command {
	var dance string
	asJSON := false
	cmd := &cobra.Command{
		Use:     "figure NAME",
		Short:   "Show a figure's chart",
		Example: "  slowquick figure natural turn\n  slowquick figure --dance rumba fan",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usage(fmt.Errorf("no figure is named"))
			}
			return nil
		},
		ValidArgsFunction: func(_ *cobra.Command, _ []string, prefix string) (names []string, _ cobra.ShellCompDirective) {
			chapters, _ := a.chapters(dance) // an unknown dance completes nothing
			for _, c := range chapters {
				for _, fig := range c.Figures {
					if strings.HasPrefix(strings.ToLower(fig.Name), strings.ToLower(prefix)) {
						names = append(names, fig.Name)
					}
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, words []string) error {
			name := strings.Join(words, " ")
			chapters, err := a.chapters(dance)
			if err != nil {
				return err
			}
			var known []string
			entries := []figureEntry{}
			for _, c := range chapters {
				if fig, ok := a.library.Figure(c.Dance, name); ok {
					entries = append(entries, newFigureEntry(c, fig))
				}
				for _, fig := range c.Figures {
					known = append(known, fig.Names()...)
				}
			}
			if len(entries) == 0 {
				f := &failure{exitFindings, fmt.Errorf("no figure is known as %q", name), "slowquick figures lists them all"}
				if near := routine.Nearest(name, known); len(near) > 0 {
					f.hint = "perhaps " + strings.Join(near, ", ")
				}
				return f
			}
			if asJSON {
				return a.printJSON(entries)
			}
			for i, e := range entries {
				if i > 0 {
					fmt.Fprintln(a.out)
				}
				if err := a.printFigure(e); err != nil {
					return failed(fmt.Errorf("print: %w", err), "")
				}
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&dance, "dance", "", "the dance, where several have a figure of that name")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print for programs")
	a.completeDances(cmd)
	return cmd
}

func (a *app) printFigure(e figureEntry) error {
	fmt.Fprintf(a.out, "%s (%s)\n", e.Name, e.Dance)
	facts := []struct{ name, value string }{
		{"also called", strings.Join(e.AlsoNamed, ", ")}, {"level", fmt.Sprint(e.Level)},
		{"starts", e.Starts}, {"ends", e.Ends}, {"source", e.Source},
	}
	for _, f := range facts {
		if f.value != "" && f.value != "0" {
			fmt.Fprintf(a.out, "  %s: %s\n", f.name, f.value)
		}
	}
	fmt.Fprintln(a.out)
	w := tabwriter.NewWriter(a.out, 0, 0, 3, ' ', 0)
	fmt.Fprintln(w, "  STEP\tCOUNT\tLEADER\tFOLLOWER")
	for i, r := range e.Rows {
		fmt.Fprintf(w, "  %d\t%s\t%s\t%s\n", i+1, r.Count, r.Leader, r.Follower)
	}
	return w.Flush()
}

func (a *app) completeDances(cmd *cobra.Command) {
	_ = cmd.RegisterFlagCompletionFunc("dance", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return a.library.Dances(), cobra.ShellCompDirectiveNoFileComp
	}) // fails only for a flag that does not exist
}
