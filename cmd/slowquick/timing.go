package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/console"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/tapping"
	"dance.example/slowquick/player/timing"
)

func (a *app) timing() *cobra.Command {
	how := flags.Dance{Tempo: "100 %"}
	silence, mic, plain := 0, false, false
	cmd := &cobra.Command{
		Use:   "timing SHEET",
		Short: "Tap or clap the steps, and see how well you keep time",
		Long: `Timing counts a routine while you tap the rhythm of its steps on the space bar or,
with --mic, clap or step aloud near the microphone. Then it shows how early or late
each count comes, and how evenly. With --silence the sound is off for some bars after
every four, and it shows what your tempo does meanwhile. If the sheet has a song, that
plays too, and the counts are on its beats.

With --plain it prints lines, for a screen reader: enter starts, and the space bar
taps. With --mic as well it needs no keyboard, and starts at once.

Slowquick subtracts its own sound from what the microphone hears, and never writes
that to the disk. Claps are heard through PulseAudio or PipeWire. If your loudspeaker
is wireless, run slowquick sync first.`,
		Example:           "  slowquick timing lantern-night-cha-cha --tempo '80 %'\n  slowquick timing lantern-night.md --silence 4 --mic",
		Args:              arguments.Sheets(1),
		ValidArgsFunction: a.CompleteSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case silence < 0 || silence > mostSilent:
				return outcome.Usage(fmt.Errorf("--silence: %d bars; use 0 to %d", silence, mostSilent))
			case !console.IsTerminal(a.In) && !(plain && mic):
				return outcome.New(exitUsage, errors.New("timing needs a terminal: you tap while it counts"), "--plain --mic listens to claps instead")
			}
			return a.timeSteps(cmd.Context(), args[0], how, tapping.Options{Silent: silence, Mic: mic}, plain || !a.Draws())
		},
	}
	flags.WhileDancing(cmd)
	cmd.Flags().StringVar(&how.Tempo, "tempo", how.Tempo, "the `TEMPO`: \"24 bars/min\", \"96 beats/min\", or \"80 %\" of the sheet's")
	cmd.Flags().StringVar(&how.Figures, "figures", "", "only these `FIGURES` of the order: 2 or 2-3")
	cmd.Flags().StringVar(&how.Voice, "voice", "", flags.VoiceUsage)
	how.MusicFlag(cmd)
	cmd.Flags().BoolVar(&plain, "plain", false, "print lines instead of showing the screen")
	cmd.Flags().IntVar(&silence, "silence", 0, "turn the sound off for this many `BARS` after every four")
	cmd.Flags().BoolVar(&mic, "mic", false, "listen for claps or steps with the microphone")
	return cmd
}

// mostSilent is the largest number of bars without sound.
const mostSilent = 8

// timeSteps has the steps of a sheet tapped as o says, on the screen or in plain lines, and prints how well.
func (a *app) timeSteps(ctx context.Context, name string, how flags.Dance, o tapping.Options, plain bool) error {
	d, err := a.Open(name)
	if err != nil {
		return err
	}
	timeline, set, err := a.toDance(ctx, d, how)
	if err != nil {
		return err
	}
	s := a.openStage(ctx, how, false, a.Warn)
	defer a.closeStage(s, how)
	s.Settle(ctx)
	if problem := s.Status(); problem != "" {
		a.Warn(errors.New(problem))
	}
	kept := diary.NewWriter(diary.File())
	defer a.closeDiary(kept)
	o.Sound, o.Rate, o.Keep = heard{s}, rate, keepTiming(kept)
	o.Danced = func() (*player.Timeline, player.Settings) { return timeline, set }
	r, ok, err := a.tap(ctx, o, plain)
	if ok {
		report.Timing(a.Page(a.Out), timeline.Score.Title, r)
	}
	return outcome.Failed(err, "")
}

// tap has steps tapped on the screen or in plain lines.
func (a *app) tap(ctx context.Context, o tapping.Options, plain bool) (timing.Result, bool, error) {
	if plain {
		a.printCautions()
		keys := a.In
		if !console.IsTerminal(a.In) {
			keys = nil
		}
		return tapping.RunPlain(ctx, o, keys, a.Out.Raw) // a carriage return is not for people
	}
	seen, after := a.cautioning()
	defer after()
	return tapping.Run(ctx, o, seen, program.Options{Guard: a.Guard})
}
