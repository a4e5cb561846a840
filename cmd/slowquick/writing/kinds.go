package writing

import (
	"errors"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/songs"
)

// kind describes a command that writes one kind of handout.
type kind struct {
	use, short, example string
	also                string // another name that it takes; "" for none
	long                string // "" for none
	formats             []flags.Format
	schema              []byte // that --schema writes; nil for none
	flags               func(*cobra.Command)
	timed               bool                 // its times are those of the track and the song
	heard               bool                 // it is the track
	printed             bool                 // it is on paper
	check               func(w wanted) error // what can't be written; nil for a kind that always can
	write               func(out io.Writer, w wanted) error
}

// wanted is a sheet and how to write it.
type wanted struct {
	sheets.Sheet
	handout.Options
	format flags.Format
	file   string
	track  handout.ClickTrack // if the kind is timed
}

// command returns the command of a kind.
func (d desk) command(k kind) *cobra.Command {
	var to flags.Target
	var how flags.Handed
	sound := flags.Track{Bits: 16, Rate: flags.Rate}
	schema := false
	cmd := &cobra.Command{
		Use:     k.use,
		Short:   k.short,
		Long:    k.long,
		Example: k.example,
		Args: func(cmd *cobra.Command, args []string) error {
			if !schema {
				return arguments.Sheets(1)(cmd, args)
			} else if len(args) > 0 {
				return outcome.Usage(errors.New("leave the sheet out with --schema"))
			}
			return nil
		},
		ValidArgsFunction: d.CompleteSheets,
		Aliases:           strings.Fields(k.also),
		RunE: func(cmd *cobra.Command, args []string) error {
			if schema && to.Path == "" {
				to.Path = "-"
			}
			format, err := to.Format(d.AtTerminal())
			if err != nil {
				return err
			}
			if schema {
				return d.WriteTo(to.Path, to.Force, func(w io.Writer) error { _, err := w.Write(k.schema); return err })
			}
			if err := sound.Check(); err != nil {
				return err
			}
			w := wanted{format: format, file: to.Path}
			if w.Sheet, err = d.Danceable(args[0]); err != nil {
				return err
			}
			if k.timed {
				if w.Timeline, err = d.ToSong(cmd.Context(), songs.Book{Rate: sound.Rate, Given: how.How.Music, For: w.Name}, w.Document, w.Timeline); err != nil {
					return outcome.Failed(err, "--music none writes it without the song")
				}
			}
			if w.Options, err = how.Options(w.Timeline); err != nil {
				return err
			}
			if k.timed {
				w.track = d.clickTrack(sound, d.sounds(cmd.Context(), sound, w.Timeline), w.Options)
				w.track.Progress = d.Progress(to.Path)
				w.Before = w.track.Before(w.Timeline)
			}
			if k.check != nil {
				if err := k.check(w); err != nil {
					return err
				}
			}
			return d.WriteTo(to.Path, to.Force, func(out io.Writer) error { return k.write(out, w) })
		},
	}
	to.Flags(cmd, k.formats...)
	how.Flags(cmd)
	if k.schema != nil {
		cmd.Flags().BoolVar(&schema, "schema", false, "write the JSON Schema of the file instead; to standard output unless -o is given")
	}
	if k.printed {
		how.PaperFlag(cmd)
	}
	if k.timed {
		how.How.MusicFlag(cmd)
		sound.VoiceFlags(cmd, k.heard)
	}
	if k.heard {
		sound.SoundFlags(cmd)
	}
	if k.flags != nil {
		k.flags(cmd)
	}
	return cmd
}
