package amalgamation

import (
	"strings"

	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// Read reads a sheet as [floor.Read] does. If a join can't be danced, its finding suggests
// figures of the book that would link it.
func Read(name string, src []byte, book routine.Book) (*routine.Score, []routine.Finding) {
	score, found := floor.Read(name, src, book)
	hints := 0
	for i := 1; i < len(score.Passages) && hints < mostHints; i++ {
		p := &score.Passages[i]
		_, _, apart := score.After(i-1).ThenPart(score.Dance, p.Figure, p.From, p.To)
		if len(apart) == 0 {
			continue
		}
		if f := findingOn(found, &score.Items[p.Item], apart[0].Code); f != nil && !strings.HasPrefix(f.Hint, between) {
			hints++
			j := Join{score.Dance, score.Items[score.Passages[i-1].Item], score.Items[p.Item], score.After(i - 1)}
			f.Hint = withLinks(f.Hint, j.Link(figuresOf(book, score.Dance), shownLinks))
		}
	}
	return score, found
}

// How many joins get a hint, and how many links a hint suggests.
const mostHints, shownLinks = 20, 2

const between = "dance between them: "

// withLinks puts links before a hint, or in place of a hint that only asks for them.
func withLinks(hint string, links [][]*routine.Figure) string {
	if len(links) == 0 {
		return hint
	}
	texts := make([]string, len(links))
	for i, figs := range links {
		texts[i] = Names(figs)
	}
	text := between + strings.Join(texts, "; or ")
	if hint != "" && !strings.HasPrefix(hint, "a figure between them") {
		text += ". Or: " + hint
	}
	return text
}

// Text returns the names of figures, in the order in which they are danced.
func Names(figs []*routine.Figure) string {
	names := make([]string, len(figs))
	for i, fig := range figs {
		names[i] = fig.Name
	}
	return strings.Join(names, ", then ")
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
