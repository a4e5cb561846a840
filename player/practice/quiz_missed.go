package practice

import "slices"

// missed is a question that was answered wrong.
type missed struct {
	asked Question
	in    int // after how many other questions it comes back
}

// backAfter is how many other questions come before one that was answered wrong is asked again. A test
// after a few others keeps more than one at once, when the answer has only just been read.
//
// Source: Landauer & Bjork 1978, "Optimum rehearsal patterns and name learning" (from memory); the
// number is our own choice.
const backAfter = 3

// Answer takes in which option was chosen, and reports whether that is right. A question that was answered
// wrong comes back until it is answered right.
func (q *Quiz) Answer(asked Question, chosen int) bool {
	right := chosen == asked.Right
	q.missed = slices.DeleteFunc(q.missed, func(m missed) bool { return m.asked.Text == asked.Text })
	if !right {
		asked.Again = true
		q.missed = append(q.missed, missed{asked, backAfter})
	}
	return right
}

// Missed returns how many questions are still to come back.
func (q *Quiz) Missed() int { return len(q.missed) }

// again returns the question that is to come back now; ok is false if none is.
func (q *Quiz) again() (asked Question, ok bool) {
	for i := range q.missed {
		if m := &q.missed[i]; m.in == 0 && !ok {
			asked, ok = q.mixed(m.asked), true
		} else {
			m.in = max(m.in-1, 0)
		}
	}
	return asked, ok
}
