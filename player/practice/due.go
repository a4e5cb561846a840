package practice

import (
	"strings"

	"dance.example/slowquick/routine"
)

// Due is how much a routine wants to be practised on a day.
type Due struct {
	Marked  int // figures and joins with an open mark
	Figures int // figures that are due, by either partner who has danced them
	New     int // figures of which nobody has said how they went
	Days    int // how long the first of them has been due; 0 if none is
	Next    Day // when the first figure is due, if none is yet
	Danced  bool
	Urgency float64 // how much is likely forgotten or went wrong; 0 if nothing that was danced is due
}

// DueOf returns what of a routine is due on a day.
func DueOf(s *routine.Score, past *History, d Day) (due Due) {
	first := false
	marks := map[Piece]int{}
	for _, m := range past.Marks() {
		marks[m.Piece]++
	}
	for _, at := range placesOf(s) {
		known, isDue := false, false
		for _, partner := range routine.Partners() {
			r := past.Of(at.Piece, partner)
			due.Danced = due.Danced || r.Passes > 0
			if at.Join() || r.New() {
				continue
			}
			known = true
			if r.Due() <= d {
				isDue = true
				due.Urgency += 1 - r.Recall(d)
				due.Days = max(due.Days, int(d-r.Due()))
			}
			if !first || r.Due() < due.Next {
				first, due.Next = true, r.Due()
			}
		}
		due.Marked += count(marks[at.Piece] > 0)
		due.Urgency += float64(marks[at.Piece])
		if !at.Join() {
			due.Figures += count(isDue)
			due.New += count(!known)
		}
	}
	return due
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// String says why to practise it: "2 marks, 3 figures due, 5 days overdue".
func (due Due) String() string {
	if !due.Danced {
		return "not danced yet"
	}
	var why []string
	if due.Marked > 0 {
		why = append(why, routine.Plural(due.Marked, "mark"))
	}
	if due.Figures > 0 {
		why = append(why, routine.Plural(due.Figures, "figure")+" due")
	}
	if due.Days > 0 {
		why = append(why, routine.Plural(due.Days, "day")+" overdue")
	}
	if due.New > 0 {
		why = append(why, routine.Plural(due.New, "new figure"))
	}
	if len(why) == 0 {
		return "nothing due until " + due.Next.String()
	}
	return strings.Join(why, ", ")
}

// Before reports whether to practise a routine before another.
func (due Due) Before(other Due) bool {
	switch {
	case due.Urgency != other.Urgency:
		return due.Urgency > other.Urgency
	case (due.New > 0) != (other.New > 0):
		return due.New > 0
	}
	return due.Danced && other.Danced && due.Next < other.Next
}
