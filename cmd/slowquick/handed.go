package main

import (
	"fmt"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"github.com/spf13/cobra"
)

// handed holds the flags that all kinds of handout share.
type handed struct {
	how   howToDance
	times int
	paper handout.Paper
}

func (h *handed) flags(cmd *cobra.Command) {
	h.how.flags(cmd)
	cmd.Flags().StringVar(&h.how.figures, "figures", "", "dance only these `FIGURES` of the order: 2 or 2-3")
	cmd.Flags().IntVar(&h.times, "times", 0, "how many `TIMES` to dance it, 1–99; if not given, once, or as --gradually takes")
}

// paperFlag adds the flag for handouts with pages.
func (h *handed) paperFlag(cmd *cobra.Command) {
	wordFlag(cmd, &h.paper, "paper", "the `PAPER` of a page: a4 or letter", handout.Papers[:])
}

// options returns how the flags ask for a routine to be handed out.
func (h *handed) options(timeline *player.Timeline) (o handout.Options, err error) {
	if o.Settings, err = h.how.settings(timeline); err != nil {
		return o, err
	}
	if h.how.figures != "" {
		o.Part = o.Settings.Loop
	}
	o.Settings.Loop = player.Interval{}
	o.Shown, o.Paper = h.how.dancers.Each(), h.paper
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
