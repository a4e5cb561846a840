// Package practice tells what to practise next, from what was danced before.
//
// Everything in it is a value or a pure function. It knows figures by name and
// by steps, so that what was learnt stays known when a sheet is renamed or edited.
package practice

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Figure is a figure as it is known from one practice to the next. Figures can
// be compared.
type Figure struct {
	Dance string `json:"dance"`
	Name  string `json:"name"`
	Steps string `json:"steps"` // the same for charts that are danced alike
}

// FigureOf knows a figure of a dance.
func FigureOf(d *routine.Dance, fig *routine.Figure) Figure {
	return Figure{Dance: d.Name, Name: fig.Name, Steps: digest(chartText(fig))}
}

// chartText is a chart in its one form, without what is only remarked.
func chartText(fig *routine.Figure) string {
	var text strings.Builder
	for i := range fig.Rows {
		r := &fig.Rows[i]
		fmt.Fprintf(&text, "%s %d", r.Count, r.At-fig.Rows[0].At)
		for _, step := range r.Steps {
			step.Note = ""
			text.WriteString(" | " + step.String())
		}
		text.WriteString("\n")
	}
	return text.String()
}

// digest is the first half of a text's SHA-256 in hexadecimal: one in 2^64
// pairs of different texts share it.
func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:len(sum)/2])
}

// Sheet is a routine as it is known from one practice to the next.
type Sheet struct {
	Dance string `json:"dance"`
	Title string `json:"title"`
	Order string `json:"-"` // the same for routines of the same steps
}

// SheetOf knows a routine.
func SheetOf(s *routine.Score) Sheet {
	var order strings.Builder
	for i := range s.Passages {
		p := &s.Passages[i]
		fmt.Fprintf(&order, "%s %d %d\n", digest(chartText(p.Figure)), p.From, p.To)
	}
	return Sheet{Dance: s.Dance.Name, Title: s.Title, Order: digest(order.String())}
}

// Kept is one time through a routine or a part of it.
type Kept struct {
	At       time.Time     // when it ended
	Took     time.Duration // of dancing
	Tempo    routine.Tempo // the slowest at which a bar was danced, where the sheet, or its song, has its own
	Dancers  routine.Dancers
	Finished bool     // to the end of what was to be danced
	Danced   []Danced // in order; passes may share it
	Marks    []Mark
}

// Danced is a figure within a pass.
type Danced struct {
	Figure Figure
	Whole  bool // from its first step to its last
}

// Mark says that a figure of a pass, or the join that leads into it, went wrong.
type Mark struct {
	Place   int // of the figure, an index of Danced; for a join at least 1
	Join    bool
	Partner routine.Partner
}

// Marked reports whether a mark stands at a place, for a partner.
func (p *Kept) Marked(place int, join bool, partner routine.Partner) bool {
	return slices.Contains(p.Marks, Mark{place, join, partner})
}

// Clean reports whether none of those who danced marked anything.
func (p *Kept) Clean() bool {
	return !slices.ContainsFunc(p.Marks, func(m Mark) bool { return p.Dancers.Include(m.Partner) })
}

// Part tells which figures an exercise of a timeline dances, and which of the
// score's passages is the first.
func Part(timeline *player.Timeline, s player.Interval) (first int, danced []Danced) {
	first = -1
	for i := range timeline.Score.Passages {
		at := timeline.Passage(i)
		if at.To <= s.From || s.To <= at.From {
			continue
		}
		if first < 0 {
			first = i
		}
		whole := s.From <= at.From && at.To <= s.To
		danced = append(danced, Danced{FigureOf(timeline.Score.Dance, timeline.Score.Passages[i].Figure), whole})
	}
	return first, danced
}

// Place is a passage of a score, or the join that leads into it.
type Place struct {
	Passage int
	Join    bool // with the passage before
}

// Places tells what a mark at a beat is of: the passage that is danced, and its
// nearer join, if that is danced then.
func Places(timeline *player.Timeline, beat routine.Beats) []Place {
	if len(timeline.Events) == 0 {
		return nil
	}
	passage := timeline.Events[max(timeline.At(beat), 0)].Passage
	places := []Place{{Passage: passage}}
	join := passage
	if at := timeline.Passage(passage); beat-at.From >= at.To-beat {
		join++
	}
	if join > 0 && join < len(timeline.Score.Passages) && timeline.Join(join-1).Contains(beat) {
		places = append(places, Place{Passage: join, Join: true})
	}
	return places
}
