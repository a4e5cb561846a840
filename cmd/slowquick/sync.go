package main

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/device"
	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/lateness"
	"dance.example/slowquick/player/stage"
	"dance.example/slowquick/player/store"
)

func (a *app) sync() *cobra.Command {
	list, forget := false, ""
	cmd := &cobra.Command{
		Use:   "sync",
		Short: "Measure and correct audio delay",
		Long: `Sync has you tap the space bar along with clicks, then with flashes. The
difference is how much later than the screen you hear the sound, as with wireless
loudspeakers. Slowquick remembers it for the device that is playing, and from then
on the screen waits for the sound on that device.

Where the sound system doesn't tell its devices apart, as with aplay and on macOS
and Windows, one delay is kept for all of them.`,
		Example: "  slowquick sync\n  slowquick sync --list",
		Args:    arguments.None,
		RunE: func(cmd *cobra.Command, _ []string) error {
			switch {
			case list:
				return a.listLateness()
			case cmd.Flags().Changed("forget"):
				return a.forgetLateness(forget)
			case !a.Draws():
				return outcome.Usage(errors.New("sync needs a terminal: it flashes, and you tap"))
			}
			return a.findLateness(cmd.Context())
		},
	}
	cmd.Flags().BoolVar(&list, "list", false, "list the delays that are kept")
	cmd.Flags().StringVar(&forget, "forget", "", "forget the delay of a device, by its `NAME` in the list")
	cmd.MarkFlagsMutuallyExclusive("list", "forget")
	_ = cmd.RegisterFlagCompletionFunc("forget", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		kept, _ := store.Latenesses()
		return slices.Sorted(maps.Keys(kept)), cobra.ShellCompDirectiveNoFileComp
	}) // fails only for a flag that does not exist
	return cmd
}

// listLateness lists the delays that are kept.
func (a *app) listLateness() error {
	kept, err := store.Latenesses()
	if err != nil {
		return outcome.Failed(err, "")
	}
	if len(kept) == 0 {
		a.Hint("no delays are kept; run slowquick sync to measure one")
		return nil
	}
	report.Latenesses(a.Page(a.Out), kept)
	return nil
}

// forgetLateness forgets the delay with a name of the list.
func (a *app) forgetLateness(name string) error {
	kept, err := store.Latenesses()
	if err != nil {
		return outcome.Failed(err, "")
	}
	keys := keysCalled(kept, name)
	switch len(keys) {
	case 0:
		hint := outcome.Perhaps(name, slices.Sorted(maps.Keys(kept)), "slowquick sync --list shows all of them")
		return outcome.New(exitUsage, fmt.Errorf("no delay is kept for %q", name), hint)
	case 1:
	default:
		return outcome.New(exitUsage, fmt.Errorf("%d devices are called %q", len(keys), name), "name one as "+strings.Join(keys, " or "))
	}
	if err := store.ForgetLateness(keys[0]); err != nil {
		return outcome.Failed(err, "")
	}
	fmt.Fprintf(a.Out, "%s: forgot that it was %s\n", harmless.Masked(keys[0]), kept[keys[0]])
	return nil
}

// keysCalled returns the keys of the delays that are listed by a name.
func keysCalled(kept map[string]store.Lateness, name string) (keys []string) {
	for key, l := range kept {
		if harmless.Masked(key) == name {
			return []string{key}
		}
		if name != "" && harmless.Masked(l.Called) == name {
			keys = append(keys, key)
		}
	}
	slices.Sort(keys)
	return keys
}

// tapped makes a line a [lateness.Device].
type tapped struct{ *device.Line }

// Device returns the key under which its lateness is kept, and what people call it.
func (t tapped) Device() (key, called string) {
	now := t.Status()
	if !now.Sounding {
		return "", ""
	}
	return store.LatenessKey(now), store.CalledOf(now)
}

// wakeSound waits until there is sound to tap with. The error says why there is none.
func (a *app) wakeSound(ctx context.Context, l stage.Line) error {
	hint := ""
	now := stage.Wake(ctx, l, func(most time.Duration) {
		fmt.Fprintf(a.Err, "slowquick: the sound output is asleep; waiting up to %.0f s\n", most.Seconds())
		hint = "play something to wake it, then try again"
	})
	if err := ctx.Err(); err != nil {
		return outcome.Failed(err, "")
	}
	if now.Problem != "" {
		return outcome.Failed(errors.New("no sound output: "+now.Problem), hint)
	}
	return nil
}

func (a *app) findLateness(ctx context.Context) error {
	engine := audio.NewEngine(rate)
	engine.SetLevels(0, player.DefaultLevels([2]bool{}))
	line := device.Open(engine, rate, device.Options{Describe: true, Guard: a.Guard})
	defer line.Close()
	if err := a.wakeSound(ctx, line); err != nil {
		return err
	}
	seen, after := a.cautioning()
	defer after()
	found, wanted, err := lateness.Find(ctx, lateness.Options{
		Guard: a.Guard, Line: line, Device: tapped{line}, Engine: engine, Rate: rate, Click: audio.NewKit(rate).Block, Seen: seen,
	})
	if err != nil {
		return outcome.Failed(err, "")
	}
	if !wanted {
		fmt.Fprintln(a.Out, "Nothing was changed.")
		return nil
	}
	late := store.Lateness{Seconds: found.Late.Seconds(), Called: found.Called, Unsure: found.Unsure.Seconds()}
	if err := store.KeepLateness(found.Device, late); err != nil {
		return outcome.Failed(err, "")
	}
	fmt.Fprintf(a.Out, "%s: the sound is %s; the screen now waits for it\n", harmless.Masked(found.Called), late)
	return nil
}
