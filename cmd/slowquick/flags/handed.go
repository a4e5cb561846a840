package flags

import (
	"fmt"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"github.com/spf13/cobra"
)

// Handed holds the flags that all kinds of handout share.
type Handed struct {
	How   Dance
	times int
	paper handout.Paper
}

// Flags adds the flags of all kinds.
func (h *Handed) Flags(cmd *cobra.Command) {
	h.How.Flags(cmd)
	cmd.Flags().StringVar(&h.How.Figures, "figures", "", "dance only these `FIGURES` of the order: 2 or 2-3")
	cmd.Flags().IntVar(&h.times, "times", 0, "how many `TIMES` to dance it, 1–99; if not given, once, or as --gradually takes")
}

// PaperFlag adds the flag for handouts with pages.
func (h *Handed) PaperFlag(cmd *cobra.Command) {
	Word(cmd, &h.paper, "paper", "the `PAPER` of a page: a4 or letter", handout.Papers[:])
}

// Options returns how the flags ask for a routine to be handed out.
func (h *Handed) Options(timeline *player.Timeline) (o handout.Options, err error) {
	if o.Settings, err = h.How.Settings(timeline); err != nil {
		return o, err
	}
	if h.How.Figures != "" {
		o.Part = o.Settings.Loop
	}
	o.Settings.Loop = player.Interval{}
	o.Shown, o.Paper = h.How.Dancers.Each(), h.paper
	o.Times = 1
	if l := o.Settings.Ladder; l != (player.Ladder{}) {
		o.Times = min(l.Rungs()*max(l.Times, 1), handout.MostTimes)
	}
	if h.times < 0 || h.times > handout.MostTimes {
		return o, outcome.Usage(fmt.Errorf("--times: %d; use 1 to %d", h.times, handout.MostTimes))
	}
	if h.times > 0 {
		o.Times = h.times
	}
	return o, nil
}
