package player

import "dance.example/slowquick/routine"

// phraseCounts is how far a teacher counts on, in beats.
const phraseCounts = 8

// countsTo is after how many beats the numbers of a routine begin again: as many whole
// bars as its charts count through, up to eight beats. Salsa's 1 2 3, 5 6 7 come to
// eight, cha-cha's 2 3 4 & 1 to four.
func countsTo(s *routine.Score) int {
	highest := 0
	for i := range s.Passages {
		p := &s.Passages[i]
		for _, r := range p.Figure.Rows[p.From:p.To] {
			if r.Count.Kind == routine.Number {
				highest = max(highest, r.Count.First, r.Count.Last)
			}
		}
	}
	beats := s.Dance.Metre.Beats
	bars := (highest + beats - 1) / beats
	return beats * max(1, min(bars, phraseCounts/beats))
}

// LeadInNumber is what is said, and shown, on a whole beat before the first step, at begins.
//
// A lead-in is counted back from the number on which the couple begins, so that the
// last number said is the one before it: rumba and cha-cha, on 2, are counted in with
// "two three four one", salsa on 2 with "six seven eight one", as its numbers run to
// eight, waltz with "one two three". To a 1 of four beats a bar, four of "five six
// seven eight" lead (common practice), and from further off "one" to "eight". A step
// between two beats is led to by the beat before it: "seven eight" and then "& 1".
// Where a chart tells no number, as in slow and quick, the beat of the bar is its number.
func (t *Timeline) LeadInNumber(beat, begins routine.Beats) int {
	at, n := t.firstNumber(begins)
	counts := t.counts
	if n == 1 && t.Score.Dance.Metre.Beats == 4 {
		counts = phraseCounts
	}
	back := int((at - beat).Floor(routine.Beat) / routine.Beat)
	return ((n-1-back)%counts+counts)%counts + 1
}

// firstNumber is the first whole beat from a beat on, and its number.
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
