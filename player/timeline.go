package player

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"dance.example/slowquick/routine"
)

// Timeline is a routine as a list of events to count and step, in order. It is immutable.
type Timeline struct {
	Score  *routine.Score
	Events []Event
	Start  routine.Beats // where the first step begins
	End    routine.Beats // where the last step ends
	tempo  tempoMap
	music  *Music // the song it is danced to; nil for none
	places places // set only with music
	counts int    // the number of beats after which the charts' counts start again
}

// Event is a beat, or a count between two beats, on which something is counted or stepped.
type Event struct {
	At      routine.Beats
	Length  routine.Beats // until the next event
	Bar     int           // from 1
	Beat    int           // in the bar, from 1; between two beats, the earlier one
	Split   bool          // lies between two beats
	Accent  bool          // a beat that the dance accents
	Phrase  int           // from 1
	Passage int           // index into Score.Passages
	Row     int           // index into the figure's rows; -1 if none begins here
	// Steps holds the steps that begin here, by partner; nil while a partner continues
	// the step before.
	Steps [2]*routine.Step
	// Labels is the count in each style; empty where nothing is said.
	Labels Labels
}

// Labels is a count in each [routine.CountStyle].
type Labels struct {
	Count     string
	SlowQuick string
	Words     string
}

// In returns the label in a style.
func (l Labels) In(s routine.CountStyle) string {
	switch s {
	case routine.SlowQuick:
		return l.SlowQuick
	case routine.InWords:
		return l.Words
	}
	return l.Count
}

// NewTimeline returns the timeline of a score; it is empty if the score has no passages.
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

// passage appends the events of one passage: its rows, and the beats between them.
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
		for partner := range e.Steps {
			if r.Written[partner] {
				e.Steps[partner] = &r.Steps[partner]
			}
		}
		t.Events = append(t.Events, e)
		next = at + 1
	}
	beats(p.End)
}

// heldLabels returns the count of a beat on which no row begins: its number in the bar, or
// nothing if the figure is counted in slows and quicks.
func (t *Timeline) heldLabels(p *routine.Passage, at routine.Beats) Labels {
	if k := p.Figure.Rows[p.From].Count.Kind; k == routine.Slow || k == routine.Quick {
		return Labels{}
	}
	n := t.Score.Dance.Metre.BeatNumber(at)
	return Labels{Count: strconv.Itoa(n), Words: numberWord(n)}
}

// At returns the index of the event under way at a beat, which is the last one to begin by
// then; -1 before the first.
func (t *Timeline) At(beat routine.Beats) int {
	i, found := slices.BinarySearchFunc(t.Events, beat, func(e Event, b routine.Beats) int { return cmp.Compare(e.At, b) })
	if found {
		return i
	}
	return i - 1
}

// Seconds returns when a beat falls at full tempo, in seconds from the first step.
func (t *Timeline) Seconds(beat routine.Beats) float64 {
	return t.tempo.seconds(beat) - t.tempo.seconds(t.Start)
}

// Tempo returns the tempo at a beat.
func (t *Timeline) Tempo(beat routine.Beats) routine.Tempo { return t.tempo.at(beat) }

// Bar returns the bar in which a beat lies, clipped to the routine.
func (t *Timeline) Bar(beat routine.Beats) Interval {
	bar := t.Score.Dance.Metre.Bar()
	from := beat.Floor(bar)
	return Interval{max(from, t.Start), min(from+bar, t.End)}
}

// Interval is a part of a timeline, from one beat up to, but not including, another.
type Interval struct {
	From routine.Beats `json:"from"`
	To   routine.Beats `json:"to"`
}

// Empty reports whether s contains no beats.
func (s Interval) Empty() bool { return s.To <= s.From }

// Contains reports whether a beat lies in s.
func (s Interval) Contains(b routine.Beats) bool { return s.From <= b && b < s.To }

// Passage returns the interval of one passage.
func (t *Timeline) Passage(index int) Interval {
	p := &t.Score.Passages[index]
	return Interval{p.Start, p.End}
}

