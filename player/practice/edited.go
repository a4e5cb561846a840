package practice

import (
	"slices"

	"dance.example/slowquick/player"
)

// On is s for a sheet that was edited since, with the exercises that are still to be
// danced where their figures are now, one after the other as before. Those that are not
// there any more are left out, and lost names them.
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

// edit knows what became of a sheet's passages.
type edit struct {
	was, line *player.Timeline
	before    []Figure // of was, by what they are now; zero for what is gone
	after     []Figure // of line
}

func newEdit(was, timeline *player.Timeline) edit {
	known := newAcquaintance(timeline.Score)
	e := edit{was: was, line: timeline, after: known.order}
	for i := range was.Score.Passages {
		e.before = append(e.before, known.now(FigureOf(was.Score.Dance, was.Score.Passages[i].Figure)))
	}
	return e
}

// exercise is an exercise of the sheet as it is now; ok is false if it is gone.
func (e edit) exercise(s Exercise) (now Exercise, ok bool) {
	if s.Kind == Breather {
		return s, true
	}
	if s.From < 0 || s.To <= s.From || s.To > len(e.before) || len(e.after) == 0 {
		return s, false
	}
	b := maker{e.line}
	if s.From == 0 && s.To == len(e.before) && s.Kind != DueFigure { // the whole stays the whole
		now = b.passages(s.Kind, 0, len(e.after), s.Dancers, s.Tempi, s.Passes)
		now.Why = s.Why
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
	now.Why = s.Why
	return now, true
}

// find is where passages that followed each other do so now: the same time of the
// times that the sheet dances them, or the last.
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

// runs is where a run of figures begins in a list.
func runs(list, wanted []Figure) (at []int) {
	for i := 0; i+len(wanted) <= len(list); i++ {
		if slices.Equal(list[i:i+len(wanted)], wanted) {
			at = append(at, i)
		}
	}
	return at
}
