package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/tapping"
)

func (a *app) timing() *cobra.Command {
	how := flags.Dance{LeadIn: 1, Tempo: "100 %"}
	silence, mic := 0, false
	cmd := &cobra.Command{
		Use:   "timing SHEET",
		Short: "Tap or clap the steps, and see how well you keep time",
		Long: `Timing counts a routine while you tap the rhythm of its steps on the space bar or,
with --mic, clap or step aloud near the microphone. Then it shows how early or late
each count comes, and how evenly. With --silence the sound is off for some bars after
every four, and it shows what your tempo does meanwhile.

Slowquick subtracts its own sound from what the microphone hears, and never writes
that to the disk. Claps are heard through PulseAudio or PipeWire. If your loudspeaker
is wireless, run slowquick sync first.`,
		Example:           "  slowquick timing lantern-night-cha-cha --tempo '80 %'\n  slowquick timing lantern-night.md --silence 4 --mic",
		Args:              sheetArgs(1),
		ValidArgsFunction: a.completeSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case silence < 0 || silence > mostSilent:
				return outcome.Usage(fmt.Errorf("--silence: %d bars; use 0 to %d", silence, mostSilent))
			case !a.draws():
				return outcome.Usage(errors.New("timing needs a terminal: you tap while it counts"))
			}
			return a.timeSteps(cmd.Context(), args[0], how, silence, mic)
		},
	}
	cmd.Flags().StringVar(&how.Tempo, "tempo", how.Tempo, "the `TEMPO`: \"24 bars/min\", \"96 beats/min\", or \"80 %\" of the sheet's")
	cmd.Flags().StringVar(&how.Figures, "figures", "", "only these `FIGURES` of the order: 2 or 2-3")
	cmd.Flags().StringVar(&how.Voice, "voice", "", flags.VoiceUsage)
	cmd.Flags().IntVar(&silence, "silence", 0, "turn the sound off for this many `BARS` after every four")
	cmd.Flags().BoolVar(&mic, "mic", false, "listen for claps or steps with the microphone")
	return cmd
}

// mostSilent is the largest number of bars without sound.
const mostSilent = 8

// timeSteps has the steps of a sheet tapped, and prints how well.
func (a *app) timeSteps(ctx context.Context, name string, how flags.Dance, silence int, mic bool) error {
	d, err := a.open(name)
	if err != nil {
		return err
	}
	score, err := a.score(d)
	if err != nil {
		return err
	}
	timeline := player.NewTimeline(score)
	set, err := how.Settings(timeline)
	if err != nil {
		return err
	}
	s := a.openStage(ctx, how, false, a.warn)
	defer a.closeStage(s)
	s.Settle(ctx)
	if problem := s.Status(); problem != "" {
		a.warn(errors.New(problem))
	}
	kept := diary.NewWriter(diary.File())
	defer a.closeDiary(kept)
	seen, after := a.cautioning()
	defer after()
	r, ok, err := tapping.Run(ctx, tapping.Options{
		Sound: heard{s}, Rate: rate, Timeline: timeline, Settings: set, Silent: silence, Mic: mic,
		Keep: keepTiming(kept, score),
	}, seen, program.Options{Guard: a.guard})
	if ok {
		report.Timing(a.page(a.out), score.Title, r)
	}
	return outcome.Failed(err, "")
}
