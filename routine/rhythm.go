package routine

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// Rhythm is what a band plays under a dance: a pattern of some bars that
// repeats from the first beat of a bar. The zero Rhythm is silence.
type Rhythm struct {
	Bars    int      // 1–8; 0 if there is no rhythm
	Strokes []Stroke // in order of At; those of one beat in the order of their lines
	Source  string
}

// Stroke is one sound of a rhythm.
type Stroke struct {
	At         Beats  // from the start of the pattern, before its end
	Instrument string // one of Instruments
	Accent     bool
}

// The most that a rhythm may hold.
const (
	mostRhythmBars = 8
	mostParts      = 16
	mostSlots      = 192 // of a part: sixteenths of 12 bars of 4/4, or twelfths of 4
)

// instrument is what a part of a rhythm may be written for.
type instrument struct {
	name string
	ways []way // in which it sounds, the first for a plain x; none if there is only one
}

// way is one way to play an instrument, and the letters that stand for it.
type way struct{ letters, name string }

// instruments are those that the trade's rhythms ask for. A capital of a small
// letter is an accent; the guiro's long stroke has its capital as it is
// commonly written.
var instruments = []instrument{
	{name: "claves"},
	{name: "cowbell"},
	{name: "maracas"},
	{name: "castanets"},
	{"guiro", []way{{"s", "short"}, {"L", "long"}}},
	{"conga", []way{{"o", "open"}, {"s", "slap"}, {"mpt", "muted"}}}, // p palm, t tip
	{"bongo", []way{{"h", "high"}, {"l", "low"}}},
	{"surdo", []way{{"o", "open"}, {"m", "muted"}}},
	{name: "snare"},
	{name: "brush snare"},
	{name: "side stick"},
	{"hat", []way{{"c", "closed"}, {"o", "open"}}},
	{name: "bass drum"},
	{name: "bass"},
}

// sounds names all that an instrument plays.
func (i *instrument) sounds() []string {
	if len(i.ways) == 0 {
		return []string{i.name}
	}
	var names []string
	for _, w := range i.ways {
		names = append(names, i.name+" "+w.name)
	}
	return names
}

// Instruments names every sound that a stroke may have.
func Instruments() []string {
	var names []string
	for _, i := range instruments {
		names = append(names, i.sounds()...)
	}
	return names
}

// stroke is what a letter of a grid stands for.
func (i *instrument) stroke(letter rune) (s Stroke, ok bool) {
	small := unicode.ToLower(letter)
	if small == 'x' {
		return Stroke{Instrument: i.sounds()[0], Accent: letter == 'X'}, true
	}
	for _, l := range []rune{letter, small} {
		for _, w := range i.ways {
			if strings.ContainsRune(w.letters, l) {
				return Stroke{Instrument: i.name + " " + w.name, Accent: l != letter}, true
			}
		}
	}
	return Stroke{}, false
}

// letters says what may stand in the instrument's grid.
func (i *instrument) letters() string {
	text := "x a stroke, X an accent, . a rest"
	for _, w := range i.ways {
		text += fmt.Sprintf(", %s %s", strings.Join(strings.Split(w.letters, ""), " or "), w.name)
	}
	return text
}

// rhythm reads the parts of a rhythm, if any are set. Whether the grids divide
// the bars is only told if the metre is known.
func (p *parser) rhythm(to *Rhythm, settings map[string]setting, m Metre, known bool) {
	parts, ok := settings["rhythm"]
	if !ok {
		for _, key := range []string{"rhythm bars", "rhythm source"} {
			if s, ok := settings[key]; ok {
				p.add("unknown-setting", s.key, quoted(key)+" sets nothing where no rhythm is written", "rhythm: a list of parts, \""+partExample+"\"")
			}
		}
		return
	}
	r := Rhythm{Bars: 1, Source: headingText(settings["rhythm source"].value)}
	if s, ok := settings["rhythm bars"]; ok {
		bars, ok := wholeNumber(s.value, mostRhythmBars)
		if r.Bars = max(bars, 1); !ok {
			known = false
			if !s.bad {
				p.add("bad-value", s.at, fmt.Sprintf("%s is no number from 1 to %d", quoted(s.value), mostRhythmBars), "")
			}
		}
	}
	for i, s := range parts.values {
		if i == mostParts {
			p.add("bad-value", s.at, fmt.Sprintf("a rhythm has at most %d parts", mostParts), "")
			break
		}
		strokes, err := parsePart(s.value, Beats(r.Bars)*m.Bar(), known)
		if err != nil {
			p.add("bad-value", s.at, err.message, err.hint)
		}
		r.Strokes = append(r.Strokes, strokes...)
	}
	slices.SortStableFunc(r.Strokes, func(a, b Stroke) int { return cmp.Compare(a.At, b.At) })
	if !parts.bad {
		*to = r
	}
}

const partExample = "conga: m m s m m m o o"

// partError is why a part can't be read.
type partError struct{ message, hint string }

// parsePart reads "claves: . . x . x . . .": the slots of the grid divide
// length evenly. The slots' places are not checked unless the length is exact.
func parsePart(text string, length Beats, exact bool) ([]Stroke, *partError) {
	name, grid, ok := strings.Cut(text, ":")
	if !ok {
		return nil, &partError{quoted(text) + " is no part of a rhythm", "an instrument, a colon and its grid: \"" + partExample + "\""}
	}
	name = strings.TrimSpace(name)
	at := slices.IndexFunc(instruments, func(i instrument) bool { return Key(i.name) == Key(name) })
	if at < 0 {
		var names []string
		for _, i := range instruments {
			names = append(names, i.name)
		}
		return nil, &partError{"no instrument is known as " + quoted(name), cmp.Or(didYouMean(name, names), "known: "+strings.Join(names, ", "))}
	}
	player := &instruments[at]
	slots := []rune(strings.Map(func(r rune) rune {
		if r == '|' || unicode.IsSpace(r) {
			return -1
		}
		return r
	}, grid))
	switch n := Beats(len(slots)); {
	case n == 0:
		return nil, &partError{"the " + player.name + " has no grid", player.letters()}
	case n > mostSlots:
		return nil, &partError{fmt.Sprintf("the grid of the %s has %d slots, more than %d", player.name, n, mostSlots), ""}
	case exact && length%n != 0:
		return nil, &partError{fmt.Sprintf("the %d slots of the %s don't divide %s evenly", n, player.name, length.InBeats()), "one slot for a beat, or for a half, a third or a quarter of one"}
	}
	var strokes []Stroke
	for i, letter := range slots {
		if letter == '.' {
			continue
		}
		s, ok := player.stroke(letter)
		if !ok {
			return nil, &partError{fmt.Sprintf("%s is no stroke of the %s", quoted(string(letter)), player.name), player.letters()}
		}
		s.At = length * Beats(i) / Beats(len(slots))
		strokes = append(strokes, s)
	}
	return strokes, nil
}
