package practice

import (
	"maps"
	"slices"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// RunThrough is one time through a routine, or through what is repeated of it, as it is
// danced. [RunThrough.Pass] is what is kept of it.
type RunThrough struct {
	Timeline *player.Timeline
	Began    time.Time
	Ended    time.Time // zero while it goes on
	Dancers  routine.Dancers

	Finished bool // danced to the end of what was to be danced

	loop player.Interval
	pass int
	from routine.Beats
	to   routine.Beats // the end of the event that is danced
	beat routine.Beats // where it is
	at   time.Time     // then

	percent float64                   // heard last
	danced  map[float64]routine.Beats // how much of it, by per cent
	jumped  bool
	marks   map[Place][2]bool // by whom
}

// Log follows what is heard, run-through by run-through. The zero value has heard nothing.
type Log struct {
	Now *RunThrough // nil while the couple stands
}

// Follow takes in what is heard at a time, and returns the run-through that has ended with
// it, or nil. Side is for a run-through that begins.
func (l *Log) Follow(m player.Moment, at time.Time, dancers routine.Dancers) (ended *RunThrough) {
	if n := l.Now; n != nil && !n.goesOn(m, at) {
		n.end(m, at)
		l.Now, ended = nil, n
	}
	if m.State != player.Dancing || m.Event < 0 {
		return ended
	}
	e := &m.Timeline.Events[m.Event]
	if l.Now == nil {
		l.Now = &RunThrough{Timeline: m.Timeline, Began: at, Dancers: dancers, pass: m.RunThrough, from: e.At, beat: e.At, percent: m.Percent,
			danced: map[float64]routine.Beats{}, marks: map[Place][2]bool{}}
	}
	n := l.Now
	n.danced[min(n.percent, m.Percent)] += m.Beat - n.beat // somewhere between the tempo may have changed
	n.percent = m.Percent
	n.beat, n.at, n.to, n.loop = m.Beat, at, e.At+e.Length, m.Settings.Loop
	return ended
}

// Stop ends the run-through that is under way, and returns it; nil if none is.
func (l *Log) Stop(at time.Time) *RunThrough {
	n := l.Now
	if n != nil {
		n.Ended, l.Now = at, nil
	}
	return n
}

// Jump says that the couple goes elsewhere, so that the run-through under way ends there.
func (l *Log) Jump() {
	if l.Now != nil {
		l.Now.jumped = true
	}
}

// goesOn reports whether a moment is of the same run-through: not before what was heard
// last, and no further than one can dance in the time since.
func (n *RunThrough) goesOn(m player.Moment, at time.Time) bool {
	most := routine.Beats(1.5*at.Sub(n.at).Minutes()*m.Tempo.Float()*float64(routine.Beat)) + routine.Beat
	return m.State == player.Dancing && m.Timeline == n.Timeline && m.RunThrough == n.pass && !n.jumped && m.Beat >= n.beat && m.Beat-n.beat <= most
}

// end ends the run-through with the moment after it.
func (n *RunThrough) end(m player.Moment, at time.Time) {
	n.Ended = at
	if n.jumped || m.Timeline != n.Timeline || m.State != player.Finished && m.RunThrough <= n.pass {
		return
	}
	n.Finished = true
	n.to = n.goal()
}

// goal is the beat up to which is to be danced.
func (n *RunThrough) goal() routine.Beats {
	if n.loop.Empty() {
		return n.Timeline.End
	}
	return n.loop.To
}

// Part is what was danced, or, while it goes on, what is to be.
func (n *RunThrough) Part() player.Interval {
	to := n.to
	if n.Ended.IsZero() {
		to = n.goal()
	}
	return player.Interval{From: n.from, To: to}
}

// Percent is the slowest tempo at which a bar was danced, in per cent of the timeline's
// own; of less than a bar, the slowest. So a tempo that the sheet itself changes on the way
// counts as the sheet's own.
func (n *RunThrough) Percent() float64 {
	danced := maps.Clone(n.danced)
	if !n.Ended.IsZero() {
		danced[n.percent] += n.to - n.beat
	}
	percents := slices.Sorted(maps.Keys(danced))
	all := routine.Beats(0)
	for _, percent := range percents {
		if all += danced[percent]; all >= n.Timeline.Score.Dance.Metre.Bar() {
			return percent
		}
	}
	return percents[0]
}

// Mark marks what is danced at a beat, and returns its places.
func (n *RunThrough) Mark(beat routine.Beats, by ...routine.Partner) []Place {
	var marked []Place
	part := n.Part()
	for _, at := range Places(n.Timeline, beat) {
		if at.Join && !(part.Contains(n.Timeline.Passage(at.Passage-1).To-1) && part.Contains(n.Timeline.Passage(at.Passage).From)) {
			continue // only one of its figures is danced
		}
		both := n.marks[at]
		for _, p := range by {
			both[p] = true
		}
		n.marks[at] = both
		marked = append(marked, at)
	}
	return marked
}

// MarkEnd marks what was danced last.
func (n *RunThrough) MarkEnd(by ...routine.Partner) []Place { return n.Mark(n.to-1, by...) }

// Marked reports whether a place is marked by anybody.
func (n *RunThrough) Marked(at Place) bool { return n.marks[at] != [2]bool{} }

// WorthKeeping reports that a bar was danced or something was marked.
func (n *RunThrough) WorthKeeping() bool {
	return n.to-n.from >= n.Timeline.Score.Dance.Metre.Bar() || len(n.marks) > 0
}

// Kept returns the run-through, once it has ended, as the diary keeps it.
func (n *RunThrough) Kept() Kept {
	part := n.Part()
	for at := range n.marks {
		if at.Join { // it is of both its figures, also if the second was not begun
			part.To = max(part.To, n.Timeline.Passage(at.Passage).From+1)
		}
	}
	first, danced := Part(n.Timeline, part)
	p := Kept{
		At: n.Ended, Took: n.Ended.Sub(n.Began), Tempo: n.Timeline.OwnTempo().Scaled(n.Percent()),
		Dancers: n.Dancers, Finished: n.Finished, Danced: danced,
	}
	for place := range danced {
		for _, join := range []bool{false, true} {
			for _, q := range routine.Partners() {
				if n.marks[Place{Passage: first + place, Join: join}][q] && (place > 0 || !join) {
					p.Marks = append(p.Marks, Mark{Place: place, Join: join, Partner: q})
				}
			}
		}
	}
	return p
}
