package folders

import (
	"context"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/captions"
	"dance.example/slowquick/player/handout/midi"
	"dance.example/slowquick/routine/floor"
)

// Class is a folder with everything that is written of some sheets. Its index takes the title of
// the first sheet, or of the book.
type Class struct {
	Folder
	Track    func(handout.Options) handout.ClickTrack // makes the track of a sheet
	Packed   bool                                     // tracks are FLAC files
	Progress func(name string) func(share float64)    // returns the [handout.ClickTrack.Progress] of a track

	folder string // of the sheet that was added last; "" for none
	sheets []handout.Sheet
	tracks []playlistTrack
}

// Add adds all kinds of handout of a sheet but a practice plan, in a folder of its own unless that
// is "". What tells times begins with the track. It fails if the track does not fit a WAV file.
func (c *Class) Add(folder string, sheet handout.Sheet) error {
	timeline, o := sheet.Line, sheet.Options
	score := timeline.Score
	made := c.Track(o)
	name, write := "track.flac", handout.ClickTrack.FLAC
	if !c.Packed {
		if err := made.FitsWAV(timeline); err != nil {
			return err
		}
		name, write = "track.wav", handout.ClickTrack.WAV
	}
	if c.Index.Title == "" {
		c.Index.Title = score.Title
	}
	c.folder, c.sheets = folder, append(c.sheets, sheet)
	c.Index.Parts = append(c.Index.Parts, IndexPart{Title: score.Title, Dance: score.Dance.Name})
	large := sheet
	large.Options.Large = true
	c.file("handout.html", "charts and plans, to read and to print", func(w io.Writer) error { return handout.HTML(w, "", sheet) })
	c.file("handout-large.html", "the same in large print", func(w io.Writer) error { return handout.HTML(w, "", large) })
	c.file("handout.pdf", "charts and plans as pages to print (PDF)", func(w io.Writer) error { return handout.PDF(w, "", sheet) })
	c.file("handout.md", "the sheet with all its figures, to change and to dance", func(w io.Writer) error { return handout.Markdown(w, sheet) })
	c.file("handout.txt", "the same as plain text", func(w io.Writer) error { return handout.Text(w, sheet) })
	c.file("plan.svg", "where the feet go, on one sheet of paper after the other", func(w io.Writer) error {
		return drawing.Paper{Shown: o.Shown}.SVG(w, floor.Trace(score))
	})
	c.file("cards.pdf", "a card for each figure, to print and to cut out (PDF)", func(w io.Writer) error { return handout.LargeCards.PDF(w, sheet) })
	c.file(name, "a track that counts aloud, with clicks and the dance's rhythm", func(w io.Writer) error {
		made.Progress = c.Progress(name)
		return write(made, w, timeline)
	})
	if made.FitsPage(timeline) {
		c.file("playalong.html", "a page for the phone: it plays the track and shows each step as it sounds", func(w io.Writer) error {
			made.Progress = c.Progress("playalong.html")
			return made.PlayAlong(context.Background(), w, nil, timeline)
		})
	}
	c.tracks = append(c.tracks, playlistTrack{path.Join(folder, name), score.Title, made.Seconds(timeline)})
	o.Before = made.Before(timeline)
	c.file("track.mid", "clicks, rhythm, counts and steps for music programs (MIDI)", func(w io.Writer) error { return midi.Write(w, timeline, o) })
	for k, of := range captions.Names {
		k := captions.Kind(k)
		c.file(of+".vtt", "captions for the track or a film of it: "+of+" (WebVTT)", func(w io.Writer) error { return k.WebVTT(w, timeline, o) })
		c.file(of+".srt", "the same (SubRip)", func(w io.Writer) error { return k.SubRip(w, timeline, o) })
	}
	for _, k := range []handout.Table{handout.Charts, handout.Order} {
		c.file(handout.TableNames[k]+".csv", handout.TableNames[k]+" as a table for spreadsheets (CSV)", func(w io.Writer) error { return k.CSV(w, timeline, o) })
	}
	c.file("cards.tsv", "questions and answers for programs that teach with cards (TSV)", func(w io.Writer) error { return handout.Cards.TSV(w, timeline, o) })
	c.file("timeline.json", "every beat and step with its time, for programs (JSON)", func(w io.Writer) error { return handout.JSON(w, timeline, o) })
	c.lastPart().Note = fmt.Sprintf("The track, the MIDI file, the captions and the timeline begin together: the first count is %.3g s after the start.", o.Before)
	return nil
}

// AddCalendar adds a practice plan of the sheet that was added last.
func (c *Class) AddCalendar(when handout.Practice) {
	sheet := c.sheets[len(c.sheets)-1]
	what := fmt.Sprintf("a practice plan for your calendar, at %02d:%02d", int(when.At.Hours()), int(when.At.Minutes())%60)
	c.file("practice.ics", what, func(w io.Writer) error {
		return handout.Calendar(w, sheet.Line.Score.Title, handout.Plan{Sheet: sheet, Practice: when})
	})
}

// AddBook adds the class book of all sheets that were added, and a playlist of their tracks.
func (c *Class) AddBook(title string) {
	c.Index.Title, c.folder = title, ""
	c.Index.Parts = append(c.Index.Parts, IndexPart{})
	c.file("book.html", "the class book: all sheets, each figure once, with contents and an index", func(w io.Writer) error { return handout.HTML(w, title, c.sheets...) })
	c.file("book.pdf", "the same as pages to print (PDF)", func(w io.Writer) error { return handout.PDF(w, title, c.sheets...) })
	c.file("tracks.m3u8", "a playlist of all tracks (M3U)", func(w io.Writer) error { return playlist(w, title, c.tracks) })
	last := len(c.Index.Parts) - 1
	c.Index.Parts = slices.Insert(c.Index.Parts[:last], 0, c.Index.Parts[last])
}

// file adds a file of the sheet that was added last.
func (c *Class) file(name, what string, write func(io.Writer) error) {
	if c.folder != "" {
		name = c.folder + "/" + name
	}
	c.Files = append(c.Files, File{Path: name, Write: write})
	part := c.lastPart()
	part.Files = append(part.Files, IndexFile{Path: name, What: what})
}

func (c *Class) lastPart() *IndexPart { return &c.Index.Parts[len(c.Index.Parts)-1] }

// BookTitle returns the title of the class book of a folder.
func BookTitle(folder string) string {
	if whole, err := filepath.Abs(folder); err == nil {
		folder = whole
	}
	name := strings.TrimSpace(strings.NewReplacer("-", " ", "_", " ").Replace(filepath.Base(folder)))
	if r, size := utf8.DecodeRuneInString(name); size > 0 {
		return string(unicode.ToUpper(r)) + name[size:]
	}
	return "Class book"
}
