package player

import "dance.example/slowquick/routine"

// LeadInNumber returns the number said and shown on a whole beat before the first step,
// which is at begins.
//
// A lead-in is counted back from the number on which the couple begins, so that the last
// number said is the one before it. Rumba and cha-cha begin on 2 and are counted in with
// "two three four one", salsa on 2 with "six seven eight one", as its numbers run to
// eight, waltz with "one two three". A beginning on 1 in four beats a bar is counted in
// with "five six seven eight" (common practice), over two bars with "one" to "eight". A
// first step between two beats follows the beat before it: "seven eight", then "& 1".
// Where a chart has no numbers, as in slow and quick, the beat of the bar is the number.
func (t *Timeline) LeadInNumber(beat, begins routine.Beats) int {
	at, n := t.firstNumber(begins)
	counts := t.counts
	if n == 1 && t.Score.Dance.Metre.Beats == 4 {
		counts = phraseCounts
	}
	back := int((at - beat).Floor(routine.Beat) / routine.Beat)
	return ((n-1-back)%counts+counts)%counts + 1
}

// LeadInNumber returns the number said and shown at m, in a lead-in.
func (m Moment) LeadInNumber() int {
	return m.Timeline.LeadInNumber(m.Beat.Floor(routine.Beat), m.Begins)
}

// firstNumber returns the first whole beat at or after a beat, and its number.
func (t *Timeline) firstNumber(from routine.Beats) (routine.Beats, int) {
	at := from.Ceil(routine.Beat)
	i := t.At(at)
	if i >= 0 && t.Events[i].At == at && t.Events[i].Row >= 0 {
		e := &t.Events[i]
		if c := t.Score.Passages[e.Passage].Figure.Rows[e.Row].Count; c.Kind == routine.Number {
			return at, c.First
		}
	}
	return at, t.Score.Dance.Metre.BeatNumber(at)
}
