// Package glossary says what the words of steps mean, for dancers who meet them
// on the screen or on a page.
//
// The words are those that a [routine.Step] is written with, in its form for
// charts; whatever routine can write has a meaning here. Notes are left out, as
// they are free text.
package glossary

import (
	"fmt"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// Of returns what the words of steps mean, each word once, in the order in which the
// steps name them.
func Of(steps ...*routine.Step) []Entry {
	var l list
	for _, s := range steps {
		l.step(s)
	}
	return l
}

// Counts returns what counts mean in dance d, each count once, in the given order.
func Counts(d *routine.Dance, counts ...routine.Count) []Entry {
	var l list
	for _, c := range counts {
		l.add(c.String(), count(d, c))
	}
	return l
}

type list []Entry

// add adds a word that has a meaning and is not yet in the list.
func (l *list) add(word, meaning string) {
	if e := (Entry{word, meaning}); meaning != "" && !slices.Contains(*l, e) {
		*l = append(*l, e)
	}
}

// words adds those of texts that are words of the table.
func (l *list) words(texts ...string) {
	for _, text := range texts {
		l.add(text, meaning(text))
	}
}

func (l *list) step(s *routine.Step) {
	if s.Stands() {
		l.words("–")
	}
	l.words(s.Foot.String(), s.Size.String(), s.Way.String())
	if s.Slightly != routine.NoWay && s.Slightly != routine.Across {
		l.words("slightly")
	}
	l.words(s.Slightly.String(), s.Where()) // Where is a word if it is an action
	for _, detail := range s.Details() {
		switch detail {
		case s.Varies.Text(s.Turn):
			l.add(detail, varied(s.Turn, s.Varies))
		case s.VariesAfter.Text(s.After) + " after":
			l.add(s.VariesAfter.Text(s.After), varied(s.After, s.VariesAfter))
			l.words("after")
		case "foot " + s.FootTurn.String():
			l.words("foot")
			l.add(s.FootTurn.String(), turn(s.FootTurn))
		case s.Alignment.String():
			stand, _, _ := strings.Cut(detail, " ")
			l.words(stand, s.Alignment.To.String())
		case s.Footwork:
			l.add(detail, footwork(detail))
		case "leads " + s.Lead:
			l.words("leads")
		default:
			l.words(strings.TrimPrefix(detail, "in ")) // "in promenade"
		}
	}
}

// varied says how far t usually turns and how far that may vary.
func varied(t routine.Turn, r routine.Range) string {
	if !r.Varies() {
		return turn(t)
	}
	usual, ends := "usually no turn", [2]string{"none", "none"}
	if t != 0 {
		usual = "usually " + turn(t)
	}
	for i, end := range []routine.Turn{r.From, r.To} {
		if end != 0 {
			ends[i] = end.String()
		}
	}
	return usual + "; " + ends[0] + " to " + ends[1] + " as needed"
}

// turn says how far t turns. L and R are left and right as the dancer sees them
// (common practice).
func turn(t routine.Turn) string {
	side := "right"
	if t < 0 {
		side, t = "left", -t
	}
	var amounts []string
	switch whole := t / 8; whole {
	case 0:
	case 1:
		amounts = append(amounts, "once")
	case 2:
		amounts = append(amounts, "twice")
	default:
		amounts = append(amounts, fmt.Sprintf("%d times", whole))
	}
	if part := t % 8; part != 0 {
		amounts = append(amounts, eighths[part])
	}
	return "turn " + strings.Join(amounts, " and ") + " to the " + side
}

var eighths = [8]string{1: "an eighth", 2: "a quarter", 3: "three eighths", 4: "a half", 5: "five eighths", 6: "three quarters", 7: "seven eighths"}

// footwork says which parts of the foot touch the floor one after the other, or "" if
// letters has one that means nothing.
func footwork(letters string) string {
	if meaning, ok := meanings()[letters]; ok {
		return meaning
	}
	var parts []string
	for rest := letters; rest != ""; {
		i := slices.IndexFunc(footParts, func(e Entry) bool { return strings.HasPrefix(rest, e.Word) })
		if i < 0 {
			return ""
		}
		parts = append(parts, footParts[i].Meaning)
		rest = rest[len(footParts[i].Word):]
	}
	parts[0] += " first"
	return strings.Join(parts, ", then ")
}

// count says how long c lasts or where it lies, as routine places it.
func count(d *routine.Dance, c routine.Count) string {
	switch c.Kind {
	case routine.Slow:
		return "slow: it lasts " + d.Slow.InBeats()
	case routine.Quick:
		return "quick: it lasts " + d.Quick.InBeats()
	case routine.And:
		return "and: it takes the last " + d.And.InBeats() + " of the count before it"
	case routine.A:
		return "a: it takes the last " + d.A.InBeats() + " of the count before it"
	case routine.E:
		return "e: it comes 1/4 beat after the count before it"
	}
	switch {
	case c.Last != c.First:
		return fmt.Sprintf("on beat %d, then wait until beat %d is over", c.First, c.Last)
	case d.FigureNumbers:
		return fmt.Sprintf("on beat %d of the figure", c.First)
	}
	return fmt.Sprintf("on beat %d, as dancers count the music", c.First)
}
