package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/songs"
	"dance.example/slowquick/routine/floor"
)

func (a *app) writeAll() *cobra.Command {
	var to target
	var how handed
	var when evenings
	t := trackFlags{aloud: true, rhythm: true, bits: 16, rate: rate}
	packed := false
	cmd := &cobra.Command{
		Use:   "all SHEET|FOLDER -o FOLDER",
		Short: "Write everything for a class into a folder, with an index page",
		Long: `All writes a sheet in every way: pages, plan, track, MIDI, captions, timeline, and
a practice plan if --until names its last day. What tells times begins with the
track. Of a folder's sheets it makes a folder each, and a class book; on the same
evenings they are practised one after the other, for --minutes each.

A new folder appears once everything is written. If the folder exists, everything
is written first and then moved into it, the index last. Interrupted before that, it
is as it was; killed during the move, each file is whole, old or new, and the same
command completes it. What an earlier run made and this one doesn't is removed,
unless it was changed since. Other files stay.`,
		Example:           "  slowquick write all lantern-night.md -o lantern-night --until 2026-12-18 --days fri\n  slowquick write all sheets -o class",
		Args:              sheetArgs(1),
		ValidArgsFunction: a.completeSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			list, err := a.danceables(args[0])
			if err != nil {
				return err
			}
			plans, err := when.each(list)
			if err != nil {
				return err
			}
			b := bundle{app: a, Folder: handout.Folder{Index: handout.Index{Title: list[0].Timeline.Score.Title}}, track: t, sounds: a.sounds(cmd.Context(), t, nil), packed: packed}
			for i, c := range list {
				folder := ""
				if len(list) > 1 {
					folder = sheetName(c.Document)
				}
				if c.Timeline, err = a.layOn(cmd.Context(), songs.Book{Rate: t.rate}, c.Document, c.Timeline); err != nil {
					a.warn(fmt.Errorf("%s without music: %w", c.Name, err))
				}
				o, err := how.options(c.Timeline)
				if err != nil {
					return err
				}
				if err := b.add(c, o, folder); err != nil {
					return err
				}
				if plans == nil {
					continue
				}
				p := plans[i]
				b.file("practice.ics", fmt.Sprintf("a practice plan for your calendar, at %02d:%02d", int(p.At.Hours()), int(p.At.Minutes())%60), func(w io.Writer) error {
					return handout.Calendar(w, handout.Sheet{Text: c.Text, Line: c.Timeline, Options: o}, p)
				})
			}
			if len(list) > 1 {
				b.book(bookTitle(args[0]))
			}
			return b.write(cmd.Context(), to)
		},
	}
	cmd.Flags().StringVarP(&to.path, "output", "o", "", "the `FOLDER` to write into")
	cmd.Flags().BoolVar(&to.force, "force", false, "write over files of a folder that exists")
	how.flags(cmd)
	how.paperFlag(cmd)
	when.flags(cmd)
	cmd.Flags().StringVar(&t.voice, "voice", "", "a `FOLDER` of recordings to count with: one.wav, and.ogg …")
	cmd.Flags().BoolVar(&packed, "flac", false, "the track as FLAC, which takes less room than WAV")
	return cmd
}

// sheetName names a sheet's own folder.
func sheetName(d sheets.Document) string {
	if d.Path == "" && d.Name == sheets.StandardInput {
		return "sheet"
	}
	return strings.TrimSuffix(filepath.Base(d.Name), ".md")
}

// bundle is the files of a class, and the page that lists them.
type bundle struct {
	*app
	handout.Folder
	track  trackFlags
	sounds player.Sounds
	packed bool   // the track is a FLAC file
	folder string // of the sheet that is added now
	sheets []handout.Sheet
}

// file adds a file of the sheet that was added last.
func (b *bundle) file(name, what string, write func(io.Writer) error) {
	if b.folder != "" {
		name = b.folder + "/" + name
	}
	b.Files = append(b.Files, handout.FolderFile{Path: name, Write: write})
	part := &b.Index.Parts[len(b.Index.Parts)-1]
	part.Files = append(part.Files, handout.IndexFile{Path: name, What: what})
}

