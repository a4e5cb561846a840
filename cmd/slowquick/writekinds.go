package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/calling"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/songs"
)

// kind is a command that writes a sheet in one way.
type kind struct {
	use, short, example string
	formats             []format
	schema              []byte // that can be written in place of a sheet; nil if there is none
	flags               func(*cobra.Command)
	timed               bool // its times are those of the track, and of the song if there is one
	heard               bool // it is the track
	// writer says how what is wanted is written.
	writer func(w wanted) (func(io.Writer) error, error)
}

// wanted is what is to be written of a sheet.
type wanted struct {
	sheets.Sheet
	handout.Options
	format
	file  string
	track handout.ClickTrack // of a kind that is timed
}

// command makes the command of a kind.
func (a *app) command(k kind) *cobra.Command {
	var to target
	var how handed
	sound := trackFlags{bits: 16, rate: rate}
	schema := false
	cmd := &cobra.Command{
		Use:     k.use,
		Short:   k.short,
		Example: k.example,
		Args: func(cmd *cobra.Command, args []string) error {
			if !schema {
				return sheetArgs(1)(cmd, args)
			} else if len(args) > 0 {
				return usage(errors.New("--schema takes no sheet"))
			}
			return nil
		},
		ValidArgsFunction: a.completeSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			if schema && to.path == "" {
				to.path = "-"
			}
			format, err := a.format(to)
			if err != nil {
				return err
			}
			if schema {
				return a.writeTo(to, func(w io.Writer) error { _, err := w.Write(k.schema); return err })
			}
			if err := sound.check(); err != nil {
				return err
			}
			w := wanted{format: format, file: to.path}
			if w.Sheet, err = a.danceable(args[0]); err != nil {
				return err
			}
			if k.timed {
				if w.Timeline, err = a.layOn(cmd.Context(), songs.Book{Rate: sound.rate, Given: how.how.music, For: w.Name}, w.Document, w.Timeline); err != nil {
					return failed(err, "--music none writes it without music")
				}
			}
			if w.Options, err = how.options(w.Timeline); err != nil {
				return err
			}
			if k.timed {
				w.track = a.clickTrack(sound, a.sounds(cmd.Context(), sound, w.Timeline), w.Options)
				w.track.Progress = a.progress(to.path)
				w.Before = w.track.Before(w.Timeline)
			}
			f, err := k.writer(w)
			if err != nil {
				return err
			}
			return a.writeTo(to, until(cmd.Context(), f))
		},
	}
	to.flags(cmd, k.formats...)
	how.flags(cmd)
	if k.schema != nil {
		cmd.Flags().BoolVar(&schema, "schema", false, "write the JSON Schema of what is written, instead; without -o to standard output")
	}
	if k.timed {
		how.how.musicFlag(cmd)
		sound.voiceFlags(cmd, k.heard)
	}
	if k.heard {
		sound.soundFlags(cmd)
	}
	if k.flags != nil {
		k.flags(cmd)
	}
	return cmd
}

// trackFlags are the flags of a track.
type trackFlags struct {
	aloud, rhythm bool
	call          bool   // figures are named aloud
	voice         string // a folder
	bits, rate    int
}

// voiceFlags say what is spoken in the track. So they say how long it sounds before its
// first count, too, and whatever is not heard has to know that.
func (t *trackFlags) voiceFlags(cmd *cobra.Command, heard bool) {
	aloud, call := "count aloud", "name each figure aloud before it begins, by your recordings (--voice) or a speech program"
	if !heard {
		aloud = "begin with a track that counts aloud, before whose first count the voice takes breath"
		call = "begin with a track that names the figures, the first before it is counted in"
	}
	cmd.Flags().BoolVar(&t.aloud, "aloud", false, aloud)
	cmd.Flags().BoolVar(&t.call, "call", false, call)
	cmd.Flags().StringVar(&t.voice, "voice", "", "a `FOLDER` of recordings to count with: one.wav, and.ogg …; and to name figures: spot turn.wav")
}

