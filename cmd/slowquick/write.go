package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine/floor"
)

func (a *app) write() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "write",
		Short: "Write a sheet's click track, timeline or floor plan",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return usage(errors.New("what to write is not named: wav, timeline or plan"))
		},
	}
	cmd.AddCommand(a.writeWAV(), a.writeTimeline(), a.writePlan())
	return cmd
}

// target is where a command writes to.
type target struct {
	path  string
	force bool
}

func (t *target) flags(cmd *cobra.Command) {
	cmd.Flags().StringVarP(&t.path, "output", "o", "", "the `FILE` to write; - for standard output")
	cmd.Flags().BoolVar(&t.force, "force", false, "write over a file that exists")
}

// write writes through f, whole or not at all.
func (a *app) writeTo(t target, f func(io.Writer) error) error {
	switch {
	case t.path == "":
		return usage(errors.New("no file to write is named: -o FILE"))
	case t.path == "-":
		if err := f(a.out); err != nil {
			return failed(err, "")
		}
		return nil
	}
	if _, err := os.Stat(t.path); err == nil && !t.force {
		return failed(fmt.Errorf("write %s: %w", t.path, fs.ErrExist), "--force writes over it")
	}
	if err := writeWhole(t.path, f); err != nil {
		return failed(err, "nothing was written")
	}
	return nil
}

func (a *app) writeWAV() *cobra.Command {
	var to target
	var how howToDance
	track := handout.ClickTrack{}
	aloud, rhythm := false, false
	cmd := &cobra.Command{
		Use:               "wav SHEET -o FILE",
		Short:             "Write the click track of a routine as a WAV file",
		Example:           "  slowquick write wav lantern-night.md -o slow.wav --tempo '80 %'",
		Args:              sheetArgs(1),
		ValidArgsFunction: a.completeSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			if track.Bits != 16 && track.Bits != 24 {
				return usage(fmt.Errorf("a sample has 16 or 24 bits, not %d", track.Bits))
			}
			if track.Rate != 44100 && track.Rate != 48000 {
				return usage(fmt.Errorf("the rate is 44100 or 48000 frames a second, not %d", track.Rate))
			}
			line, err := a.timeline(args[0])
			if err != nil {
				return err
			}
			if track.Settings, err = how.settings(line); err != nil {
				return err
			}
			shown, err := how.shown()
			if err != nil {
				return err
			}
			track.Sounds, track.Levels = player.Sounds{Kit: audio.NewKit(track.Rate)}, player.DefaultLevels(shown)
			if aloud || how.call {
				v := a.voice(track.Rate, how.voice)
				if aloud {
					track.Sounds.Voice = v
				}
				if how.call {
					track.Sounds.Calls = a.callsOf(cmd.Context(), line, saying(v, track.Rate))
				}
			}
			if rhythm {
				track.Sounds.Band, track.Levels[player.RhythmLayer] = audio.NewBand(track.Rate), rhythmLevel
			}
			return a.writeTo(to, func(w io.Writer) error { return track.WAV(w, line) })
		},
	}
	to.flags(cmd)
	how.flags(cmd)
	cmd.Flags().BoolVar(&aloud, "aloud", false, "count aloud")
	cmd.Flags().BoolVar(&rhythm, "rhythm", false, "play the dance's rhythm")
	cmd.Flags().IntVar(&track.Bits, "bits", 16, "bits a sample: 16 or 24")
	cmd.Flags().IntVar(&track.Rate, "rate", 48000, "frames a second: 44100 or 48000")
	return cmd
}

// rhythmLevel is how loud the rhythm is in a track that has one.
const rhythmLevel = 0.5

func (a *app) writeTimeline() *cobra.Command {
	var to target
	var how howToDance
	cmd := &cobra.Command{
		Use:               "timeline SHEET -o FILE",
		Short:             "Write every beat and step of a routine with its time, as JSON",
		Example:           "  slowquick write timeline lantern-night.md -o -",
		Args:              sheetArgs(1),
		ValidArgsFunction: a.completeSheets,
		RunE: func(_ *cobra.Command, args []string) error {
			line, err := a.timeline(args[0])
			if err != nil {
				return err
			}
			set, err := how.settings(line)
			if err != nil {
				return err
			}
			return a.writeTo(to, func(w io.Writer) error { return handout.JSON(w, line, set.Percent) })
		},
	}
	to.flags(cmd)
	how.tempoFlag(cmd)
	return cmd
}

func (a *app) writePlan() *cobra.Command {
	var to target
	var how howToDance
	var from string
	cmd := &cobra.Command{
		Use:               "plan SHEET -o FILE",
		Short:             "Write where both partners' feet go, as a drawing (SVG) to print",
		Example:           "  slowquick write plan lantern-night.md -o plan.svg",
		Args:              sheetArgs(1),
		ValidArgsFunction: a.completeSheets,
		RunE: func(_ *cobra.Command, args []string) error {
			view, err := viewOf(from)
			if err != nil {
				return err
			}
			shown, err := how.shown()
			if err != nil {
				return err
			}
			d, err := a.open(args[0])
			if err != nil {
				return err
			}
			score, err := a.score(d)
			if err != nil {
				return err
			}
			paper := plan.Paper{Shown: shown, View: view}
			return a.writeTo(to, func(w io.Writer) error { return paper.SVG(w, floor.Trace(score)) })
		},
	}
	to.flags(cmd)
	how.sideFlag(cmd)
	cmd.Flags().StringVar(&from, "view", "behind", "where the figures are seen from: behind the leader, opposite, or above")
	complete(cmd, "view", views[:]...)
	return cmd
}

// views are the words for where one looks from.
var views = [plan.Views]string{plan.Behind: "behind", plan.Opposite: "opposite", plan.Above: "above"}

func viewOf(word string) (plan.View, error) {
	for v, w := range views {
		if w == word {
			return plan.View(v), nil
		}
	}
	return 0, usage(fmt.Errorf("--view: %q is not behind, opposite or above", word))
}

// timeline reads a sheet that can be danced and lays it out.
func (a *app) timeline(arg string) (*player.Timeline, error) {
	d, err := a.open(arg)
	if err != nil {
		return nil, err
	}
	score, err := a.score(d)
	if err != nil {
		return nil, err
	}
	return player.NewTimeline(score), nil
}
