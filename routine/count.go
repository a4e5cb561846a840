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

// Count is one count of a figure as it is written.
type Count struct {
	Kind  CountKind
	First int // the number of a Number
	Last  int // the number up to which it is held; First if it is not
}

const highestCount = 64

// String gives the one written form: "2", "4-1", "&", "a", "e", "S", "Q".
func (c Count) String() string {
	switch c.Kind {
	case Number:
		if c.Last != c.First {
			return fmt.Sprintf("%d-%d", c.First, c.Last)
		}
		return strconv.Itoa(c.First)
	case And:
		return "&"
	case A:
		return "a"
	case E:
		return "e"
	case Slow:
		return "S"
	}
	return "Q"
}

// MarshalText writes String.
func (c Count) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// slowQuick reports whether c is counted by its length, not by its place.
func (c Count) slowQuick() bool { return c.Kind == Slow || c.Kind == Quick }

// splits reports whether c lies between two beats.
func (c Count) splits() bool { return c.Kind == And || c.Kind == A || c.Kind == E }

// dashes writes every dash as the plain one.
var dashes = strings.NewReplacer("–", "-", "—", "-")

// ParseCount reads one count: a number, a held count "4-1", &, and, a, e, S, Q.
func ParseCount(text string) (Count, bool) {
	text = strings.TrimSpace(text)
	switch strings.ToLower(text) {
	case "&", "and", "+":
		return Count{Kind: And}, true
	case "a":
		return Count{Kind: A}, true
	case "e":
		return Count{Kind: E}, true
	case "s", "slow":
		return Count{Kind: Slow}, true
	case "q", "quick":
		return Count{Kind: Quick}, true
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

// placement is where counts fall: the beat of each from a beat that is the
// first of a bar, unless the figure is floating: then from its own start, and
// it can begin wherever the figure before it stopped.
type placement struct {
	at       []Beats
	end      Beats
	floating bool
	troubles []countTrouble
}

// countTrouble is something wrong with the count of one row.
type countTrouble struct {
	row     int
	code    Code
	message string
	hint    string
}

// place finds the beats of counts. Lengths follow from the next count's beat;
// & and a take their time from the count before them; a hole is a trouble.
func place(counts []Count, d *Dance) placement {
	p := placement{at: make([]Beats, len(counts))}
	if len(counts) == 0 {
		return p
	}
	mixed := false
	trouble := func(row int, code Code, hint, format string, args ...any) {
		if mixed {
			return // what follows may come of it
		}
		mixed = code == "count-mixed"
		p.troubles = append(p.troubles, countTrouble{row, code, fmt.Sprintf(format, args...), hint})
	}

	bySlowQuick := false
	first := Count{Kind: Quick}
	for _, c := range counts {
		if !c.splits() {
			first, bySlowQuick = c, c.slowQuick()
			break
		}
	}
	p.floating = bySlowQuick || d.FigureNumbers || first.splits()

	// beat is where the last whole count began its last beat, end where its
	// time ends if nothing follows, number its number.
	var beat, end Beats
	number := 0
	var lastWhole Count
	doubted := false // lastWhole did not follow what was before it
	if !bySlowQuick && !d.FigureNumbers {
		beat = Beats(first.First-1)*Beat - Beat // the beat before the first, from which a late start takes its time
	} else {
		beat = -Beat
	}
	end = beat + Beat
	previous := beat - 1 // the onset before; any first count comes after it
	for i, c := range counts {
		if c.slowQuick() != bySlowQuick && !c.splits() {
			trouble(i, "count-mixed", "count a figure in numbers or in S and Q, not both", "%s stands among counts of the other kind", c)
			previous = max(end, previous)
			p.at[i] = previous
			continue
		}
		var at Beats
		switch c.Kind {
		case Number:
			held := Beats(c.Last-c.First) * Beat
			if c.Last < c.First {
				held = floorMod(held, d.Metre.Bar())
				if d.FigureNumbers || held == 0 {
					trouble(i, "count-order", "", "%s is held from a later count to an earlier one", c)
					held = 0
				}
			}
			switch {
			case number == 0:
				at = beat + Beat
			case c.First > number:
				at = beat + Beats(c.First-number)*Beat
			case d.FigureNumbers:
				at = beat + Beat
			default:
				at = beat + Beat + floorMod(Beats(c.First-1)*Beat-(beat+Beat), d.Metre.Bar())
			}
			skipped := number != 0 && at > end
			if skipped && !doubted { // else the count before may be the wrong one
				missing := missingCounts(beat, at, d)
				trouble(i, "count-skipped", fmt.Sprintf("write %s if %s is held, or – in both columns if both wait", heldTo(lastWhole, beat, at, d), lastWhole),
					"nothing is written for count %s before this %s", missing, c)
			}
			beat = at + held
			end = beat + Beat
			number, lastWhole, doubted = c.Last, c, skipped && !doubted
		case Slow, Quick:
			at = end
			length := d.Slow
			if c.Kind == Quick {
				length = d.Quick
			}
			end = at + length
			beat = end - Beat // & and a are taken from the end of the time before
			number, lastWhole = 1, c
		case E:
			at = beat + Beat/4
			if bySlowQuick && lastWhole.slowQuick() {
				at = previous + Beat/4
			}
		case And:
			at = end - d.And
		case A:
			at = end - d.A
		}
		if at <= previous {
			trouble(i, "count-order", "", "%s does not come after the count before it", c)
			at = previous
		}
		p.at[i], previous = at, at
	}
	p.end = max(end, previous)
	if p.floating {
		start := p.at[0]
		for i := range p.at {
			p.at[i] -= start
		}
		p.end -= start
	}
	return p
}

// missingCounts names the beats between the one at beat and the one at next.
func missingCounts(beat, next Beats, d *Dance) string {
	var names []string
	for b := beat + Beat; b < next && len(names) < 3; b += Beat {
		names = append(names, strconv.Itoa(int(floorMod(b, d.Metre.Bar())/Beat)+1))
	}
	if next-beat > 4*Beat {
		names = append(names, "…")
	}
	return strings.Join(names, ", ")
}

// heldTo is c written as held up to the beat before next.
func heldTo(c Count, beat, next Beats, d *Dance) string {
	last := c.Last + int((next-beat)/Beat) - 1
	if !d.FigureNumbers && c.Last <= d.Metre.Beats {
		last = (last-1)%d.Metre.Beats + 1
	}
	return Count{Number, c.First, last}.String()
}
