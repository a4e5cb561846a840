package main

import (
	"errors"
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/library"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
)

func (a *app) compose() *cobra.Command {
	var to flags.Target
	var dance, starts, known string
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
			if _, err := to.Format(a.atTerminal()); err != nil {
				return err
			}
			if dance == "" {
				return outcome.Usage(errors.New("name a dance, such as --dance rumba"))
			}
			chapters, err := a.chapters(dance)
			if err != nil {
				return err
			}
			asked := cmd.Flags().Changed("bars")
			if asked && (wish.Bars < 1 || wish.Bars > choreography.MostBars) {
				return outcome.Usage(fmt.Errorf("--bars: use 1 to %d, not %d", choreography.MostBars, wish.Bars))
			}
			if starts != "" {
				to, ok := routine.ParseDirection(starts)
				if !ok {
					return outcome.Usage(fmt.Errorf("--starts: %q is not a direction; use wall, DW, LOD …", starts))
				}
				wish.Faces = &routine.Alignment{Stand: routine.Facing, To: to}
			}
			chapter := chapters[0]
			if known != "" {
				if chapter, err = a.known(chapter, known); err != nil {
					return err
				}
			}
			if !asked {
				wish.Bars = choreography.UsualBars(chapter.Dance, chapter.Figures, wish)
			}
			return a.composed(to, chapter, wish)
		},
	}
	to.Flags(cmd, flags.Text("a sheet", ".md"))
	to.Path = "-" // unless a file is named
	cmd.Flags().StringVar(&dance, "dance", "", "the `DANCE`")
	cmd.Flags().IntVar(&wish.Bars, "bars", 0, "its length in `BARS`; if not given, two phrases, or as many as its figures fill")
	cmd.Flags().IntVar(&wish.Level, "level", 0, "only figures up to this teaching `LEVEL`")
	cmd.Flags().Uint64Var(&wish.Seed, "seed", 0, "a `NUMBER`: another one makes another routine")
	cmd.Flags().StringVar(&starts, "starts", "", "the `DIRECTION` the leader faces at the start: wall, DW, LOD …")
	cmd.Flags().StringVar(&known, "known", "", "only figures that a `CLASS` has had, or that a file lists, a name a line")
	a.completeDances(cmd)
	return cmd
}

// composed writes a routine that fulfils a wish. If there is none, its error suggests other lengths.
func (a *app) composed(to flags.Target, c *library.Chapter, wish choreography.Wish) error {
	r, err := choreography.Compose(c.Dance, c.Figures, wish)
	if err != nil {
		f := outcome.New(exitFindings, err, "try another --level, --starts or number of --bars")
		var near []string
		for _, bars := range choreography.BarsNear(c.Dance, c.Figures, wish) {
			near = append(near, strconv.Itoa(bars))
		}
		if len(near) > 0 {
			f.Hint = "try --bars " + flags.OrList(near)
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
