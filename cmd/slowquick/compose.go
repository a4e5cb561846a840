package main

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
)

// figuresOfOneDance finds figures by their names in the one chapter that has them all.
func (a *app) figuresOfOneDance(chapters []*library.Chapter, names []string) (*library.Chapter, []*routine.Figure, error) {
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
			if err := a.knows(chapters, name); err != nil {
				return nil, nil, err
			}
		}
		return nil, nil, &failure{exitFindings, errors.New("no dance has both figures"), "slowquick figures WORDS shows whose they are"}
	}
	var dances []string
	for _, c := range in {
		dances = append(dances, c.Dance.Name)
	}
	f := usage(fmt.Errorf("several dances have %s", strings.Join(names, " and ")))
	f.hint = "--dance " + strings.Join(dances, ", or ")
	return nil, nil, f
}

// knows fails if no chapter has a figure of that name.
func (a *app) knows(chapters []*library.Chapter, name string) error {
	var known []string
	for _, c := range chapters {
		if _, ok := c.Named(name); ok {
			return nil
		}
		for _, fig := range c.Figures {
			known = append(known, fig.Names()...)
		}
	}
	return &failure{exitFindings, fmt.Errorf("no figure is called %q", name), perhaps(name, known, "slowquick figures lists them all")}
}

func (a *app) compose() *cobra.Command {
	var to target
	var dance, starts string
	var wish choreography.Wish
	cmd := &cobra.Command{
		Use:   "compose --dance DANCE",
		Short: "Suggest a routine",
		Long: `Compose joins figures of the library into a routine that can be danced. It fills
its bars, begins a figure on each phrase, and doesn't repeat one figure too often.
The routine is written as a sheet. Another seed makes another routine; the same
seed makes the same one.`,
		Example: "  slowquick compose --dance rumba --bars 16 --level 1\n  slowquick compose --dance waltz --bars 32 --starts DW --seed 7 -o evening.md",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if _, err := a.format(to); err != nil {
				return err
			}
			if dance == "" {
				return usage(errors.New("name a dance, such as --dance rumba"))
			}
			chapters, err := a.chapters(dance)
			if err != nil {
				return err
			}
			asked := cmd.Flags().Changed("bars")
			if asked && (wish.Bars < 1 || wish.Bars > choreography.MostBars) {
				return usage(fmt.Errorf("--bars: use 1 to %d, not %d", choreography.MostBars, wish.Bars))
			}
			if starts != "" {
				to, ok := routine.ParseDirection(starts)
				if !ok {
					return usage(fmt.Errorf("--starts: %q is not a direction; use wall, DW, LOD …", starts))
				}
				wish.Faces = &routine.Alignment{Stand: routine.Facing, To: to}
			}
			if !asked {
				wish.Bars = choreography.UsualBars(chapters[0].Dance, chapters[0].Figures, wish)
			}
			return a.composed(to, chapters[0], wish)
		},
	}
	to.flags(cmd, format{"a sheet", []string{".md"}, false})
	to.path = "-" // unless a file is named
	cmd.Flags().StringVar(&dance, "dance", "", "the `DANCE`")
	cmd.Flags().IntVar(&wish.Bars, "bars", 0, "its length in `BARS`; if not given, two phrases, or as many as its figures fill")
	cmd.Flags().IntVar(&wish.Level, "level", 0, "only figures up to this teaching `LEVEL`")
	cmd.Flags().Uint64Var(&wish.Seed, "seed", 0, "a `NUMBER`: another one makes another routine")
	cmd.Flags().StringVar(&starts, "starts", "", "the `DIRECTION` the leader faces at the start: wall, DW, LOD …")
	a.completeDances(cmd)
	return cmd
}

// composed writes the routine that fulfils a wish, or says which lengths would do.
func (a *app) composed(to target, c *library.Chapter, wish choreography.Wish) error {
	r, err := choreography.Compose(c.Dance, c.Figures, wish)
	if err != nil {
		f := &failure{exitFindings, err, "try another --level, --starts or number of --bars"}
		var near []string
		for _, bars := range choreography.BarsNear(c.Dance, c.Figures, wish) {
			near = append(near, strconv.Itoa(bars))
		}
		if len(near) > 0 {
			f.hint = "try --bars " + orList(near)
		}
		return f
	}
	if !r.Phrased {
		fmt.Fprintf(a.err, "slowquick: these figures don't fit phrases of %s; the routine only fills its bars\n", routine.Plural(c.Dance.PhraseBars, "bar"))
	}
	if !r.Again {
		fmt.Fprintln(a.err, "slowquick: it doesn't end as it begins, so you can't repeat it without a pause")
	}
	return a.writeTo(to, func(w io.Writer) error {
		_, err := w.Write(r.Sheet(c.Dance, wish))
		return err
	})
}
