// Package progress works out how dancers got on, week by week: what went
// wrong, how fast each figure was clean, and how likely they still know it. It neither reads the
// diary nor draws. Begin with [Over].
package progress

import (
	"cmp"
	"slices"
	"time"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// Progress is some weeks of practice, the oldest first.
type Progress struct {
	Mondays []time.Time
	Marks   []int    // how often something was marked, in each week
	Figures []Figure // the one danced last first
}

// Figure is how one figure got on.
type Figure struct {
	Dance string
	Name  string
	Clean []routine.Tempo // the fastest at which it was clean, for either partner, in each week; 0 if never
	Open  int             // marks that are still open
	Known float64         // how likely the partner who knows it less remembers it; -1 if nobody said how it went
	last  time.Time
}

// Span returns the first and the last tempo at which a figure was clean, and the fastest; 0 if it never was.
func (f *Figure) Span() (first, last, best routine.Tempo) {
	for _, t := range f.Clean {
		if t > 0 {
			first, last, best = cmp.Or(first, t), t, max(best, t)
		}
	}
	return first, last, best
}

// key identifies a figure, whatever its steps.
type key struct{ dance, name string }

// Mondays returns the midnights with which a number of weeks begin, up to that of now, where now is.
func Mondays(weeks int, now time.Time) (list []time.Time) {
	y, m, d := now.Date()
	d -= (int(now.Weekday())+6)%7 + 7*(weeks-1)
	for i := range weeks {
		list = append(list, time.Date(y, m, d+7*i, 0, 0, 0, 0, now.Location()))
	}
	return list
}

// Over returns the progress over a number of weeks up to that of now. Kept must be all run-throughs
// ever, in order of time. Weeks begin on Mondays, at midnight where now is. Figures that were not danced
// in these weeks are left out.
func Over(kept []practice.Kept, weeks int, now time.Time) Progress {
	p := Progress{Mondays: Mondays(weeks, now), Marks: make([]int, weeks)}
	figures, lately := map[key]*Figure{}, map[key]practice.Figure{}
	for i := range kept {
		k := &kept[i]
		week := -1
		for week+1 < weeks && !k.At.Before(p.Mondays[week+1]) {
			week++
		}
		if week < 0 {
			continue
		}
		p.Marks[week] += len(k.Marks)
		for of, clean := range cleanIn(k) {
			if figures[of.key] == nil {
				figures[of.key] = &Figure{Dance: of.figure.Dance, Name: of.figure.Name, Clean: make([]routine.Tempo, weeks), Known: -1}
			}
			f := figures[of.key]
			f.last, f.Name, lately[of.key] = k.At, of.figure.Name, of.figure
			if clean {
				f.Clean[week] = max(f.Clean[week], k.Tempo)
			}
		}
	}
	history := practice.Everything(kept, now.Location())
	for _, m := range history.Marks() {
		if f := figures[keyOf(m.Figure)]; f != nil && !m.Join() {
			f.Open++
		}
	}
	for of, f := range figures {
		for _, partner := range routine.Partners() {
			r := history.Of(practice.Piece{Figure: lately[of]}, partner)
			if recall := r.Recall(practice.DayOf(now)); !r.New() && (f.Known < 0 || recall < f.Known) {
				f.Known = recall
			}
		}
		p.Figures = append(p.Figures, *f)
	}
	slices.SortFunc(p.Figures, func(a, b Figure) int {
		return cmp.Or(b.last.Compare(a.last), cmp.Compare(a.Dance, b.Dance), cmp.Compare(a.Name, b.Name))
	})
	return p
}

func keyOf(f practice.Figure) key { return key{f.Dance, routine.Key(f.Name)} }

// danced is a figure in a run-through.
type danced struct {
	key
	figure practice.Figure
}

// cleanIn returns the figures of a run-through. A figure's value is true if some partner said that it
// went well, and danced it whole, wherever it came.
func cleanIn(k *practice.Kept) map[danced]bool {
	seen := map[danced]bool{}
	for _, partner := range routine.Partners() {
		worst := map[danced]practice.Verdict{}
		for place, d := range k.Danced {
			of := danced{keyOf(d.Figure), d.Figure}
			v := k.Verdict(place, false, partner)
			if !d.Whole {
				v = max(v, practice.Unjudged)
			}
			worst[of] = max(worst[of], v)
		}
		for of, v := range worst {
			seen[of] = seen[of] || v == practice.WentWell
		}
	}
	return seen
}
