package routine

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// rhythm reads the parts of a rhythm, if any are set. Whether the grids divide the bars is only checked
// if the metre is known.
func (p *parser) rhythm(to *Rhythm, settings map[string]setting, m Metre, known bool) {
	parts, ok := settings["rhythm"]
	if !ok {
		for _, key := range []string{"rhythm bars", "rhythm source"} {
			if s, ok := settings[key]; ok {
				p.add("unknown-setting", s.key, quoted(key)+" has no effect without a rhythm", "add \"rhythm:\" with a list of parts such as \""+partExample+"\"")
			}
		}
		return
	}
	r := Rhythm{Bars: 1, Source: headingText(settings["rhythm source"].value)}
	if s, ok := settings["rhythm bars"]; ok && !set(p, s, &r.Bars, "", wholeNumber(mostRhythmBars)) {
		known = false
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

// partError says why a part can't be read.
type partError struct{ message, hint string }

// parsePart reads "claves: . . x . x . . .": the slots of the grid divide
// length evenly. The slots' places are not checked unless the length is exact.
func parsePart(text string, length Beats, exact bool) ([]Stroke, *partError) {
	name, grid, ok := strings.Cut(text, ":")
	if !ok {
		return nil, &partError{quoted(text) + " is not a part of a rhythm", "write an instrument, a colon and its grid: \"" + partExample + "\""}
	}
	name = strings.TrimSpace(name)
	at := slices.IndexFunc(instruments, func(i instrument) bool { return Key(i.name) == Key(name) })
	if at < 0 {
		var names []string
		for _, i := range instruments {
			names = append(names, i.name)
		}
		return nil, &partError{"unknown instrument " + quoted(name), cmp.Or(didYouMean(name, names), "known: "+strings.Join(names, ", "))}
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
		return nil, &partError{fmt.Sprintf("the %d slots of the %s don't divide %s evenly", n, player.name, length.InBeats()), "make each slot a beat, or a half, a third or a quarter of one"}
	}
	var strokes []Stroke
	for i, letter := range slots {
		if letter == '.' {
			continue
		}
		s, ok := player.stroke(letter)
		if !ok {
			return nil, &partError{fmt.Sprintf("%s is not a stroke of the %s", quoted(string(letter)), player.name), player.letters()}
		}
		s.At = length * Beats(i) / Beats(len(slots))
		strokes = append(strokes, s)
	}
	return strokes, nil
}