func (t *trackFlags) soundFlags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&t.rhythm, "rhythm", false, "play the dance's rhythm")
	cmd.Flags().IntVar(&t.bits, "bits", t.bits, "`BITS` a sample: 16 or 24")
	cmd.Flags().IntVar(&t.rate, "rate", t.rate, "`FRAMES` a second: 44100 or 48000")
}

func (t *trackFlags) check() error {
	if t.bits != 16 && t.bits != 24 {
		return usage(fmt.Errorf("a sample has 16 or 24 bits, not %d", t.bits))
	}
	if t.rate != 44100 && t.rate != 48000 {
		return usage(fmt.Errorf("the rate is 44100 or 48000 frames a second, not %d", t.rate))
	}
	return nil
}

// sounds are what a track's flags have sound of a routine.
func (a *app) sounds(ctx context.Context, t trackFlags, timeline *player.Timeline) player.Sounds {
	s := player.Sounds{Kit: audio.NewKit(t.rate)}
	if t.aloud || t.call {
		v := a.voice(t.rate, t.voice)
		if t.aloud {
			s.Voice = v
		}
		if t.call {
			s.Calls = calling.All(ctx, timeline, calling.NewSayer(v, t.rate, speechFolder()), a.warn)
		}
	}
	if t.rhythm {
		s.Band = audio.NewBand(t.rate)
	}
	return s
}

// rhythmLevel is how loud the rhythm is in a track that has one.
const rhythmLevel = 0.5

// clickTrack is a track of some sounds, as its flags ask for it.
func (a *app) clickTrack(t trackFlags, s player.Sounds, o handout.Options) handout.ClickTrack {
	o.Settings.Call = t.call
	c := handout.ClickTrack{Options: o, Sounds: s, Levels: player.DefaultLevels(o.Shown), Rate: t.rate, Bits: t.bits}
	if t.rhythm {
		c.Levels[player.RhythmLayer] = rhythmLevel
	}
	return c
}

func (a *app) writeWAV() *cobra.Command {
	return a.command(kind{
		timed:   true,
		heard:   true,
		use:     "wav SHEET -o FILE",
		formats: []format{{"WAV", []string{".wav"}, true}, {"FLAC", []string{".flac"}, true}},
		short:   "Write the click track of a routine as a WAV or FLAC file",
		example: "  slowquick write wav lantern-night.md -o slow.wav --tempo '80 %' --aloud\n  slowquick write wav lantern-night.md -o practice.flac --figures 2-3 --gradually '70 to 100 % by 10' --rest 1",
		writer: func(w wanted) (func(io.Writer) error, error) {
			if w.format.name == "FLAC" {
				return func(out io.Writer) error { return w.track.FLAC(out, w.Timeline) }, nil
			}
			if err := w.track.FitsWAV(w.Timeline); err != nil {
				return nil, failed(fmt.Errorf("write %s: %w", w.file, err), "a .flac file can be longer")
			}
			return func(out io.Writer) error { return w.track.WAV(out, w.Timeline) }, nil
		},
	})
}

func (a *app) writeMIDI() *cobra.Command {
	return a.command(kind{
		timed:   true,
		use:     "midi SHEET -o FILE",
		formats: []format{{"MIDI", []string{".mid", ".midi"}, true}},
		short:   "Write clicks, rhythm, counts and steps as a MIDI file for music programs",
		example: "  slowquick write midi lantern-night.md -o lantern-night.mid",
		writer: func(w wanted) (func(io.Writer) error, error) {
			return func(out io.Writer) error { return handout.MIDI(out, w.Timeline, w.Options) }, nil
		},
	})
}

