package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

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
	late, keep, err := screen.Sync(ctx, screen.SyncOptions{Line: s.line, Engine: s.engine, Rate: rate, Click: audio.NewKit(rate).Block})
	if err != nil {
		return failed(err, "")
	}
	if !keep {
		fmt.Fprintln(a.out, "nothing was changed")
		return nil
	}
	if err := keepLateness(output, late); err != nil {
		return failed(err, "")
	}
	fmt.Fprintf(a.out, "%s: the screen waits %d ms for the sound\n", output, late.Milliseconds())
	return nil
}

// latenessFile is where it is kept how late outputs are; "" where there is no
// place for settings.
func latenessFile() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "slowquick", "lateness.json")
}

// keptLateness is how late outputs are, in seconds, by their names.
func keptLateness() (map[string]float64, error) {
	text, err := os.ReadFile(latenessFile())
	if os.IsNotExist(err) || latenessFile() == "" {
		return nil, nil
	}
	kept := map[string]float64{}
	if err == nil {
		err = json.Unmarshal(text, &kept)
	}
	if err != nil {
		return nil, fmt.Errorf("read how late the sound is: %w", err)
	}
	return kept, nil
}

// latenessOf gives how late an output is, as it was kept.
func latenessOf(kept map[string]float64) func(string) time.Duration {
	return func(output string) time.Duration { return time.Duration(kept[output] * float64(time.Second)) }
}

func keepLateness(output string, late time.Duration) error {
	path := latenessFile()
	if path == "" {
		return errors.New("keep how late the sound is: there is no folder for settings")
	}
	kept, _ := keptLateness() // what can't be read is written anew
	if kept == nil {
		kept = map[string]float64{}
	}
	kept[output] = late.Seconds()
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("keep how late the sound is: %w", err)
	}
	err := writeWhole(path, func(w io.Writer) error { return json.NewEncoder(w).Encode(kept) })
	if err != nil {
		return fmt.Errorf("keep how late the sound is: %w", err)
	}
	return nil
}
