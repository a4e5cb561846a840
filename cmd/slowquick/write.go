package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
)

func (a *app) write() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "write",
		Short: "Write handouts: pages, tracks, captions, plans",
		Args:  noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			var names []string
			for _, c := range cmd.Commands() {
				names = append(names, c.Name())
			}
			return usage(errors.New("say what to write: " + strings.Join(names, ", ")))
		},
	}
	cmd.AddCommand(a.writeHandout(), a.writeWAV(), a.writeMIDI(), a.writeCaptions(), a.writeCalendar(), a.writeTimeline(), a.writePlan(), a.writeAll())
	return cmd
}

// target is where a command writes, and the formats it can write.
type target struct {
	path    string
	force   bool
	formats []format // the first is for standard output and for names without an ending
}

// format is a file format.
type format struct {
	name    string
	endings []string // of file names; the first is the usual one
	binary  bool     // not for a terminal
}

func (t *target) flags(cmd *cobra.Command, formats ...format) {
	t.formats = formats
	var first, all []string
	for _, f := range formats {
		first = append(first, f.endings[0])
		for _, ending := range f.endings {
			all = append(all, strings.TrimPrefix(ending, "."))
		}
	}
	cmd.Use = strings.Replace(cmd.Use, "FILE", "FILE"+strings.Join(first, "|"), 1)
	cmd.Flags().StringVarP(&t.path, "output", "o", "", fmt.Sprintf("the `FILE` to write, %s; %s if it has no ending or is - for standard output", orList(first), formats[0].name))
	cmd.Flags().BoolVar(&t.force, "force", false, "overwrite an existing file")
	_ = cmd.MarkFlagFilename("output", all...) // fails only for a flag that does not exist
}

// orList lists words: "a", "a or b", "a, b or c".
func orList(words []string) string {
	if last := len(words) - 1; last > 0 {
		return strings.Join(words[:last], ", ") + " or " + words[last]
	}
	return strings.Join(words, "")
}

// format returns the format for the ending of the target's name.
func (a *app) format(t target) (format, error) {
	ending := strings.ToLower(filepath.Ext(t.path))
	switch usual := t.formats[0]; {
	case t.path == "":
		return format{}, &failure{exitUsage, errors.New("name the file to write: -o FILE"), "-o - writes to standard output, as " + usual.name}
	case t.path == "-" && usual.binary && isTerminal(a.out.raw):
		return format{}, &failure{exitUsage, fmt.Errorf("%s is not for a terminal", usual.name), "-o FILE" + usual.endings[0] + " writes a file"}
	case t.path == "-", ending == "":
		return usual, nil
	}
	var known []string
	for _, f := range t.formats {
		if slices.Contains(f.endings, ending) {
			return f, nil
		}
		known = append(known, f.endings[0])
	}
	return format{}, usage(fmt.Errorf("can't write %s; end the file's name in %s", filepath.Ext(t.path), orList(known)))
}

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
		return o, usage(fmt.Errorf("--times: %d; use 1 to %d", h.times, handout.MostTimes))
	}
	if h.times > 0 {
		o.Times = h.times
	}
	return o, nil
}