// add adds all that is written of a sheet. What tells times begins with the track.
func (b *bundle) add(c sheets.Sheet, o handout.Options, folder string) error {
	score := c.Timeline.Score
	b.folder = folder
	b.Index.Parts = append(b.Index.Parts, handout.IndexPart{Title: score.Title, Dance: score.Dance.Name})
	sheet := handout.Sheet{Text: c.Text, Line: c.Timeline, Options: o}
	b.sheets = append(b.sheets, sheet)
	large := sheet
	large.Options.Large = true
	b.file("handout.html", "charts and plans, to read and to print", func(w io.Writer) error { return handout.HTML(w, "", sheet) })
	b.file("handout-large.html", "the same in large print", func(w io.Writer) error { return handout.HTML(w, "", large) })
	b.file("handout.md", "the sheet with all its figures, to change and to dance", func(w io.Writer) error { return handout.Markdown(w, sheet) })
	b.file("handout.txt", "the same as plain text", func(w io.Writer) error { return handout.Text(w, sheet) })
	b.file("plan.svg", "where the feet go, on one sheet of paper after the other", func(w io.Writer) error {
		return plan.Paper{Shown: o.Shown}.SVG(w, floor.Trace(score))
	})
	name := "track.wav"
	if b.packed {
		name = "track.flac"
	}
	made := b.clickTrack(b.track, b.sounds, o)
	write := handout.ClickTrack.FLAC
	if !b.packed {
		if err := made.FitsWAV(c.Timeline); err != nil {
			return failed(fmt.Errorf("write %s of %s: %w", name, c.Name, err), "--flac writes one that can be longer")
		}
		write = handout.ClickTrack.WAV
	}
	b.file(name, "a track that counts aloud, with clicks and the dance's rhythm", func(w io.Writer) error {
		made.Progress = b.progress(name)
		return write(made, w, c.Timeline)
	})
	o.Before = made.Before(c.Timeline)
	b.file("track.mid", "clicks, rhythm, counts and steps for music programs (MIDI)", func(w io.Writer) error { return handout.MIDI(w, c.Timeline, o) })
	for k, of := range handout.CaptionNames {
		k := handout.Captions(k)
		b.file(of+".vtt", "captions for the track or a film of it: "+of+" (WebVTT)", func(w io.Writer) error { return k.WebVTT(w, c.Timeline, o) })
		b.file(of+".srt", "the same (SubRip)", func(w io.Writer) error { return k.SubRip(w, c.Timeline, o) })
	}
	b.file("timeline.json", "every beat and step with its time, for programs (JSON)", func(w io.Writer) error { return handout.JSON(w, c.Timeline, o) })
	b.Index.Parts[len(b.Index.Parts)-1].Note = fmt.Sprintf("The track, the MIDI file, the captions and the timeline begin together: the first count is %.3g s after the start.", o.Before)
	return nil
}

// book adds the class book of all sheets.
func (b *bundle) book(title string) {
	b.folder = ""
	b.Index.Title = title
	b.Index.Parts = append([]handout.IndexPart{{}}, b.Index.Parts...)
	b.Index.Parts[0].Files = []handout.IndexFile{{Path: "book.html", What: "the class book: all handouts, with contents"}}
	b.Files = append(b.Files, handout.FolderFile{Path: "book.html", Write: func(w io.Writer) error { return handout.HTML(w, title, b.sheets...) }})
}

// write writes the bundle into a folder: a new one as a whole or not at all, and one that
// exists as [handout.Folder.Renew] says.
func (b *bundle) write(ctx context.Context, to target) error {
	if to.path == "" || to.path == "-" {
		return usage(errors.New("no folder to write is named: -o FOLDER"))
	}
	for i, f := range b.Files {
		b.Files[i].Write = until(ctx, f.Write)
	}
	entries, err := os.ReadDir(to.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := b.WriteNew(ctx, to.path); err != nil {
			return failed(fmt.Errorf("write %s: %w", to.path, err), "nothing was written")
		}
		return nil
	case err != nil:
		return failed(fmt.Errorf("write %s: %w", to.path, err), "")
	case len(entries) > 0 && !to.force && !b.agrees(to.path+" exists. Write over its files?"):
		return failed(fmt.Errorf("write %s: %w", to.path, fs.ErrExist), "--force writes over its files")
	}
	for _, f := range b.Files {
		if err := b.mayWrite(filepath.Join(to.path, f.Path)); err != nil {
			return err
		}
	}
	if err := b.Renew(ctx, to.path); err != nil {
		return failed(err, wayOutOf(err))
	}
	return nil
}

// wayOutOf says what a folder is like that could not be renewed.
func wayOutOf(err error) string {
	var e *handout.RenewError
	if !errors.As(err, &e) {
		return ""
	}
	return map[handout.FolderState]string{
		handout.Unchanged: "the folder is as it was",
		handout.PartlyNew: "some of its files are new; the same command, once it can, writes them all",
	}[e.State]
}
