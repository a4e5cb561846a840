package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
)

// kind is a command that writes a sheet in one way.
type kind struct {
	use, short, example string
	flags               func(*cobra.Command)
	// writer says how the sheet is written to a file.
	writer func(c class, o handout.Options, to target) (func(io.Writer) error, error)
}

// command makes the command of a kind.
func (a *app) command(k kind) *cobra.Command {
	var to target
	var how handed
	cmd := &cobra.Command{
		Use:               k.use,
		Short:             k.short,
		Example:           k.example,
		Args:              sheetArgs(1),
		ValidArgsFunction: a.completeSheets,
		RunE: func(_ *cobra.Command, args []string) error {
			c, err := a.class(args[0])
			if err != nil {
				return err
			}
			o, err := how.options(c.line)
			if err != nil {
				return err
			}
			f, err := k.writer(c, o, to)
			if err != nil {
				return err
			}
			return a.writeTo(to, f)
		},
	}
	to.flags(cmd)
	how.flags(cmd)
	if k.flags != nil {
		k.flags(cmd)
	}
	return cmd
}

// track is the flags of a track.
type track struct {
	aloud, rhythm bool
	voice         string // a folder
	bits, rate    int
}

// rhythmLevel is how loud the rhythm is in a track that has one.
const rhythmLevel = 0.5

// clickTrack is a track as its flags ask for it.
func (a *app) clickTrack(t track, o handout.Options, name string) handout.ClickTrack {
	o.Spoken = t.aloud
	c := handout.ClickTrack{Options: o, Sounds: player.Sounds{Kit: audio.NewKit(t.rate)}, Levels: player.DefaultLevels(o.Shown),
		Rate: t.rate, Bits: t.bits, Progress: a.progress(name)}
	if t.aloud {
		c.Sounds.Voice = a.voice(t.rate, t.voice)
	}
	if t.rhythm {
		c.Sounds.Band, c.Levels[player.RhythmLayer] = audio.NewBand(t.rate), rhythmLevel
	}
	return c
}

func (a *app) writeWAV() *cobra.Command {
	var t track
	return a.command(kind{
		use:     "wav SHEET -o FILE.wav|.flac",
		short:   "Write the click track of a routine as a WAV or FLAC file",
		example: "  slowquick write wav lantern-night.md -o slow.wav --tempo '80 %' --aloud\n  slowquick write wav lantern-night.md -o practice.flac --figures 2-3 --gradually '70 to 100 % by 10' --rest 1",
		flags: func(cmd *cobra.Command) {
			cmd.Flags().BoolVar(&t.aloud, "aloud", false, "count aloud")
			cmd.Flags().StringVar(&t.voice, "voice", "", "a `FOLDER` of recordings to count with: one.wav, and.ogg …")
			cmd.Flags().BoolVar(&t.rhythm, "rhythm", false, "play the dance's rhythm")
			cmd.Flags().IntVar(&t.bits, "bits", 16, "bits a sample: 16 or 24")
			cmd.Flags().IntVar(&t.rate, "rate", 48000, "frames a second: 44100 or 48000")
		},
		writer: func(c class, o handout.Options, to target) (func(io.Writer) error, error) {
			if t.bits != 16 && t.bits != 24 {
				return nil, usage(fmt.Errorf("a sample has 16 or 24 bits, not %d", t.bits))
			}
			if t.rate != 44100 && t.rate != 48000 {
				return nil, usage(fmt.Errorf("the rate is 44100 or 48000 frames a second, not %d", t.rate))
			}
			made := a.clickTrack(t, o, to.path)
			if to.ending() == ".flac" {
				return func(w io.Writer) error { return made.FLAC(w, c.line) }, nil
			}
			return func(w io.Writer) error { return made.WAV(w, c.line) }, nil
		},
	})
}

func (a *app) writeMIDI() *cobra.Command {
	return a.command(kind{
		use:     "midi SHEET -o FILE.mid",
		short:   "Write clicks, rhythm, counts and steps as a MIDI file for music programs",
		example: "  slowquick write midi lantern-night.md -o lantern-night.mid",
		writer: func(c class, o handout.Options, _ target) (func(io.Writer) error, error) {
			return func(w io.Writer) error { return handout.MIDI(w, c.line, o) }, nil
		},
	})
}

func (a *app) writeCaptions() *cobra.Command {
	var of string
	aloud := false
	return a.command(kind{
		use:     "captions SHEET -o FILE.vtt|.srt",
		short:   "Write counts, steps or figures as captions of a film (WebVTT, SubRip)",
		example: "  slowquick write captions lantern-night.md -o steps.vtt --of steps\n  slowquick write captions lantern-night.md -o chapters.vtt --of figures",
		flags: func(cmd *cobra.Command) {
			cmd.Flags().StringVar(&of, "of", "counts", "what they tell: counts, steps, or figures as chapters")
			cmd.Flags().BoolVar(&aloud, "aloud", false, "for a track that counts aloud, which begins with a breath")
			complete(cmd, "of", handout.CaptionNames[:]...)
		},
		writer: func(c class, o handout.Options, to target) (func(io.Writer) error, error) {
			o.Spoken = aloud
			k, err := captionsOf(of)
			if err != nil {
				return nil, err
			}
			switch to.ending() {
			case ".srt":
				return func(w io.Writer) error { return k.SubRip(w, c.line, o) }, nil
			case ".vtt", "", "-":
				return func(w io.Writer) error { return k.WebVTT(w, c.line, o) }, nil
			}
			return nil, endingError(to.path, ".vtt", ".srt")
		},
	})
}

func captionsOf(word string) (handout.Captions, error) {
	for k, name := range handout.CaptionNames {
		if name == word {
			return handout.Captions(k), nil
		}
	}
	return 0, usage(fmt.Errorf("--of: %q is not %s", word, strings.Join(handout.CaptionNames[:], ", ")))
}

func (a *app) writeHandout() *cobra.Command {
	large := false
	return a.command(kind{
		use:     "handout SHEET -o FILE.html",
		short:   "Write a page to read and to print",
		example: "  slowquick write handout lantern-night.md -o lantern-night.html",
		flags: func(cmd *cobra.Command) {
			cmd.Flags().BoolVar(&large, "large", false, "in large print")
		},
		writer: func(c class, o handout.Options, to target) (func(io.Writer) error, error) {
			o.Large = large
			return func(w io.Writer) error {
				return handout.HTML(w, "", handout.Sheet{Text: c.text, Line: c.line, Options: o})
			}, nil
		},
	})
}

func (a *app) writeTimeline() *cobra.Command {
	schema := false
	cmd := a.command(kind{
		use:     "timeline SHEET -o FILE.json",
		short:   "Write every beat and step of a routine with its time, as JSON",
		example: "  slowquick write timeline lantern-night.md -o -\n  slowquick write timeline --schema",
		writer: func(c class, o handout.Options, _ target) (func(io.Writer) error, error) {
			return func(w io.Writer) error { return handout.JSON(w, c.line, o) }, nil
		},
	})
	cmd.Flags().BoolVar(&schema, "schema", false, "print the JSON Schema of what is written, instead")
	write, args := cmd.RunE, cmd.Args
	cmd.Args = func(cmd *cobra.Command, names []string) error {
		if schema {
			return noArgs(cmd, names)
		}
		return args(cmd, names)
	}
	cmd.RunE = func(cmd *cobra.Command, names []string) error {
		if !schema {
			return write(cmd, names)
		}
		if _, err := a.out.Write(handout.TimelineSchema); err != nil {
			return failed(fmt.Errorf("print: %w", err), "")
		}
		return nil
	}
	return cmd
}