// ParseItems returns the interval of some items of the order, which are numbered from 1: "2" or "2-3".
func (t *Timeline) ParseItems(text string) (Interval, error) {
	first, last, isRange := strings.Cut(strings.ReplaceAll(text, "–", "-"), "-")
	if !isRange {
		last = first
	}
	most := len(t.Score.Items)
	from, err1 := strconv.Atoi(strings.TrimSpace(first))
	to, err2 := strconv.Atoi(strings.TrimSpace(last))
	if err1 != nil || err2 != nil || from < 1 || to < from || to > most {
		return Interval{}, fmt.Errorf("%q names no figures of the order, which has 1 to %d", text, most)
	}
	var s Interval
	for i, p := range t.Score.Passages {
		if p.Item+1 == from && s.To == 0 {
			s.From = t.Passage(i).From
		}
		if p.Item+1 >= from && p.Item+1 <= to {
			s.To = t.Passage(i).To
		}
	}
	return s, nil
}

// Counting is how the dance is counted. What is unset is left to the sheet.
type Counting struct {
	Style    routine.CountStyle
	Language routine.Language
}

// Style returns how an event is counted: as chosen, or else as its item or the sheet says.
func (t *Timeline) Style(event int, chosen Counting) routine.CountStyle {
	item := &t.Score.Items[t.Score.Passages[t.Events[event].Passage].Item]
	return cmp.Or(chosen.Style, item.Style, t.Score.Style, routine.AsCounted)
}

// Language returns what is counted in: what was chosen, or else what the sheet says.
func (t *Timeline) Language(chosen Counting) routine.Language {
	return cmp.Or(chosen.Language, t.Score.Language, routine.English)
}

// Said returns the label that is said on an event, or in the lead-in before it; "" for none.
func (t *Timeline) Said(l Labels, event int, chosen Counting) string {
	return t.Language(chosen).Says(l.In(t.Style(event, chosen)))
}

// Join returns the interval in which a passage meets the next: its last bar and the first
// bar of the next.
func (t *Timeline) Join(passage int) Interval {
	bar := t.Score.Dance.Metre.Bar()
	before, after := t.Passage(passage), t.Passage(passage+1)
	s := Interval{max(before.From, before.To-bar), min(after.To, after.From+bar)}
	// It must not begin in the middle of an event.
	if i := t.At(s.From); t.Events[i].At < s.From {
		s.From = t.Events[min(i+1, len(t.Events)-1)].At
	}
	return s
}

// startFrom returns where a couple that stands at a beat begins to dance: there, or at the
// start of the loop if that is elsewhere, or of the routine if it is over.
func (t *Timeline) startFrom(beat routine.Beats, loop Interval) routine.Beats {
	switch {
	case !loop.Empty() && !loop.Contains(beat):
		return loop.From
	case beat >= t.End:
		return t.Start
	}
	return beat
}

// Rejoins reports whether an interval can be looped: whether each partner ends it with
// the foot free that begins it, as far as the steps say.
func (t *Timeline) Rejoins(s Interval) bool {
	for _, p := range routine.Partners() {
		first, weight := routine.NoFoot, routine.NoFoot // the foot that begins, and the one with the weight at the end
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

// Follow returns the place in t that corresponds to a place in an older timeline: the same
// step in the same figure's nth passage, or else the same beat, kept within t.
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

// followInterval returns the interval that corresponds to one in an older timeline.
func (t *Timeline) followInterval(old *Timeline, s Interval) Interval {
	if s.Empty() || len(t.Events) == 0 {
		return Interval{}
	}
	from := t.Follow(old, s.From)
	last := &t.Events[max(0, t.At(t.Follow(old, s.To-1)))]
	return Interval{from, last.At + last.Length}
}

// PassageAt returns the index of the passage danced at a beat, or of the nearest one.
func (t *Timeline) PassageAt(beat routine.Beats) int {
	return t.Events[max(0, t.At(beat))].Passage
}
