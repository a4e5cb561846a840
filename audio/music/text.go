package music

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"
)

// Text returns the grid as text: what is known about its beats, then a line for
// each beat with its time in seconds and its number in the bar.
//
//	steady 0.512000 61.952000
//	given bars
//	measured 4.2 1.03 0.31
//	0.512000	1
//	1.024000	2
//
// Steady says from when to when the tempo is the same, or "nowhere"; each such stretch has a line.
// Lines that begin with "doubtful" say where the beats are a guess. Given says
// what the dancer set: "beats", "bars", "beats bars" or "nothing". Measured has
// the numbers of the [Confidence].
func (g Grid) Text() string {
	var out strings.Builder
	for _, s := range g.Steady {
		fmt.Fprintf(&out, "steady %.6f %.6f\n", float64(s.From)/float64(g.Rate), float64(s.To)/float64(g.Rate))
	}
	if len(g.Steady) == 0 {
		out.WriteString("steady nowhere\n")
	}
	for _, s := range g.Doubtful {
		fmt.Fprintf(&out, "doubtful %.6f %.6f\n", float64(s.From)/float64(g.Rate), float64(s.To)/float64(g.Rate))
	}
	var given []string
	if g.BeatGiven {
		given = append(given, "beats")
	}
	if g.BarGiven {
		given = append(given, "bars")
	}
	if len(given) == 0 {
		given = []string{"nothing"}
	}
	fmt.Fprintf(&out, "given %s\n", strings.Join(given, " "))
	if c := g.Confidence; c.Strength != 0 || c.Phase != 0 || c.Bar != 0 {
		fmt.Fprintf(&out, "measured %v %v %v\n", c.Strength, c.Phase, c.Bar)
	}
	for i, s := range g.Seconds() {
		fmt.Fprintf(&out, "%.6f\t%d\n", s, g.Beats[i].Number)
	}
	return out.String()
}

const (
	mostBeats = 18000 // five a second for an hour
	mostToBar = 16
)

// ParseGrid reads a grid as [Grid.Text] writes it, for a song of frames frames at rate.
// Anything after a # is a remark. A bar has as many beats as the highest number. Beats
// alone are enough: they count as given by the dancer, and their tempo as steady if it is
// nearly the same everywhere. Errors name line and column, from 1.
func ParseGrid(text string, rate int, frames int64) (Grid, error) {
	p := gridParser{g: Grid{Rate: rate, Frames: frames}}
	for line := range strings.Lines(text) {
		p.line++
		line, _, _ = strings.Cut(line, "#")
		if err := p.read(wordsOf(line)); err != nil {
			return Grid{}, err
		}
	}
	g := &p.g
	if len(g.Beats) < 2 {
		return Grid{}, fmt.Errorf("at least 2 beats are needed, not %d", len(g.Beats))
	}
	if !slices.Contains(p.said, "given") {
		g.BeatGiven, g.BarGiven = true, true
	}
	g.Tempo = tempoOf(g.Seconds())
	if slow, fast := g.Span(); fast/slow < 1.01 && !slices.Contains(p.said, "steady") {
		g.Steady = []Stretch{{g.Beats[0].Frame, g.Beats[len(g.Beats)-1].Frame}}
	}
	g.Tempo = g.usualTempo()
	return *g, nil
}

// gridParser parses a grid line by line.
type gridParser struct {
	g    Grid
	line int      // from 1
	said []string // the kinds of lines read so far
}

// word is a word in a line.
type word struct {
	text   string
	column int // from 1, in runes
}

var wordPattern = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`[^\s\pZ]+`) })

func wordsOf(line string) (words []word) {
	for _, at := range wordPattern().FindAllStringIndex(line, -1) {
		words = append(words, word{line[at[0]:at[1]], utf8.RuneCountInString(line[:at[0]]) + 1})
	}
	return words
}

// wrong returns an error at a word.
func (p *gridParser) wrong(w word, format string, args ...any) error {
	return fmt.Errorf("line %d, column %d: "+format, append([]any{p.line, w.column}, args...)...)
}

