package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/terminal"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// howToDance holds the flags that say how to dance a routine.
type howToDance struct {
	tempo   string
	leadIn  int
	dancers routine.Dancers // whose steps are shown
	count   routine.CountStyle
	repeat  bool
	figures string
	ladder  string
	rest    int
	voice   string // a folder
	call    bool   // figures are named aloud

	pauseAfter float64 // minutes
	music      string  // the file of a song; "" for the sheet's own
	pictures   terminal.Setting
}

// flags adds the flags that apply to dancing and to handouts.
func (h *howToDance) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&h.tempo, "tempo", "100 %", "the `TEMPO`: \"24 bars/min\", \"96 beats/min\", or \"80 %\" of the tempo of the sheet or its song")
	cmd.Flags().IntVar(&h.leadIn, "lead-in", 1, "count in for this many `BARS`, 0–4")
	cmd.Flags().IntVar(&h.rest, "rest", 0, "rest for this many counted `BARS` between run-throughs, 0–4")
	cmd.Flags().StringVar(&h.ladder, "gradually", "", "speed up step by step, the `LADDER`: \"70 to 100 % by 5, 2 run-throughs\" at each tempo")
	partnerFlag(cmd, &h.dancers)
	countFlag(cmd, &h.count)
}

// The usages of flags that several commands have.
const (
	voiceUsage = "a `FOLDER` of your own recordings of counts (one.wav, and.ogg …) and of figures' names (spot turn.wav)"
	callUsage  = "say each figure's name before it begins, with your recordings (--voice) or a speech program"
)

func (h *howToDance) musicFlag(cmd *cobra.Command) {
	cmd.Flags().StringVar(&h.music, "music", "", "dance to this `SONG` instead of the sheet's; none for clicks only")
}

// liveFlags adds the flags that apply to dancing but not to handouts.
func (h *howToDance) liveFlags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&h.repeat, "repeat", false, "repeat the routine until you stop")
	cmd.Flags().StringVar(&h.figures, "figures", "", "repeat only these `FIGURES` of the order: 2 or 2-3")
	cmd.Flags().StringVar(&h.voice, "voice", "", voiceUsage)
	cmd.Flags().BoolVar(&h.call, "call", false, callUsage)
	h.pauseFlag(cmd)
	wordFlag(cmd, &h.pictures, "pictures", "draw the plan of the floor in `PICTURES`: auto, blocks, dots, sixel or kitty", terminal.Settings)
}

func (h *howToDance) pauseFlag(cmd *cobra.Command) {
	cmd.Flags().Float64Var(&h.pauseAfter, "pause-after", store.UsualPause, "suggest a break after this many `MINUTES` of dancing, 0 for never; this is remembered")
}

// settings returns how to dance a timeline. For a nil timeline, of a sheet that can't be danced yet,
// it returns what doesn't depend on one. The error is about the first wrong flag; the others hold.
func (h *howToDance) settings(timeline *player.Timeline) (player.Settings, error) {
	set := player.DefaultSettings()
	var wrong error
	refuse := func(f *outcome.Failure) {
		if wrong == nil {
			wrong = f
		}
	}
	if h.tempo != "" && timeline != nil {
		if percent, tempo, err := timeline.ParseTempo(h.tempo, timeline.OwnTempo()); err != nil {
			refuse(outcome.New(exitUsage, fmt.Errorf("--tempo: %w", err), "24 bars/min, 96 beats/min or 80 %"))
		} else {
			set = set.At(percent, tempo)
		}
	}
	bars := func(flag string, n int) int {
		if n < 0 || n > player.MostLeadIn {
			refuse(outcome.Usage(fmt.Errorf("--%s: %d bars; use 0 to %d", flag, n, player.MostLeadIn)))
		}
		return min(max(n, 0), player.MostLeadIn)
	}
	set.LeadIn, set.Rest, set.Call = bars("lead-in", h.leadIn), bars("rest", h.rest), h.call
	set.Count = h.count
	if h.ladder != "" {
		var err error
		if set.Ladder, err = player.ParseLadder(h.ladder); err != nil {
			refuse(outcome.New(exitUsage, fmt.Errorf("--gradually: %w", err), "70 to 100 % by 5, 2 run-throughs"))
		}
	}
	if timeline == nil {
		return set, wrong
	}
	if h.repeat || set.Ladder != (player.Ladder{}) {
		set.Loop = player.Interval{From: timeline.Start, To: timeline.End}
	}
	if h.figures != "" {
		if loop, err := timeline.ParseItems(h.figures); err != nil {
			refuse(outcome.Usage(fmt.Errorf("--figures: %w", err)))
		} else {
			set.Loop = loop
		}
	}
	return set, wrong
}
