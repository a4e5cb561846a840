// Package player turns a score into a timeline and moves along it in time:
// what is counted and stepped on each beat, on which frame it is heard, and
// where the couple is on the frame that is heard now.
package player

import (
	"cmp"
	"slices"
	"strconv"

	"dance.example/slowquick/routine"
)

// Timeline is a routine as the events that are counted and stepped, in order.
// It is immutable.
type Timeline struct {
	Score  *routine.Score
	Events []Event
	Start  routine.Beats // of the first step
	End    routine.Beats // after the last
	tempo  tempoMap
	music  *Music // that it is danced to; nil for none
	places places // of a timeline with music
	counts int    // after how many beats the numbers of its charts begin again
}

// Event is a beat, or a count between two beats, from which something is counted or stepped.
type Event struct {
	At      routine.Beats
	Length  routine.Beats // until the next event
	Bar     int           // from 1
	Beat    int           // of the bar, from 1; of a count between two beats, the one before it
	Split   bool          // lies between two beats
	Accent  bool          // a beat that the dance accents
	Phrase  int           // from 1
	Passage int           // index into Score.Passages
	Row     int           // index into the figure's rows; -1 if none begins here
	// Steps that begin here; nil while a partner goes on with the step before.
	Steps [2]*routine.Step
	// Labels is what is counted here in each style; empty where nothing is said.
	Labels Labels
}

// Labels is a count in each [routine.CountStyle].
type Labels struct {
	Count     string
	SlowQuick string
	Words     string
}

// In gives the label in a style.
func (l Labels) In(s routine.CountStyle) string {
	switch s {
	case routine.SlowQuick:
		return l.SlowQuick
	case routine.InWords:
		return l.Words
	}
	return l.Count
}

// NewTimeline lays a score out. A score without a passage gives an empty timeline.
func NewTimeline(s *routine.Score) *Timeline {
	t := &Timeline{Score: s, Start: s.Start, End: s.End, tempo: newTempoMap(s), counts: countsTo(s)}
	for i := range s.Passages {
		t.passage(i)
	}
	for i := range t.Events {
		e := &t.Events[i]
		e.Length = t.End - e.At
		if i+1 < len(t.Events) {
			e.Length = t.Events[i+1].At - e.At
		}
		e.Bar = s.Dance.Metre.BarNumber(e.At)
		e.Beat = s.Dance.Metre.BeatNumber(e.At)
		e.Split = e.At%routine.Beat != 0
		e.Accent = !e.Split && slices.Contains(s.Dance.Accents, e.Beat)
		e.Phrase, _, _ = s.Phrase(e.At)
	}
	return t
}

// passage adds the events of one passage: its rows, and the beats between them.
func (t *Timeline) passage(index int) {
	p := &t.Score.Passages[index]
	words := sayWords(t.Score.Dance, p)
	next := p.Start
	beats := func(until routine.Beats) {
		for at := next.Ceil(routine.Beat); at < until; at += routine.Beat {
			t.Events = append(t.Events, Event{At: at, Passage: index, Row: -1, Labels: t.heldLabels(p, at)})
		}
	}
	for row := p.From; row < p.To; row++ {
		at := p.At(row)
		beats(at)
		end := p.End
		if row+1 < p.To {
			end = p.At(row + 1)
		}
		r := &p.Figure.Rows[row]
		e := Event{At: at, Passage: index, Row: row, Labels: Labels{
			Count: countLabel(r.Count), SlowQuick: slowQuickLabel(t.Score.Dance, p, row, end-at), Words: words[row-p.From],
		}}
		for side := range e.Steps {
			if r.Written[side] {
				e.Steps[side] = &r.Steps[side]
			}
		}
		t.Events = append(t.Events, e)
		next = at + 1
	}
	beats(p.End)
}

// heldLabels counts a beat on which no row begins: by its number in the bar,
// unless the figure is counted slow and quick, when nothing is said.
func (t *Timeline) heldLabels(p *routine.Passage, at routine.Beats) Labels {
	if k := p.Figure.Rows[p.From].Count.Kind; k == routine.Slow || k == routine.Quick {
		return Labels{}
	}
	n := t.Score.Dance.Metre.BeatNumber(at)
	return Labels{Count: strconv.Itoa(n), Words: numberWord(n)}
}

// At is the index of the event that lasts at a beat: the last that began by
// then. It is -1 before the first.
func (t *Timeline) At(beat routine.Beats) int {
	i, found := slices.BinarySearchFunc(t.Events, beat, func(e Event, b routine.Beats) int { return cmp.Compare(e.At, b) })
	if found {
		return i
	}
	return i - 1
}

// Seconds is when a beat falls at full tempo, counted from the first step.
func (t *Timeline) Seconds(beat routine.Beats) float64 {
	return t.tempo.seconds(beat) - t.tempo.seconds(t.Start)
}

