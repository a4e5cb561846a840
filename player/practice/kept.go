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

// Figure is how a figure is known from one practice to the next. Figures are comparable.
type Figure struct {
	Dance string `json:"dance"`
	Name  string `json:"name"`
	Steps string `json:"steps"` // equal for charts that are danced alike
}

// FigureOf returns how a dance's figure is known.
func FigureOf(d *routine.Dance, fig *routine.Figure) Figure {
	return Figure{Dance: d.Name, Name: fig.Name, Steps: digest(chartText(fig))}
}

// figuresOf returns how the figure of each passage is known. A figure that is danced several times is read once.
func figuresOf(s *routine.Score) []Figure {
	known := map[*routine.Figure]Figure{}
	figures := make([]Figure, len(s.Passages))
	for i := range s.Passages {
		fig := s.Passages[i].Figure
		if _, ok := known[fig]; !ok {
			known[fig] = FigureOf(s.Dance, fig)
		}
		figures[i] = known[fig]
	}
	return figures
}

// chartText returns a chart in its canonical form, without notes and without what may vary: a figure is known as the
// same, however it is danced.
func chartText(fig *routine.Figure) string {
	fig = fig.Charted()
	var text strings.Builder
	for i := range fig.Rows {
		r := &fig.Rows[i]
		fmt.Fprintf(&text, "%s %d", r.Count, r.At-fig.Rows[0].At)
		for _, step := range r.Steps {
			step.Note, step.Varies, step.VariesAfter = "", routine.Range{}, routine.Range{}
			text.WriteString(" | " + step.String())
		}
		text.WriteString("\n")
	}
	return text.String()
}

// digest returns the first half of a text's SHA-256 in hexadecimal: one in 2^64 pairs of different
// texts share it.
func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:len(sum)/2])
}

// Sheet is how a routine is known from one practice to the next.
type Sheet struct {
	Dance string `json:"dance"`
	Title string `json:"title"`
	Order string `json:"-"` // equal for routines with the same steps
}

// SheetOf returns how a routine is known.
func SheetOf(s *routine.Score) Sheet {
	var order strings.Builder
	for i, fig := range figuresOf(s) {
		p := &s.Passages[i]
		fmt.Fprintf(&order, "%s %d %d\n", fig.Steps, p.From, p.To)
	}
	return Sheet{Dance: s.Dance.Name, Title: s.Title, Order: digest(order.String())}
}

// Kept is a run-through of a routine, or a part of it, as the diary keeps it.
type Kept struct {
	At       time.Time     // when it ended
	Took     time.Duration // time spent dancing
	Tempo    routine.Tempo // the slowest at which a bar was danced, relative to the tempi of the sheet or its song
	Dancers  routine.Dancers
	Finished bool     // danced to the end of the loop or the routine
	Danced   []Danced // in order; run-throughs may share it

	// Judged says which partners said how all of it went: what they did not mark went well. Without
	// that, a mark judges only its own place, and of the rest nobody knows how it went.
	Judged [2]bool
	Marks  []Mark
	// TakenBack are the marks that were taken back after it was kept. Their places count as unjudged.
	TakenBack []Mark
}

// Danced is a figure within a run-through.
type Danced struct {
	Figure Figure
	Whole  bool // from its first step to its last
}

// Mark says that a figure of a run-through, or the join that leads into it, went wrong.
type Mark struct {
	Place   int // the figure's index in Danced; at least 1 for a join
	Join    bool
	Partner routine.Partner
}

// Marked reports whether a partner marked a place: a figure, or the join into it.
func (p *Kept) Marked(place int, join bool, partner routine.Partner) bool {
	return slices.Contains(p.Marks, Mark{place, join, partner})
}

// Clean reports whether a partner danced all of it and said that nothing went wrong.
func (p *Kept) Clean(partner routine.Partner) bool {
	theirs := func(m Mark) bool { return m.Partner == partner }
	return p.Finished && p.Dancers.Include(partner) && p.Judged[partner] && !slices.ContainsFunc(p.Marks, theirs) && !slices.ContainsFunc(p.TakenBack, theirs)
}

// Unmarked reports whether none of those who danced marked anything.
func (p *Kept) Unmarked() bool {
	return !slices.ContainsFunc(p.Marks, func(m Mark) bool { return p.Dancers.Include(m.Partner) })
}

// Verdict is how a place went for one partner. Of a piece that comes twice in a run-through, the
// greater one counts.
type Verdict uint8

// How it went.
const (
	WentWell Verdict = iota
	Unjudged         // nobody said so
	WentWrong
)

// Verdict returns how a place that was danced whole went for a partner: a figure, or the join into it.
func (p *Kept) Verdict(place int, join bool, partner routine.Partner) Verdict {
	m := Mark{place, join, partner}
	switch {
	case slices.Contains(p.Marks, m):
		return WentWrong
	case p.Judged[partner] && p.Dancers.Include(partner) && !slices.Contains(p.TakenBack, m):
		return WentWell
	}
	return Unjudged
}

// Part returns the figures that an interval of a timeline touches, and the index of the first of their
// passages; -1 if there is none.
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

// PlacesAt returns what a mark at a beat applies to: the passage danced there, and its nearer join if the
// beat lies in it.
func PlacesAt(timeline *player.Timeline, beat routine.Beats) []Place {
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