func (a *app) writeCaptions() *cobra.Command {
	var of string
	return a.command(kind{
		timed:   true,
		use:     "captions SHEET -o FILE",
		formats: []format{{"WebVTT", []string{".vtt"}, false}, {"SubRip", []string{".srt"}, false}},
		short:   "Write counts, steps or figures as captions of a film (WebVTT, SubRip)",
		example: "  slowquick write captions lantern-night.md -o steps.vtt --of steps\n  slowquick write captions lantern-night.md -o chapters.vtt --of figures",
		flags: func(cmd *cobra.Command) {
			cmd.Flags().StringVar(&of, "of", "counts", "`WHAT` they tell: counts, steps, or figures as chapters")
			complete(cmd, "of", handout.CaptionNames[:]...)
		},
		writer: func(w wanted) (func(io.Writer) error, error) {
			k, err := captionsOf(of)
			if err != nil {
				return nil, err
			}
			write := k.WebVTT
			if w.format.name == "SubRip" {
				write = k.SubRip
			}
			return func(out io.Writer) error { return write(out, w.Timeline, w.Options) }, nil
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
	var to target
	var how handed
	large := false
	cmd := &cobra.Command{
		Use:   "handout SHEET|FOLDER -o FILE",
		Short: "Write what is danced, with charts and plans, to read and to print",
		Long: `Handout writes a page that stands alone (.html), a sheet that holds its figures
too (.md), or plain text (.txt). Of a folder's sheets it makes a class book.`,
		Example:           "  slowquick write handout lantern-night.md -o lantern-night.html --side follower\n  slowquick write handout sheets -o book.html --paper letter --large",
		Args:              sheetArgs(1),
		ValidArgsFunction: a.completeSheets,
		RunE: func(cmd *cobra.Command, args []string) error {
			format, err := a.format(to)
			if err != nil {
				return err
			}
			list, err := a.danceables(args[0])
			if err != nil {
				return err
			}
			sheets := make([]handout.Sheet, len(list))
			for i, c := range list {
				o, err := how.options(c.Timeline)
				if err != nil {
					return err
				}
				o.Large = large
				sheets[i] = handout.Sheet{Text: c.Text, Line: c.Timeline, Options: o}
			}
			f, err := handoutWriter(format, to.path, bookTitle(args[0]), sheets)
			if err != nil {
				return err
			}
			return a.writeTo(to, until(cmd.Context(), f))
		},
	}
	to.flags(cmd, format{"HTML", []string{".html", ".htm"}, false}, format{"Markdown", []string{".md"}, false}, format{"plain text", []string{".txt"}, false})
	how.flags(cmd)
	how.paperFlag(cmd)
	cmd.Flags().BoolVar(&large, "large", false, "in large print (.html)")
	return cmd
}

// handoutWriter writes sheets in a format, to a file of a name.
func handoutWriter(f format, name, title string, sheets []handout.Sheet) (func(io.Writer) error, error) {
	switch f.name {
	case "plain text":
		return func(w io.Writer) error { return handout.Text(w, sheets...) }, nil
	case "Markdown":
		if len(sheets) > 1 {
			return nil, usage(fmt.Errorf("%s: a sheet holds one routine; a class book is .html or .txt", name))
		}
		return func(w io.Writer) error { return handout.Markdown(w, sheets[0]) }, nil
	}
	return func(w io.Writer) error { return handout.HTML(w, title, sheets...) }, nil
}

// bookTitle is what a class book of a folder is called.
func bookTitle(folder string) string {
	if path, err := filepath.Abs(folder); err == nil {
		folder = path
	}
	name := strings.TrimSpace(strings.NewReplacer("-", " ", "_", " ").Replace(filepath.Base(folder)))
	if r, size := utf8.DecodeRuneInString(name); size > 0 {
		return string(unicode.ToUpper(r)) + name[size:]
	}
	return "Class book"
}

// evenings is the flags of a practice plan.
type evenings struct {
	from, until, days, at string
	minutes               int
}

func (e *evenings) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&e.until, "until", "", "the last `DAY` of practice, 2026-12-18")
	cmd.Flags().StringVar(&e.from, "from", "", "the first `DAY` of practice; today if left out")
	cmd.Flags().StringVar(&e.days, "days", "", "only on these `DAYS` of the week: mon,thu")
	cmd.Flags().StringVar(&e.at, "at", "19:00", "the `TIME` when practice begins")
	cmd.Flags().IntVar(&e.minutes, "minutes", 30, "how many `MINUTES` it lasts, 1–720")
}

// practice reads the flags.
func (e *evenings) practice(now time.Time) (p handout.Practice, err error) {
	p.Made, p.From = now, now
	if e.until == "" {
		return p, usage(errors.New("the last day of practice is not named: --until 2026-12-18"))
	}
	if p.Until, err = time.Parse(time.DateOnly, e.until); err != nil {
		return p, usage(fmt.Errorf("--until: %q is no day, as in 2026-12-18", e.until))
	}
	if e.from != "" {
		if p.From, err = time.Parse(time.DateOnly, e.from); err != nil {
			return p, usage(fmt.Errorf("--from: %q is no day, as in 2026-12-18", e.from))
		}
	}
	if p.Days, err = handout.ParseDays(e.days); err != nil {
		return p, usage(fmt.Errorf("--days: %w", err))
	}
	at, err := time.Parse("15:04", e.at)
	if err != nil {
		return p, usage(fmt.Errorf("--at: %q is no time of day, as in 19:00", e.at))
	}
	p.At = time.Duration(at.Hour())*time.Hour + time.Duration(at.Minute())*time.Minute
	if e.minutes < 1 || e.minutes > 720 {
		return p, usage(fmt.Errorf("--minutes: %d, not 1 to 720", e.minutes))
	}
	p.Length = time.Duration(e.minutes) * time.Minute
	if _, err := p.Evenings(); err != nil {
		return p, usage(fmt.Errorf("--until %s: %w", e.until, err))
	}
	return p, nil
}

// each gives every class of an evening its time, one after the other; none if no plan is
// asked for.
func (e *evenings) each(list []sheets.Sheet) ([]handout.Practice, error) {
	if e.until == "" {
		return nil, nil
	}
	p, err := e.practice(time.Now())
	if err != nil {
		return nil, err
	}
	plans := make([]handout.Practice, len(list))
	for i := range plans {
		plans[i] = p
		p.At += p.Length
	}
	if len(list) > 1 && p.At > 24*time.Hour {
		return nil, usage(fmt.Errorf("--minutes: %d sheets of %d minutes each, from %s on, are not done by midnight", len(list), e.minutes, e.at))
	}
	return plans, nil
}

func (a *app) writeCalendar() *cobra.Command {
	var when evenings
	return a.command(kind{
		use:     "calendar SHEET -o FILE --until DAY",
		formats: []format{{"iCalendar", []string{".ics"}, false}},
		short:   "Write a practice plan up to a day, for calendars (iCalendar)",
		example: "  slowquick write calendar lantern-night.md -o practice.ics --until 2026-12-18 --days mon,fri --at 19:30",
		flags:   when.flags,
		writer: func(w wanted) (func(io.Writer) error, error) {
			p, err := when.practice(time.Now())
			if err != nil {
				return nil, err
			}
			return func(out io.Writer) error {
				return handout.Calendar(out, handout.Sheet{Text: w.Text, Line: w.Timeline, Options: w.Options}, p)
			}, nil
		},
	})
}

func (a *app) writeTimeline() *cobra.Command {
	return a.command(kind{
		timed:   true,
		use:     "timeline SHEET -o FILE",
		formats: []format{{"JSON", []string{".json"}, false}},
		schema:  handout.TimelineSchema,
		short:   "Write every beat and step of a routine with its time, as JSON",
		example: "  slowquick write timeline lantern-night.md -o -\n  slowquick write timeline --schema",
		writer: func(w wanted) (func(io.Writer) error, error) {
			return func(out io.Writer) error { return handout.JSON(out, w.Timeline, w.Options) }, nil
		},
	})
}
