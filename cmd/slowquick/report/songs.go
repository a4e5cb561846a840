package report

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/music"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/songs"
	"dance.example/slowquick/routine"
)

// Song prints what was heard in a song, asked about some dances.
func Song(p Page, h *songs.Listened, dances []*routine.Dance) error {
	p.line("%s, %s", harmless.Masked(filepath.Base(h.Path)), audio.Clock(h.Sound.Seconds()))
	if h.Sound.Damage != "" {
		p.line("damaged: %s", h.Sound.Damage)
	}
	suiting := h.Suiting()
	if len(suiting) == 0 {
		p.line("%s", suitsNone(h, dances))
		return nil
	}
	heard, err := h.Heard()
	if err != nil {
		return err
	}
	printSuits(p, suiting)
	printLevels(p, h.Levels())
	printFacts(p, h, heard)
	if len(dances) == 1 {
		printSources(p, suiting)
	} else {
		p.line("--dance %s shows where these tempi are from", strings.ToLower(h.Fits[0].Dance.Name))
	}
	return nil
}

// suitsNone says that a song suits none of the dances asked about.
func suitsNone(h *songs.Listened, dances []*routine.Dance) string {
	if h.Given {
		g := h.Fits[0].Grid
		return fmt.Sprintf("suits none of the dances: the beats you gave are %s a minute, %d to a bar", term.Decimal(g.Tempo), g.Metre)
	}
	if len(dances) > 1 {
		return "suits no dance: it has no clear beat at the tempo of any. To show where the beat is, dance to it with --music and tap along (M)"
	}
	d := dances[0]
	return fmt.Sprintf("does not suit %s: it has no clear beat at %s. If you know it does, dance to it with --music and tap along (M)", d.Name, d.RangeText(d.Usual))
}

// printSuits prints which dances a song suits.
func printSuits(p Page, fits []songs.Fit) {
	table := tabwriter.NewWriter(p, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "SUITS\tBARS/MIN\tBEATS/MIN\tUSUAL\tAT COMPETITIONS")
	for _, f := range fits {
		competition := ""
		if f.Dance.Competition != (routine.TempoRange{}) {
			competition = f.Dance.RangeText(f.Dance.Competition)
		}
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\t%s\n", f.Dance.Name, term.Decimal(f.BarsPerMinute()), term.Decimal(f.Grid.Tempo), f.Dance.RangeText(f.Dance.Usual), competition)
	}
	_ = table.Flush() // the output keeps its error
}

// printLevels says at which tempi the beat can be taken, if there are several.
func printLevels(p Page, tempi []float64) {
	if len(tempi) < 2 {
		return
	}
	var texts []string
	for _, t := range tempi {
		texts = append(texts, term.Decimal(t))
	}
	last := len(texts) - 1
	p.line("its beat can be taken at %s or %s a minute: which one people dance to is for you to say", strings.Join(texts[:last], ", "), texts[last])
}

// printSources prints the sources of the dances' tempi.
func printSources(p Page, fits []songs.Fit) {
	p.line("sources of these tempi:")
	for _, f := range fits {
		p.line("  %s, usual: %s", f.Dance.Name, f.Dance.UsualSource)
		if f.Dance.CompetitionSource != "" {
			p.line("  %s, at competitions: %s", f.Dance.Name, f.Dance.CompetitionSource)
		}
	}
}

// printFacts prints what is known of the beats, for the dance that suits best.
func printFacts(p Page, h *songs.Listened, heard *music.Heard) {
	f := h.Fits[0]
	g := f.Grid
	p.line("as %s:", f.Dance.Name)
	p.line("  %s", steadiness(g))
	p.line("  first beat at %.2f s, %s", g.Seconds()[0], firstBar(g))
	p.line("  %s", sureness(h.Given, g))
	if guessed := songs.Guessed(g); guessed != "" {
		p.line("  %s", guessed)
	}
	const parts = 6
	numbers := ""
	for n := range g.Metre {
		numbers += fmt.Sprintf("%-*d", parts, n+1)
	}
	p.line("  accents over the bar")
	p.line("    %s", strings.TrimRight(numbers, " "))
	p.line("    %s", term.Heights(heard.OverBar(g, parts)))
	const columns = 60
	p.line("  strength of the beats over the song")
	p.line("    %s", term.Heights(heard.OverSong(g, columns)))
	p.line("    0:00%*s", columns-4, audio.Clock(h.Sound.Seconds()))
}

func steadiness(g music.Grid) string {
	at := func(frame int64) string { return audio.Clock(float64(frame) / float64(g.Rate)) }
	switch slowest, fastest := g.Span(); len(g.Steady) {
	case 0:
		return fmt.Sprintf("not steady: %s to %s beats/min", term.Decimal(slowest), term.Decimal(fastest))
	case 1:
		return fmt.Sprintf("steady from %s to %s", at(g.Steady[0].From), at(g.Steady[0].To))
	}
	var parts []string
	for _, s := range g.Steady {
		parts = append(parts, fmt.Sprintf("from %s to %s at %s beats/min", at(s.From), at(s.To), term.Decimal(g.TempoIn(s))))
	}
	return "steady " + strings.Join(parts, ", ")
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

// Songs lists songs as a table: those that suit a dance, unless that is nil.
func Songs(p Page, entries []songs.Report, only *routine.Dance) {
	all := len(entries)
	if only != nil {
		entries = slices.DeleteFunc(entries, func(e songs.Report) bool { return len(e.Suits) == 0 })
	}
	w := tabwriter.NewWriter(p, 0, 0, 2, ' ', 0)
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
	_ = w.Flush() // the output keeps its error
	if only != nil {
		fmt.Fprintf(p, "%d of %d songs suit %s\n", len(entries), all, only.Name)
	}
}
