package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/library"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
)

// composing holds the flags of compose.
type composing struct {
	to                                  flags.Target
	dance, starts, known, floor, family string
	with                                []string
	minutes                             float64
	why, lesson                         bool
	wish                                choreography.Wish
}

func (a *app) compose() *cobra.Command {
	var how composing
	cmd := &cobra.Command{
		Use:   "compose --dance DANCE",
		Short: "Suggest a routine",
		Long: `Compose plans a routine as a teacher would, and fills the plan with figures of the
library: it opens as the dance usually does, keeps together what belongs together,
comes back to its theme, closes its phrases where it could begin again, and goes
round the room. --why says how it is made, and marks it. The routine is written as a
sheet. Another seed makes another routine; the same seed makes the same one.

--class writes a lesson: a warm-up, one figure step by step, and the routine.`,
		Example: `  slowquick compose --dance rumba --bars 16 --level 1 --why
  slowquick compose --dance waltz --bars 32 --floor 12x8 --seed 7 -o evening.md
  slowquick compose --dance rumba --known 'Lantern Night' --new 1 --class`,
		Args: arguments.None,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if _, err := how.to.Format(a.AtTerminal()); err != nil {
				return err
			}
			if how.dance == "" {
				return outcome.Usage(errors.New("name a dance, such as --dance rumba"))
			}
			chapters, err := a.Chapters(how.dance)
			if err != nil {
				return err
			}
			if err := a.wished(cmd, &how, chapters[0]); err != nil {
				return err
			}
			return a.composed(&how, chapters[0])
		},
	}
	how.to.Flags(cmd, flags.Text("a sheet", ".md"))
	how.to.Path = "-" // unless a file is named
	f := cmd.Flags()
	f.StringVar(&how.dance, "dance", "", "the `DANCE`")
	f.IntVar(&how.wish.Bars, "bars", 0, "its length in `BARS`; if not given, two phrases, or as many as its figures fill")
	f.Float64Var(&how.minutes, "minutes", 0, "its length in `MINUTES` at the dance's tempo, to the nearest phrase")
	f.IntVar(&how.wish.Level, "level", 0, "only figures up to this teaching `LEVEL`")
	f.Uint64Var(&how.wish.Seed, "seed", 0, "a `NUMBER`: another one makes another routine")
	f.StringVar(&how.starts, "starts", "", "the `DIRECTION` the leader faces at the start: wall, DW, LOD …")
	f.StringArrayVar(&how.with, "with", nil, "a `FIGURE` that it must have; may be repeated")
	f.StringVar(&how.known, "known", "", "only figures that a `CLASS` has had, or that a file lists, a name a line; \"diary\": that you have danced")
	f.IntVar(&how.wish.New, "new", 0, "with --known: this `NUMBER` of other figures besides, the easiest")
	f.StringVar(&how.family, "family", "", "only figures of this `FAMILY`: "+strings.Join(routine.Families(), ", ")+"; if not given, the dance's usual one")
	f.StringVar(&how.floor, "floor", "", "the `SIZE` of the floor, along the line of dance and across: 12x8")
	f.BoolVar(&how.why, "why", false, "say how it is made, and mark it")
	f.BoolVar(&how.lesson, "class", false, "write a lesson: a warm-up, one figure step by step, the routine")
	cmd.MarkFlagsMutuallyExclusive("bars", "minutes")
	a.CompleteDances(cmd)
	return cmd
}

