package routine

import (
	"fmt"
	"strings"
	"unicode"
)

// Rhythm is what a band plays under a dance: a pattern of some bars that repeats from the first beat of
// a bar. The zero Rhythm is silence.
type Rhythm struct {
	Bars    int      // 1–8; 0 if there is no rhythm
	Strokes []Stroke // by At; those on one beat in the order of their lines
	Source  string
}

// Stroke is one sound of a rhythm.
type Stroke struct {
	At         Beats  // from the start of the pattern, before its end
	Instrument string // one of Instruments
	Accent     bool
}

// The bounds of a rhythm.
const (
	mostRhythmBars = 8
	mostParts      = 16
	mostSlots      = 192 // of a part: sixteenths of 12 bars of 4/4, or twelfths of 4
)

// instrument is an instrument that a part of a rhythm may be written for.
type instrument struct {
	name string
	ways []way // the ways it sounds, the first for a plain x; none if there is only one
}

// way is one way to play an instrument, and the letters that stand for it.
type way struct{ letters, name string }

// instruments are those that the trade's rhythms call for. The capital of a letter is an accent, except
// in the guiro, whose long stroke is commonly written as a capital.
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

// sounds returns the names of everything an instrument plays.
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

// Instruments returns the names of all sounds that a stroke may have.
func Instruments() []string {
	var names []string
	for _, i := range instruments {
		names = append(names, i.sounds()...)
	}
	return names
}

// stroke returns the stroke that a letter of a grid stands for.
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

// letters says which letters may stand in the instrument's grid.
func (i *instrument) letters() string {
	text := "x a stroke, X an accent, . a rest"
	for _, w := range i.ways {
		text += fmt.Sprintf(", %s %s", strings.Join(strings.Split(w.letters, ""), " or "), w.name)
	}
	return text
}
