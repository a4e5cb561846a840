package practice

import "slices"

// missed are the questions that were answered wrong, in the order in which they come back.
type missed []comesBack

// comesBack is a question that is asked again.
type comesBack struct {
	asked Question
	in    int // after how many other questions
}

// backAfter is how many other questions come before one that was answered wrong is asked again. A test
// after a few others keeps more than one at once, when the answer has only just been read.
//
// Source: Landauer & Bjork 1978, "Optimum rehearsal patterns and name learning" (from memory); the
// number is our own choice.
const backAfter = 3

// answered takes in whether a question was answered right.
func (l *missed) answered(asked Question, right bool) {
	*l = slices.DeleteFunc(*l, func(m comesBack) bool { return m.asked.Text == asked.Text })
	if !right {
		asked.Again = true
		*l = append(*l, comesBack{asked, backAfter})
	}
}

// due returns the question that is to come back now; ok is false if none is. The others come nearer.
func (l missed) due() (asked Question, ok bool) {
	for i := range l {
		if m := &l[i]; m.in == 0 && !ok {
			asked, ok = m.asked, true
		} else {
			m.in = max(m.in-1, 0)
		}
	}
	return asked, ok
}
