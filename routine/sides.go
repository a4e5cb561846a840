package routine

import (
	"slices"
	"strings"
	"unicode"
)

// turnedTo is the side that a figure's name tells.
type turnedTo uint8

const (
	noSide turnedTo = iota
	toLeft
	toRight
)

var sideWords = map[string]turnedTo{"l": toLeft, "left": toLeft, "lf": toLeft, "r": toRight, "right": toRight, "rf": toRight,
	"links": toLeft, "rechts": toRight, "gauche": toLeft, "droite": toRight, "izquierda": toLeft, "derecha": toRight, "sinistra": toLeft, "destra": toRight}

// besideSides are words that may stand before a side and say nothing.
var besideSides = map[string]bool{"to": true, "the": true, "on": true, "with": true, "nach": true, "à": true, "vers": true, "la": true, "a": true}

// sided splits a name into its key without the side and the side: "Spot turn R", "Spot turn to the right" and "Right
// spot turn" are the same. A name that tells both sides, or none, has no side.
func sided(name string) (base string, side turnedTo) {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsNumber(r) && r != '’' && r != '\'' })
	var rest []string
	for i, word := range words {
		told := sideWords[word]
		after := i > 0 && sideWords[words[i-1]] != noSide
		switch {
		case told != noSide && side != noSide:
			return Key(name), noSide
		case told != noSide:
			side = told
		case besideSides[word] && i+1 < len(words), after && (word == "side" || word == "foot"):
		default:
			rest = append(rest, word)
		}
	}
	if len(rest) == 0 {
		return Key(name), noSide
	}
	return Key(strings.Join(rest, " ")), side
}

// withoutSides returns a name without the sides that it tells, and what joins them: "New York" for "New York L + R".
func withoutSides(name string) string {
	words := strings.FieldsFunc(name, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("+/&,()", r) })
	return strings.Join(slices.DeleteFunc(words, func(w string) bool {
		w = strings.ToLower(w)
		return sideWords[w] != noSide || besideSides[w] || joins()[w]
	}), " ")
}

// sidedFigures are figures by their names without the side.
type sidedFigures map[string]*[3][]*Figure

func (all sidedFigures) add(fig *Figure) {
	for _, name := range fig.Names() {
		base, side := sided(name)
		if side == noSide {
			continue
		}
		if all[base] == nil {
			all[base] = &[3][]*Figure{}
		}
		if figs := &all[base][side]; len(*figs) == 0 || (*figs)[len(*figs)-1] != fig {
			*figs = append(*figs, fig)
		}
	}
}

// find returns the one figure with a base and a side; nil if there is none or more than one.
func (all sidedFigures) find(base string, side turnedTo) *Figure {
	if figs := all[base]; figs != nil && len(figs[side]) == 1 {
		return figs[side][0]
	}
	return nil
}
