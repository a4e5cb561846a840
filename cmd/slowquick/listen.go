package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/audio/recording"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
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
a dance begins there, not in a free introduction.`,
		Example: "  slowquick listen song.flac\n  slowquick listen --dance rumba music\n  slowquick listen --dance waltz --write-beats beats.txt song.ogg",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return usage(errors.New("name a song or a folder of songs"))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			all := a.library.AllDances()
			dances := all
			if how.dance != "" {
				chapters, err := a.chapters(how.dance)
				if err != nil {
					return err
				}
				dances = []*routine.Dance{chapters[0].Dance}
			}
			l := &listener{a, how, dances, songs.NewEar(dances, all)}
			if info, err := os.Stat(args[0]); err == nil && info.IsDir() {
				if how.beats != "" || how.written != "" || how.forget {
					return usage(errors.New("--beats, --write-beats and --forget take one song, not a folder"))
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
	cmd.Flags().BoolVar(&how.forget, "forget", false, "forget the beats that you gave")
	cmd.Flags().BoolVar(&how.asJSON, "json", false, "print JSON")
	a.completeDances(cmd)
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
	l.inputs = append(l.inputs, path, l.how.beats)
	song, err := l.read(ctx, path)
	if err != nil {
		return notHeard(err)
	}
	if l.how.forget {
		if err := songs.ForgetBeats(song.Hash); err != nil {
			return failed(err, "")
		}
	}
	if l.how.beats != "" {
		text, err := l.readAny(l.how.beats)
		if err == nil {
			err = songs.GiveBeats(l.how.beats, text, songs.SoundOf(song))
		}
		if err != nil {
			return failed(err, "")
		}
	}
	h, err := l.ear.Hear(ctx, path, song)
	if ctx.Err() != nil {
		return failed(ctx.Err(), "")
	} else if err != nil {
		return failed(err, "slowquick listen --forget forgets the beats that you gave")
	}
	if l.how.written != "" {
		grid := h.Fits[0].Grid
		if len(grid.Beats) == 0 {
			return failed(errors.New("no beats were found to write"), "")
		}
		beats := func(w io.Writer) error { return songs.WriteBeats(w, grid) }
		if err := l.writeTo(target{path: l.how.written, force: l.how.force}, beats); err != nil || l.how.written == "-" {
			return err
		}
	}
	if l.how.asJSON {
		return l.printJSON(h.Report(true))
	}
	return l.print(h)
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
	return failed(err, hint)
}

// status replaces the line of progress on a terminal; "" clears it.
func (l *listener) status(format string, args ...any) {
	if isTerminal(l.err.raw) {
		fmt.Fprintf(l.err.raw, "\r\x1b[K"+format, args...)
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

// print prints what was heard in a song.
func (l *listener) print(h *songs.Listened) error {
	l.line("%s, %s", harmless.Masked(filepath.Base(h.Path)), audio.Clock(h.Sound.Seconds()))
	if h.Sound.Damage != "" {
		l.line("damaged: %s", h.Sound.Damage)
	}
	suiting := h.Suiting()
	if len(suiting) == 0 {
		l.line("%s", l.suitsNone(h))
		return nil
	}
	heard, err := h.Heard()
	if err != nil {
		return failed(err, "")
	}
	l.printSuits(suiting)
	l.printFacts(h, heard)
	if len(l.dances) == 1 {
		l.printSources(suiting)
	} else {
		l.line("--dance %s shows where these tempi are from", strings.ToLower(h.Fits[0].Dance.Name))
	}
	return nil
}

func (l *listener) line(format string, args ...any) { fmt.Fprintf(l.out, format+"\n", args...) }

// suitsNone says that a song suits none of the dances asked about.
func (l *listener) suitsNone(h *songs.Listened) string {
	if h.Given {
		g := h.Fits[0].Grid
		return fmt.Sprintf("suits none of the dances: the beats you gave are %s a minute, %d to a bar", term.Decimal(g.Tempo), g.Metre)
	}
	if len(l.dances) > 1 {
		return "suits no dance: it has no clear beat at the tempo of any. To show where the beat is, dance to it with --music and tap along (M)"
	}
	d := l.dances[0]
	return fmt.Sprintf("does not suit %s: it has no clear beat at %s. If you know it does, dance to it with --music and tap along (M)", d.Name, d.RangeText(d.Usual))
}

// printSuits prints which dances a song suits.
func (l *listener) printSuits(fits []songs.Fit) {
	table := tabwriter.NewWriter(l.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "SUITS\tBARS/MIN\tBEATS/MIN\tUSUAL\tAT COMPETITIONS")
	for _, f := range fits {
		competition := ""
		if f.Dance.Competition != (routine.TempoRange{}) {
			competition = f.Dance.RangeText(f.Dance.Competition)
		}
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\t%s\n", f.Dance.Name, term.Decimal(f.BarsPerMinute()), term.Decimal(f.Grid.Tempo), f.Dance.RangeText(f.Dance.Usual), competition)
	}
	_ = table.Flush() // l.out keeps its error
}

// printSources prints the sources of the dances' tempi.
func (l *listener) printSources(fits []songs.Fit) {
	l.line("sources of these tempi:")
	for _, f := range fits {
		l.line("  %s, usual: %s", f.Dance.Name, f.Dance.UsualSource)
		if f.Dance.CompetitionSource != "" {
			l.line("  %s, at competitions: %s", f.Dance.Name, f.Dance.CompetitionSource)
		}
	}
}

// printFacts prints what is known of the beats, for the dance that suits best.
func (l *listener) printFacts(h *songs.Listened, heard *music.Heard) {
	f := h.Fits[0]
	g := f.Grid
	l.line("as %s:", f.Dance.Name)
	l.line("  %s", steadiness(g))
	l.line("  first beat at %.2f s, %s", g.Seconds()[0], firstBar(g))
	l.line("  %s", sureness(h.Given, g))
	const parts = 6
	numbers := ""
	for n := range g.Metre {
		numbers += fmt.Sprintf("%-*d", parts, n+1)
	}
	l.line("  accents over the bar")
	l.line("    %s", strings.TrimRight(numbers, " "))
	l.line("    %s", term.Heights(heard.OverBar(g, parts)))
	const columns = 60
	l.line("  strength of the beats over the song")
	l.line("    %s", term.Heights(heard.OverSong(g, columns)))
	l.line("    0:00%*s", columns-4, audio.Clock(h.Sound.Seconds()))
}

func steadiness(g music.Grid) string {
	slowest, fastest := g.Span()
	if g.SteadyFrom == g.SteadyTo {
		return fmt.Sprintf("not steady: %s to %s beats/min", term.Decimal(slowest), term.Decimal(fastest))
	}
	at := func(frame int64) float64 { return float64(frame) / float64(g.Rate) }
	return fmt.Sprintf("steady from %s to %s", audio.Clock(at(g.SteadyFrom)), audio.Clock(at(g.SteadyTo)))
}

func firstBar(g music.Grid) string {
	i := slices.IndexFunc(g.Beats, func(b music.Beat) bool { return b.Number == 1 })
	if i < 0 {
		return "no bar begins"
	}
	return fmt.Sprintf("first bar at %.2f s", g.Seconds()[i])
}

func sureness(given bool, g music.Grid) string {
	switch {
	case given:
		return "these are the beats you gave"
	case g.SureOfBar():
		return "sure of the beats and of where bars begin"
	case g.SureOfBeat():
		return "sure of the beats, not of where bars begin"
	}
	return "not sure of the beats: they may be half a beat off"
}

// mostSongs bounds how many songs of a folder are listened to.
const mostSongs = 1000

// folder lists the songs of a folder, or those that suit a dance.
func (l *listener) folder(ctx context.Context, path string) error {
	paths, err := songs.Files(path)
	if err != nil {
		return failed(err, "")
	}
	if len(paths) == 0 {
		return failed(fmt.Errorf("%s has no songs", path), "")
	}
	if len(paths) > mostSongs {
		l.warn(fmt.Errorf("listening only to the first %d of %d songs", mostSongs, len(paths)))
		paths = paths[:mostSongs]
	}
	entries, unread := []songs.Report{}, 0
	err = l.ear.HearAll(ctx, paths, l.guard, func(h *songs.Listened, err error) {
		if err != nil {
			l.status("")
			l.warn(err)
			unread++
		} else {
			e := h.Report(false)
			if e.Damage != "" && !l.how.asJSON {
				l.status("")
				l.warn(fmt.Errorf("%s: %s", e.Song, e.Damage))
			}
			entries = append(entries, e)
		}
		l.status("listening: %d of %d songs", len(entries)+unread, len(paths))
	})
	l.status("")
	if err != nil {
		return failed(err, "")
	}
	if l.how.asJSON {
		err = l.printJSON(entries)
	} else {
		l.printSongs(entries)
	}
	if err == nil && unread > 0 {
		return failed(fmt.Errorf("%d of %d songs can't be read", unread, len(paths)), "")
	}
	return err
}

// printSongs lists songs as a table.
func (l *listener) printSongs(entries []songs.Report) {
	all := len(entries)
	if l.how.dance != "" {
		entries = slices.DeleteFunc(entries, func(e songs.Report) bool { return len(e.Suits) == 0 })
	}
	w := tabwriter.NewWriter(l.out, 0, 0, 2, ' ', 0)
	if len(entries) > 0 {
		fmt.Fprintln(w, "SONG\tLENGTH\tBARS/MIN\tBEATS/MIN\tSURE OF\tSUITS")
	}
	for _, e := range entries {
		if len(e.Suits) == 0 {
			fmt.Fprintf(w, "%s\t%s\t\t\t\tno dance\n", harmless.Masked(e.Song), audio.Clock(e.Seconds))
			continue
		}
		best := e.Suits[0]
		sure := "nothing"
		switch {
		case best.SureOfBar:
			sure = "beats, bars"
		case best.SureOfBeat:
			sure = "beats"
		}
		var names []string
		for _, s := range e.Suits {
			names = append(names, s.Dance)
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", harmless.Masked(e.Song), audio.Clock(e.Seconds), term.Decimal(best.BarsPerMinute), term.Decimal(best.BeatsPerMinute), sure, strings.Join(names, ", "))
	}
	_ = w.Flush() // l.out keeps its error
	if l.how.dance != "" {
		fmt.Fprintf(l.out, "%d of %d songs suit %s\n", len(entries), all, l.dances[0].Name)
	}
}
