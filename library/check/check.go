// Package check reads a sheet and reports everything that is wrong with it: in the
// language, on the floor, and where two figures don't join. Programs read
// sheets only through it; packages routine, floor and choreography do the parts.
package check

import (
	"strings"

	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Sheet reads a sheet named name, with figures from book. The score has all that could be
// placed and can be danced unless a finding is an error. If a join can't be danced, its
// finding suggests figures of the book that would link it.
func Sheet(name string, src []byte, book routine.Book) (*routine.Score, []routine.Finding) {
	score, found := routine.Read(name, src, book)
	found = routine.Sorted(append(found, floor.Check(score, found)...))
	hints := 0
	for i := 1; i < len(score.Passages) && hints < mostHints; i++ {
		p := &score.Passages[i]
		_, _, apart := score.After(i-1).ThenPart(score.Dance, p.Figure, p.From, p.To)
		if len(apart) == 0 {
			continue
		}
		if f := findingOn(found, &score.Items[p.Item], apart[0].Code); f != nil && !strings.HasPrefix(f.Hint, between) {
			hints++
			j := choreography.Join{Dance: score.Dance, Before: score.Items[score.Passages[i-1].Item], Next: score.Items[p.Item], From: score.After(i - 1)}
			f.Hint = withLinks(f.Hint, j.LinkParts(figuresOf(book, score.Dance), shownLinks))
		}
	}
	return score, found
}

// How many joins get a hint, and how many links a hint suggests.
const mostHints, shownLinks = 20, 2

const between = "dance between them: "

// withLinks puts links before a hint, or in place of a hint that only asks for them.
func withLinks(hint string, links [][]routine.Item) string {
	if len(links) == 0 {
		return hint
	}
	texts := make([]string, len(links))
	for i, items := range links {
		texts[i] = choreography.ItemNames(items)
	}
	text := between + strings.Join(texts, "; or ")
	if hint != "" && !strings.HasPrefix(hint, "dance a figure between them") {
		text += ". Or: " + hint
	}
	return text
}

// findingOn returns the first finding with a code on an item; nil if there is none.
func findingOn(found []routine.Finding, item *routine.Item, code routine.Code) *routine.Finding {
	for i := range found {
		at := found[i].Span.Start.Offset
		if found[i].Code == code && item.At.Start.Offset <= at && at < item.At.End.Offset {
			return &found[i]
		}
	}
	return nil
}

func figuresOf(book routine.Book, d *routine.Dance) (figs []*routine.Figure) {
	for _, name := range book.Figures(d) {
		if fig, ok := book.Figure(d, name); ok {
			figs = append(figs, fig)
		}
	}
	return figs
}
