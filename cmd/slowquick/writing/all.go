package writing

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/folders"
	"dance.example/slowquick/player/songs"
)

func (d desk) writeAll() *cobra.Command {
	var to flags.Target
	var how flags.Handed
	var when flags.Evenings
	t := flags.Track{Aloud: true, Rhythm: true, Bits: 16, Rate: flags.Rate}
	packed := false
	cmd := &cobra.Command{
		Use:   "all SHEET|FOLDER -o FOLDER",
		Short: "Write everything for a class into a folder, with an index page",
		Long: `All writes every kind of handout: pages, cards, plan, track, MIDI, captions, timeline,
and a practice plan if --until gives its last day. Captions, MIDI and timeline start
together with the track. From a folder of sheets it makes a folder for each, a
class book and a playlist of the tracks; they are practised one after the other, --minutes each, on the same evenings.

A new folder appears once everything is written. If the folder exists, everything is
written first and then moved into it, the index last. If you interrupt that, the
folder doesn't change; if it is killed during the move, each file is whole, old or
new, and the same command finishes the job. Files of an earlier run that are no
longer made are removed, unless you changed them. Other files stay.`,
		Example:           "  slowquick write all lantern-night.md -o lantern-night --until 2026-12-18 --days fri\n  slowquick write all sheets -o class",
		Args:              arguments.Sheets(1),
		ValidArgsFunction: d.CompleteSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			list, err := d.Danceables(args[0])
			if err != nil {
				return err
			}
			var plans []handout.Practice
			if when.Asked() {
				if plans, err = when.Each(list); err != nil {
					return err
				}
			}
			sounds := d.sounds(cmd.Context(), t, nil)
			class := folders.Class{Packed: packed, Progress: d.Progress, Track: func(o handout.Options) handout.ClickTrack { return d.clickTrack(t, sounds, o) }}
			for i, c := range list {
				folder := ""
				if len(list) > 1 {
					folder = c.Base()
				}
				if c.Timeline, err = d.ToSong(cmd.Context(), songs.Book{Rate: t.Rate}, c.Document, c.Timeline); err != nil {
					d.Warn(fmt.Errorf("%s without music: %w", c.Name, err))
				}
				o, err := how.Options(c.Timeline)
				if err != nil {
					return err
				}
				if err := class.Add(folder, handout.Sheet{Text: c.Text, Line: c.Timeline, Options: o}); err != nil {
					return outcome.Failed(fmt.Errorf("write track.wav of %s: %w", c.Name, err), "--flac allows longer tracks")
				}
				if plans != nil {
					class.AddCalendar(plans[i])
				}
			}
			if len(list) > 1 {
				class.AddBook(folders.BookTitle(args[0]))
			}
			return d.writeFolder(cmd.Context(), to, class.Folder)
		},
	}
	cmd.Flags().StringVarP(&to.Path, "output", "o", "", "the `FOLDER` to write into")
	cmd.Flags().BoolVar(&to.Force, "force", false, "overwrite files in an existing folder")
	how.Flags(cmd)
	how.PaperFlag(cmd)
	when.Flags(cmd)
	cmd.Flags().StringVar(&t.Voice, "voice", "", "a `FOLDER` of your own recordings of counts: one.wav, and.ogg …")
	cmd.Flags().BoolVar(&packed, "flac", false, "write the track as FLAC, which is smaller than WAV")
	return cmd
}

// writeFolder writes a folder: a new one as a whole or not at all, an existing one as
// [folders.Folder.Renew] says.
func (d desk) writeFolder(ctx context.Context, to flags.Target, f folders.Folder) error {
	if to.Path == "" || to.Path == "-" {
		return outcome.Usage(errors.New("name the folder to write: -o FOLDER"))
	}
	for i, file := range f.Files {
		f.Files[i].Write = d.WhileRunning(file.Write)
	}
	entries, err := os.ReadDir(to.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := f.WriteNew(ctx, to.Path); err != nil {
			return outcome.Failed(fmt.Errorf("write %s: %w", to.Path, err), "nothing was written")
		}
		return nil
	case err != nil:
		return outcome.Failed(fmt.Errorf("write %s: %w", to.Path, err), "")
	case len(entries) > 0 && !to.Force && !d.Agrees(to.Path+" exists. Overwrite its files?"):
		return outcome.Failed(fmt.Errorf("write %s: %w", to.Path, fs.ErrExist), "--force overwrites its files")
	}
	for _, file := range f.Files {
		if err := d.MayWrite(filepath.Join(to.Path, file.Path)); err != nil {
			return err
		}
	}
	err = f.Renew(ctx, to.Path)
	return outcome.Failed(err, wayOutOf(err))
}

// wayOutOf says what became of a folder that could not be renewed.
func wayOutOf(err error) string {
	var e *folders.RenewError
	if !errors.As(err, &e) {
		return ""
	}
	return map[folders.State]string{
		folders.Unchanged: "nothing in the folder was changed",
		folders.PartlyNew: "some of its files are new; run the same command again to write the rest",
	}[e.State]
}
