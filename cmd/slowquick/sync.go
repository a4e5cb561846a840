package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/device"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen"
)

func (a *app) sync() *cobra.Command {
	return &cobra.Command{
		Use:   "sync",
		Short: "Find how late the sound is, and make up for it",
		Long: `Sync lets you tap the space bar with clicks and then with flashes. The
difference is how much later than the screen the sound comes, as it does from
loudspeakers without a wire. It is kept for the kind of sound output, and from
then on the screen waits for the ear.`,
		Args: noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if !a.atTerminal() {
				return usage(errors.New("sync needs a terminal to flash and tap on"))
			}
			return a.findLateness(cmd.Context())
		},
	}
}

func (a *app) findLateness(ctx context.Context) error {
	s := &stage{engine: audio.NewEngine(rate)}
	s.engine.SetLevels(0, player.DefaultLevels([2]bool{}))
	s.line = device.Open(s.engine, rate, device.Options{})
	defer s.line.Close()
	s.settle(ctx)
	if problem := s.Status(); problem != "" {
		return failed(errors.New("there is no sound to tap with: "+problem), "")
	}
	output := s.line.Status().Output
	late, wanted, err := screen.Sync(ctx, screen.SyncOptions{Line: s.line, Engine: s.engine, Rate: rate, Click: audio.NewKit(rate).Block})
	if err != nil {
		return failed(err, "")
	}
	if !wanted {
		fmt.Fprintln(a.out, "nothing was changed")
		return nil
	}
	if err := keep("lateness", map[string]lateness{output: {Seconds: late.Seconds()}}); err != nil {
		return failed(err, "")
	}
	fmt.Fprintf(a.out, "%s: the screen waits %d ms for the sound\n", output, late.Milliseconds())
	return nil
}
