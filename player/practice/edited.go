package practice

import (
	"slices"

	"dance.example/slowquick/player"
)

// On returns s for a sheet that has been edited: the exercises still to be danced move to where their
// figures now follow each other as before. It leaves out those whose figures no longer do, and lost
// names them.
func (s Session) On(was, timeline *player.Timeline) (now Session, lost []string) {
	e := newEdit(was, timeline)
	now = s
	now.Exercises = slices.Clone(s.Exercises[:min(s.Done, len(s.Exercises))])
	for _, st := range s.Exercises[len(now.Exercises):] {
		moved, ok := e.exercise(st)
		switch {
		case ok:
			now.Exercises = append(now.Exercises, moved)
		case !slices.Contains(lost, st.What):
			lost = append(lost, st.What)
		}
	}
	return now, lost
}

// edit is the change from one form of a sheet to another.
type edit struct {
	was, timeline *player.Timeline
	before        []Figure // the figures of was, in their present form; zero if gone
	after         []Figure // the figures of the present form
}

func newEdit(was, timeline *player.Timeline) edit {
	known := newAcquaintance(timeline.Score)
	e := edit{was: was, timeline: timeline, after: known.order}
	for _, fig := range figuresOf(was.Score) {
		e.before = append(e.before, known.now(fig))
	}
	return e
}

// exercise returns s for the edited sheet; ok is false if its figures are gone.
func (e edit) exercise(s Exercise) (now Exercise, ok bool) {
	if s.Kind == Breather {
		return s, true
	}
	if s.From < 0 || s.To <= s.From || s.To > len(e.before) || len(e.after) == 0 {
		return s, false
	}
	b := maker{e.timeline}
	if s.From == 0 && s.To == len(e.before) && s.Kind.whole() { // the whole stays the whole
		now = b.passages(s.Kind, 0, len(e.after), s.Dancers, s.Tempi, s.Passes)
		now.Why, now.ByHeart = s.Why, s.ByHeart
		return now, true
	}
	from, ok := e.find(s.From, s.To)
	if !ok {
		return s, false
	}
	if s.To-s.From == 2 && s.Part == e.was.Join(s.From) {
		now = b.join(s.Kind, from+1, s.Dancers, s.Tempi, s.Passes)
	} else {
		now = b.passages(s.Kind, from, from+s.To-s.From, s.Dancers, s.Tempi, s.Passes)
	}
	now.Why, now.ByHeart = s.Why, s.ByHeart
	return now, true
}

// whole reports whether an exercise of all figures is one of the whole, however many there are.
func (k Kind) whole() bool {
	return k != ShakyJoin && k != DueFigure && k != InPlace && k != Mixed && k != Ending
}

// find returns where the same run of figures starts now. If it occurs several times, the nth stays the
// nth, or becomes the last.
func (e edit) find(from, to int) (at int, ok bool) {
	wanted := e.before[from:to]
	if slices.Contains(wanted, Figure{}) {
		return 0, false
	}
	times := runs(e.after, wanted)
	if len(times) == 0 {
		return 0, false
	}
	nth, _ := slices.BinarySearch(runs(e.before, wanted), from)
	return times[min(nth, len(times)-1)], true
}

// runs returns where each occurrence of a run of figures begins in a list.
func runs(list, wanted []Figure) (at []int) {
	for i := 0; i+len(wanted) <= len(list); i++ {
		if slices.Equal(list[i:i+len(wanted)], wanted) {
			at = append(at, i)
		}
	}
	return at
}