func (p *gridParser) read(words []word) error {
	if len(words) == 0 {
		return nil
	}
	first, rest := words[0], words[1:]
	read := map[string]func(word, []word) error{"steady": p.steady, "doubtful": p.doubtful, "given": p.given, "measured": p.measured}[first.text]
	switch {
	case read == nil:
		return p.beat(words)
	case first.text != "steady" && first.text != "doubtful" && slices.Contains(p.said, first.text):
		return p.wrong(first, "%q appears twice", first.text)
	}
	p.said = append(p.said, first.text)
	return read(first, rest)
}

// time converts a word to a frame of the song. It allows for an end that was a
// little later at another rate.
func (p *gridParser) time(w word) (int64, error) {
	const later = 0.01 // seconds
	seconds, err := strconv.ParseFloat(w.text, 64)
	end := float64(p.g.Frames) / float64(p.g.Rate)
	if err != nil || !(seconds >= 0 && seconds <= end+later) {
		return 0, p.wrong(w, "%q is not a time in the song, in seconds", w.text)
	}
	return min(int64(math.Round(seconds*float64(p.g.Rate))), p.g.Frames), nil
}

func (p *gridParser) steady(first word, words []word) error {
	if len(words) == 1 && words[0].text == "nowhere" {
		return nil
	}
	if len(words) != 2 {
		return p.wrong(first, `"steady" is followed by two times in seconds, or "nowhere"`)
	}
	return p.stretch(&p.g.Steady, words)
}

func (p *gridParser) doubtful(first word, words []word) error {
	if len(words) != 2 {
		return p.wrong(first, `"doubtful" is followed by two times in seconds`)
	}
	return p.stretch(&p.g.Doubtful, words)
}

// stretch adds the stretch between two times.
func (p *gridParser) stretch(to *[]Stretch, words []word) error {
	from, err := p.time(words[0])
	if err != nil {
		return err
	}
	until, err := p.time(words[1])
	if err != nil {
		return err
	}
	if from >= until {
		return p.wrong(words[1], "%q is not after %q", words[1].text, words[0].text)
	}
	if n := len(*to); n > 0 && from < (*to)[n-1].To {
		return p.wrong(words[0], "the stretch begins before the one above ends")
	}
	*to = append(*to, Stretch{from, until})
	return nil
}

func (p *gridParser) given(first word, words []word) error {
	if len(words) == 0 {
		return p.wrong(first, `"given" is followed by beats, bars, or nothing`)
	}
	for _, w := range words {
		switch {
		case w.text == "beats":
			p.g.BeatGiven = true
		case w.text == "bars":
			p.g.BarGiven = true
		case w.text != "nothing" || len(words) > 1:
			return p.wrong(w, "%q is not beats, bars, or nothing", w.text)
		}
	}
	return nil
}

func (p *gridParser) measured(first word, words []word) error {
	numbers := []*float64{&p.g.Strength, &p.g.Phase, &p.g.Bar}
	if len(words) != len(numbers) {
		return p.wrong(first, `"measured" is followed by three numbers`)
	}
	for i, w := range words {
		x, err := strconv.ParseFloat(w.text, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return p.wrong(w, "%q is not a number", w.text)
		}
		*numbers[i] = x
	}
	return nil
}

func (p *gridParser) beat(words []word) error {
	g := &p.g
	if len(words) != 2 {
		return p.wrong(words[0], "a beat is a time in seconds and its number in the bar")
	}
	frame, err := p.time(words[0])
	if err != nil {
		return err
	}
	number, err := strconv.Atoi(words[1].text)
	if err != nil || number < 1 || number > mostToBar {
		return p.wrong(words[1], "%q is not the number of a beat in a bar, 1 to %d", words[1].text, mostToBar)
	}
	if i := len(g.Beats); i > 0 && g.Beats[i-1].Frame >= frame {
		return p.wrong(words[0], "the beat is not after the one before")
	}
	if len(g.Beats) == mostBeats {
		return p.wrong(words[0], "more than %d beats", mostBeats)
	}
	g.Beats = append(g.Beats, Beat{frame, number})
	g.Metre = max(g.Metre, number)
	return nil
}