// wished reads the flags of compose into a wish.
func (a *app) wished(cmd *cobra.Command, how *composing, c *library.Chapter) error {
	w := &how.wish
	if cmd.Flags().Changed("bars") && (w.Bars < 1 || w.Bars > choreography.MostBars) {
		return outcome.Usage(fmt.Errorf("--bars: use 1 to %d, not %d", choreography.MostBars, w.Bars))
	}
	if cmd.Flags().Changed("minutes") {
		phrases := math.Round(how.minutes * c.Dance.BarsPerMinute(c.Dance.Tempo()) / float64(c.Dance.PhraseBars))
		most := float64(choreography.MostBars / c.Dance.PhraseBars)
		if !(phrases >= 1 && phrases <= most) { // true for NaN too
			return outcome.Usage(fmt.Errorf("--minutes: %g would not be 1 to %.0f phrases of %s", how.minutes, most, routine.Plural(c.Dance.PhraseBars, "bar")))
		}
		w.Bars = int(phrases) * c.Dance.PhraseBars
	}
	if how.starts != "" {
		to, ok := routine.ParseDirection(how.starts)
		if !ok {
			return outcome.Usage(fmt.Errorf("--starts: %q is not a direction; use wall, DW, LOD …", how.starts))
		}
		w.Faces = &routine.Alignment{Stand: routine.Facing, To: to}
	}
	if how.floor != "" {
		room, err := routine.ParseRoom(how.floor)
		if err != nil {
			return outcome.Usage(fmt.Errorf("--floor: %q %w; use 12x8, in metres", how.floor, err))
		}
		w.Floor = room
	}
	if how.family != "" {
		var ok bool
		if w.Family, ok = routine.ParseFamily(how.family); !ok {
			return outcome.Usage(fmt.Errorf("--family: %q is not a family of dancing; use %s", how.family, flags.OrList(routine.Families())))
		}
	}
	switch {
	case w.New < 0:
		return outcome.Usage(fmt.Errorf("--new: %d; use 0 or more", w.New))
	case w.New > 0 && how.known == "":
		return outcome.Usage(errors.New("--new goes with --known"))
	case w.New+len(how.with) > choreography.MostWith:
		return outcome.Usage(fmt.Errorf("--with and --new: at most %d figures altogether", choreography.MostWith))
	}
	return a.wishedFigures(how, c)
}

// wishedFigures finds the figures that a routine must have, and those that are known.
func (a *app) wishedFigures(how *composing, c *library.Chapter) (err error) {
	w := &how.wish
	for _, name := range how.with {
		figs, ok := c.Named(name)
		if !ok {
			return a.Knows([]*library.Chapter{c}, name)
		}
		w.With = append(w.With, figs[0])
	}
	if how.known != "" {
		if w.Known, err = a.known(c, how.known); err != nil {
			return err
		}
	}
	if w.Bars == 0 {
		w.Bars = choreography.UsualBars(c.Dance, c.Figures, *w)
	}
	return nil
}

// composed writes a routine that fulfils a wish. If there is none, its error suggests other lengths.
func (a *app) composed(how *composing, c *library.Chapter) error {
	r, err := choreography.Compose(c.Dance, c.Figures, how.wish)
	if err != nil {
		f := outcome.New(exitFindings, err, "try another --level, --starts or number of --bars")
		var near []string
		for _, bars := range choreography.BarsNear(c.Dance, c.Figures, how.wish) {
			near = append(near, strconv.Itoa(bars))
		}
		if len(near) > 0 {
			f.Hint = "try --bars " + flags.OrList(near)
		}
		return f
	}
	switch r.Phrase {
	case c.Dance.PhraseBars:
	case 0:
		fmt.Fprintf(a.Err, "slowquick: these figures don't fit phrases of %s; the routine only fills its bars\n", routine.Plural(c.Dance.PhraseBars, "bar"))
	default:
		fmt.Fprintf(a.Err, "slowquick: these figures don't fit phrases of %s; this routine has phrases of %s\n", routine.Plural(c.Dance.PhraseBars, "bar"), routine.Plural(r.Phrase, "bar"))
	}
	if !r.Again {
		fmt.Fprintln(a.Err, "slowquick: it doesn't end as it begins, so you can't repeat it without a pause")
	}
	text := r.Sheet(c.Dance, how.wish)
	if how.lesson {
		l := r.Lesson(c.Dance, c.Figures, how.wish)
		if l.Steps == nil {
			fmt.Fprintf(a.Err, "slowquick: nothing leads back to %s, so it can't be danced by itself over and over\n", l.Figure.Name)
		}
		text = l.Sheet(c.Dance)
	}
	if how.why {
		report.Why(a.Page(a.Err), r.Why(c.Dance), r.Score)
	}
	return a.WriteTo(how.to.Path, how.to.Force, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
}
