package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/recording"
	"dance.example/slowquick/cmd/slowquick/console"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/songs"
	"dance.example/slowquick/routine"
)

// howToListen holds the flags of listen.
type howToListen struct {
	dance          string
	beats, written string // files
	forget, asJSON bool
	force          bool // overwrite a file
}

func (a *app) listen() *cobra.Command {
	var how howToListen
	cmd := &cobra.Command{
		Use:   "listen SONG|FOLDER",
		Short: "Find the beat of a song and the dances it suits",
		Long: `Listen finds the beat of a song (WAV, FLAC, Ogg Vorbis or MP3): its tempo, how steady
it is, where bars begin, and which dances it suits. For a folder it lists the songs;
with --dance, only those that suit a dance.

It looks for a beat only at the tempi of a dance, as no program can tell whether people
dance to every beat or to every second one. It says what it isn't sure of. Beats that you
give with --beats are used from then on, wherever the song's file is. A line
"steady 12.3 210" before them says from when to when, in seconds, their tempo is steady:
a dance begins there, not in a free introduction. There may be a line for each tempo.`,
		Example: "  slowquick listen song.flac\n  slowquick listen --dance rumba music\n  slowquick listen --dance waltz --write-beats beats.txt song.ogg",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return outcome.Usage(errors.New("name a song or a folder of songs"))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			all := a.Library.AllDances()
			dances := all
			if how.dance != "" {
				chapters, err := a.Chapters(how.dance)
				if err != nil {
					return err
				}
				dances = []*routine.Dance{chapters[0].Dance}
			}
			l := &listener{a, how, dances, songs.NewEar(dances, all)}
			if info, err := os.Stat(args[0]); err == nil && info.IsDir() {
				if how.beats != "" || how.written != "" || how.forget {
					return outcome.Usage(errors.New("--beats, --write-beats and --forget-beats take one song, not a folder"))
				}
				return l.folder(cmd.Context(), args[0])
			}
			return l.one(cmd.Context(), args[0])
		},
	}
	cmd.Flags().StringVar(&how.dance, "dance", "", "ask only about this `DANCE`")
	cmd.Flags().StringVar(&how.beats, "beats", "", "take the beats from this `FILE`; each line has a beat's time in seconds and its number in the bar")
	cmd.Flags().StringVar(&how.written, "write-beats", "", "write the beats of the dance that suits best to a `FILE`; - writes only them to standard output")
	cmd.Flags().BoolVar(&how.force, "force", false, "overwrite an existing file")
	cmd.Flags().BoolVar(&how.forget, "forget-beats", false, "forget the beats that you gave")
	flags.Formerly(cmd, "forget", "forget-beats")
	a.printsJSON(cmd, &how.asJSON)
	a.CompleteDances(cmd)
	return cmd
}

// listener listens to songs for some dances.
type listener struct {
	*app
	how    howToListen
	dances []*routine.Dance
	ear    *songs.Ear
}

// one prints what it hears in one song.
func (l *listener) one(ctx context.Context, path string) error {
	l.Reads(path, l.how.beats)
	song, err := l.read(ctx, path)
	if err != nil {
		return notHeard(err)
	}
	if l.how.forget {
		if err := songs.ForgetBeats(song.Hash); err != nil {
			return outcome.Failed(err, "")
		}
	}
	if l.how.beats != "" {
		text, err := l.ReadAny(l.how.beats)
		if err == nil {
			err = songs.GiveBeats(l.how.beats, text, songs.SoundOf(song))
		}
		if err != nil {
			return outcome.Failed(err, "")
		}
	}
	h, err := l.ear.Hear(ctx, path, song)
	if ctx.Err() != nil {
		return outcome.Failed(ctx.Err(), "")
	} else if err != nil {
		return outcome.Failed(err, "slowquick listen --forget-beats forgets the beats that you gave")
	}
	if l.how.written != "" {
		grid := h.Fits[0].Grid
		if len(grid.Beats) == 0 {
			return outcome.Failed(errors.New("no beats were found to write"), "")
		}
		beats := func(w io.Writer) error { return songs.WriteBeats(w, grid) }
		if err := l.WriteTo(l.how.written, l.how.force, beats); err != nil || l.how.written == "-" {
			return err
		}
	}
	if l.how.asJSON {
		return l.PrintJSON(h.Report(true))
	}
	return outcome.Failed(report.Song(l.Page(l.Out), h, l.dances), "")
}

// notHeard returns the failure to read a song.
func notHeard(err error) error {
	hint := ""
	if errors.Is(err, recording.ErrKind) {
		hint = "convert it, as with ffmpeg -i SONG song.flac"
	}
	if errors.Is(err, recording.ErrBits) {
		hint = "convert it, as with ffmpeg -i SONG -sample_fmt s16 song16.flac"
	}
	return outcome.Failed(err, hint)
}

// status replaces the line of progress on a terminal; "" clears it.
func (l *listener) status(format string, args ...any) {
	if console.IsTerminal(l.Err.Raw) {
		fmt.Fprintf(l.Err.Raw, "\r\x1b[K"+format, args...)
	}
}

// read reads a song and shows its progress.
func (l *listener) read(ctx context.Context, path string) (*music.Audio, error) {
	shown := -1
	s, err := music.ReadFile(ctx, path, music.Options{Mute: true, Progress: func(part float64) {
		if percent := int(100 * part); percent > shown {
			shown = percent
			l.status("reading %s: %d %%", harmless.Masked(filepath.Base(path)), percent)
		}
	}})
	l.status("")
	return s, err
}

// mostSongs bounds how many songs of a folder are listened to.
const mostSongs = 1000

// folder lists the songs of a folder, or those that suit a dance.
func (l *listener) folder(ctx context.Context, path string) error {
	paths, err := songs.Files(path)
	if err != nil {
		return outcome.Failed(err, "")
	}
	if len(paths) == 0 {
		return outcome.Failed(fmt.Errorf("%s has no songs", path), "")
	}
	if len(paths) > mostSongs {
		l.Warn(fmt.Errorf("listening only to the first %d of %d songs", mostSongs, len(paths)))
		paths = paths[:mostSongs]
	}
	entries, unread := []songs.Report{}, 0
	err = l.ear.HearAll(ctx, paths, l.Guard, func(h *songs.Listened, err error) {
		if err != nil {
			l.status("")
			l.Warn(err)
			unread++
		} else {
			e := h.Report(false)
			if e.Damage != "" && !l.how.asJSON {
				l.status("")
				l.Warn(fmt.Errorf("%s: %s", e.Song, e.Damage))
			}
			entries = append(entries, e)
		}
		l.status("listening: %d of %d songs", len(entries)+unread, len(paths))
	})
	l.status("")
	if err != nil {
		return outcome.Failed(err, "")
	}
	if l.how.asJSON {
		err = l.PrintJSON(entries)
	} else {
		var only *routine.Dance
		if l.how.dance != "" {
			only = l.dances[0]
		}
		report.Songs(l.Page(l.Out), entries, only)
	}
	if err == nil && unread > 0 {
		return outcome.Failed(fmt.Errorf("%d of %d songs can't be read", unread, len(paths)), "")
	}
	return err
}
