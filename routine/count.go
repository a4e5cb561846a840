package routine

import (
	"fmt"
	"strconv"
	"strings"
)

// CountKind is what sort of count a Count is.
type CountKind uint8

// The kinds of count.
const (
	Number CountKind = iota // a beat, by its number
	And                     // &: half a beat, or what the dance says
	A                       // a: the last quarter of a beat
	E                       // e: the first quarter after a beat
	Slow                    // S
	Quick                   // Q
)

// Count is one count of a figure, as written.
type Count struct {
	Kind  CountKind
	First int // the number, if Kind is Number
	Last  int // the number it is held to; First if it is not held
}

const highestCount = 64

// String returns the canonical form: "2", "4-1", "&", "a", "e", "S", "Q".
func (c Count) String() string {
	switch {
	case c.Kind != Number:
		return [...]string{And: "&", A: "a", E: "e", Slow: "S", Quick: "Q"}[c.Kind]
	case c.Last != c.First:
		return fmt.Sprintf("%d-%d", c.First, c.Last)
	}
	return strconv.Itoa(c.First)
}

// slowQuick reports whether c says how long it lasts (S, Q) instead of where it lies.
func (c Count) slowQuick() bool { return c.Kind == Slow || c.Kind == Quick }

// splits reports whether c lies between two beats.
func (c Count) splits() bool { return c.Kind == And || c.Kind == A || c.Kind == E }

// dashes replaces every dash with a hyphen.
var dashes = strings.NewReplacer("–", "-", "—", "-")

// ParseCount reads one count: a number, a held count "4-1", &, a, e, S, Q, or one of these as it is spoken.
func ParseCount(text string) (Count, bool) {
	text = strings.Trim(strings.TrimSpace(text), ".,:;'\"‘’“”")
	if c, ok := lex().counts[fold(text)]; ok {
		return c, true
	}
	return parseCount(text)
}

// kinds are the kinds of count by their letters.
var kinds = map[string]CountKind{"&": And, "a": A, "e": E, "S": Slow, "Q": Quick}

// parseCount reads a count as String writes it, with any dash, and words for its numbers.
func parseCount(text string) (Count, bool) {
	if kind, ok := kinds[text]; ok {
		return Count{Kind: kind}, true
	}
	first, last, held := strings.Cut(dashes.Replace(text), "-")
	c := Count{Kind: Number}
	var ok bool
	if c.First, ok = countNumber(first); !ok {
		return Count{}, false
	}
	if c.Last = c.First; held {
		if c.Last, ok = countNumber(last); !ok {
			return Count{}, false
		}
	}
	return c, true
}

func countNumber(text string) (int, bool) {
	text = strings.TrimSpace(text)
	n, err := strconv.ParseUint(text, 10, 8)
	return int(n), err == nil && n >= 1 && n <= highestCount && text[0] != '0'
}
