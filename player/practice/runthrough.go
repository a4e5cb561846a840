package practice

import (
	"maps"
	"slices"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// RunThrough is one time through a routine, or through the loop, while it is danced. [RunThrough.Kept]
// returns it as the diary keeps it.
type RunThrough struct {
	Timeline *player.Timeline
	Began    time.Time
	Ended    time.Time // zero while it goes on
	Dancers  routine.Dancers

	Finished bool // danced to the end of the loop or the routine

	loop  player.Interval
	index int
	from  routine.Beats
	to    routine.Beats // the end of the event that is being danced
	beat  routine.Beats // the latest position
	at    time.Time     // when it was there

	percent float64                   // the latest tempo, in per cent
	danced  map[float64]routine.Beats // how much was danced at each per cent
	jumped  bool
	marks   map[Place][2]bool // which partners marked each place
	judged  [2]bool           // which partners said how all of it went
}

// Log follows what is heard, one run-through after the other. Its zero value is ready to use.
type Log struct {
	Now *RunThrough // nil while the couple stands
}

// Follow takes in what is heard at a time. It returns the run-through that this ends, or nil. A
// run-through that begins is danced by dancers.
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
		l.Now = &RunThrough{Timeline: m.Timeline, Began: at, Dancers: dancers, index: m.RunThrough, from: e.At, beat: e.At, percent: m.Percent,
			danced: map[float64]routine.Beats{}, marks: map[Place][2]bool{}}
	}
	n := l.Now
	n.danced[min(n.percent, m.Percent)] += m.Beat - n.beat // the tempo may have changed anywhere between the two
	n.percent = m.Percent
	n.beat, n.at, n.to, n.loop = m.Beat, at, e.At+e.Length, m.Settings.Loop
	return ended
}

// Stop ends the current run-through and returns it; nil if there is none.
func (l *Log) Stop(at time.Time) *RunThrough {
	n := l.Now
	if n != nil {
		n.Ended, l.Now = at, nil
	}
	return n
}

// Jump says that the couple goes elsewhere, which ends the current run-through.
func (l *Log) Jump() {
	if l.Now != nil {
		l.Now.jumped = true
	}
}

// goesOn reports whether a moment belongs to the same run-through: not before the latest position, and
// no further on than one can dance in the time since.
func (n *RunThrough) goesOn(m player.Moment, at time.Time) bool {
	most := routine.Beats(1.5*at.Sub(n.at).Minutes()*m.Tempo.Float()*float64(routine.Beat)) + routine.Beat
	return m.State == player.Dancing && m.Timeline == n.Timeline && m.RunThrough == n.index && !n.jumped && m.Beat >= n.beat && m.Beat-n.beat <= most
}

// end ends the run-through; m is the moment after it.
func (n *RunThrough) end(m player.Moment, at time.Time) {
	n.Ended = at
	if n.jumped || m.Timeline != n.Timeline || m.State != player.Finished && m.RunThrough <= n.index {
		return
	}
	n.Finished = true
	n.to = n.goal()
}

// goal returns the beat up to which it is to be danced.
func (n *RunThrough) goal() routine.Beats {
	if n.loop.Empty() {
		return n.Timeline.End
	}
	return n.loop.To
}

// Part returns what was danced or, while it goes on, what is to be danced.
func (n *RunThrough) Part() player.Interval {
	to := n.to
	if n.Ended.IsZero() {
		to = n.goal()
	}
	return player.Interval{From: n.from, To: to}
}

// Percent returns the slowest tempo at which a whole bar was danced, in per cent of the timeline's own;
// the slowest of all if less than a bar was danced. Tempo changes that the sheet itself asks for do not
// count.
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

// Mark marks what is danced at a beat, and returns the places marked.
func (n *RunThrough) Mark(beat routine.Beats, by ...routine.Partner) []Place {
	var marked []Place
	part := n.Part()
	for _, at := range PlacesAt(n.Timeline, beat) {
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

// Marked reports whether either partner marked a place.
func (n *RunThrough) Marked(at Place) bool { return n.marks[at] != [2]bool{} }

// WorthKeeping reports whether a bar was danced or something was marked.
func (n *RunThrough) WorthKeeping() bool {
	return n.to-n.from >= n.Timeline.Score.Dance.Metre.Bar() || len(n.marks) > 0
}

// Kept returns the run-through, once it has ended, as the diary keeps it.
func (n *RunThrough) Kept() Kept {
	part := n.Part()
	for at := range n.marks {
		if at.Join { // it belongs to both figures, even if the second was not begun
			part.To = max(part.To, n.Timeline.Passage(at.Passage).From+1)
		}
	}
	first, danced := Part(n.Timeline, part)
	p := Kept{
		At: n.Ended, Took: n.Ended.Sub(n.Began), Tempo: n.Timeline.OwnTempo().Scaled(n.Percent()),
		Dancers: n.Dancers, Finished: n.Finished, Danced: danced, Judged: n.judged,
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