// Tempo is the tempo at a beat.
func (t *Timeline) Tempo(beat routine.Beats) routine.Tempo { return t.tempo.at(beat) }

// Bar is the stretch of the bar that a beat lies in, within the routine.
func (t *Timeline) Bar(beat routine.Beats) Stretch {
	bar := t.Score.Dance.Metre.Bar()
	from := beat.Floor(bar)
	return Stretch{max(from, t.Start), min(from+bar, t.End)}
}

// Stretch is a part of a timeline, from one beat up to, not including, another.
type Stretch struct {
	From routine.Beats `json:"from"`
	To   routine.Beats `json:"to"`
}

// Empty reports whether nothing lies in s.
func (s Stretch) Empty() bool { return s.To <= s.From }

// Contains reports whether a beat lies in s.
func (s Stretch) Contains(b routine.Beats) bool { return s.From <= b && b < s.To }

// Passage is the stretch of one passage.
func (t *Timeline) Passage(index int) Stretch {
	p := &t.Score.Passages[index]
	return Stretch{p.Start, p.End}
}

// Style is how an event is counted: as was chosen, or else as the item of the
// order, or the sheet, says.
func (t *Timeline) Style(event int, chosen routine.CountStyle) routine.CountStyle {
	item := &t.Score.Items[t.Score.Passages[t.Events[event].Passage].Item]
	return cmp.Or(chosen, item.Style, t.Score.Style, routine.AsCounted)
}

// Join is the stretch in which a passage meets the next: its last bar, and the
// next one's first.
func (t *Timeline) Join(passage int) Stretch {
	bar := t.Score.Dance.Metre.Bar()
	before, after := t.Passage(passage), t.Passage(passage+1)
	s := Stretch{max(before.From, before.To-bar), min(after.To, after.From+bar)}
	// Only whole steps: from an event on, and up to one.
	if i := t.At(s.From); t.Events[i].At < s.From {
		s.From = t.Events[min(i+1, len(t.Events)-1)].At
	}
	return s
}

// startFrom is where a couple that stands at a beat begins to dance: there, or at
// the start of what is repeated if it stands outside, or of a routine that is over.
func (t *Timeline) startFrom(beat routine.Beats, repeat Stretch) routine.Beats {
	switch {
	case !repeat.Empty() && !repeat.Contains(beat):
		return repeat.From
	case beat >= t.End:
		return t.Start
	}
	return beat
}

// Rejoins reports whether a stretch can be danced again at once: whether each
// partner ends it with the foot free that begins it, as far as steps tell.
func (t *Timeline) Rejoins(s Stretch) bool {
	for _, p := range routine.Partners() {
		first, weight := routine.NoFoot, routine.NoFoot // the foot that begins, and the one that stands in the end
		for i := range t.Events {
			step := t.Events[i].Steps[p]
			if step == nil || step.Stands() || !s.Contains(t.Events[i].At) {
				continue
			}
			needed := step.Foot
			if step.Pivots() {
				needed = step.Foot.Other()
			}
			if first == routine.NoFoot {
				first = needed
			}
			if weight = needed.Other(); step.Moves() {
				weight = step.Foot
			}
		}
		if first != routine.NoFoot && first == weight {
			return false
		}
	}
	return true
}

// Follow finds the place in t that corresponds to a place in an older timeline:
// the same step of the same figure, danced for the same time, or else the same
// beat if it exists.
func (t *Timeline) Follow(old *Timeline, beat routine.Beats) routine.Beats {
	if i := old.At(beat); i >= 0 {
		e := &old.Events[i]
		was := &old.Score.Passages[e.Passage]
		nth := 0
		for _, p := range old.Score.Passages[:e.Passage] {
			if p.Figure.Name == was.Figure.Name {
				nth++
			}
		}
		for k := range t.Score.Passages {
			p := &t.Score.Passages[k]
			if p.Figure.Name != was.Figure.Name {
				continue
			}
			if nth--; nth < 0 {
				if at := p.Start + beat - was.Start; at < p.End {
					return at
				}
				break
			}
		}
	}
	return max(t.Start, min(beat, t.End-1))
}

// followStretch finds the stretch that corresponds to one in an older timeline.
func (t *Timeline) followStretch(old *Timeline, s Stretch) Stretch {
	if s.Empty() || len(t.Events) == 0 {
		return Stretch{}
	}
	from := t.Follow(old, s.From)
	last := &t.Events[max(0, t.At(t.Follow(old, s.To-1)))]
	return Stretch{from, last.At + last.Length}
}

// passageAt is the passage that is danced at a beat, or the nearest.
func (t *Timeline) passageAt(beat routine.Beats) int {
	return t.Events[max(0, t.At(beat))].Passage
}
