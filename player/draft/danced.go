package draft

import "dance.example/slowquick/routine"

// dancedLine says which of the score's items begin where a line of the order begins, and which end where it
// ends: one of each for every time that the line is danced, which may be more than once in a part.
type dancedLine struct{ begins, ends []int }

// dancedLines returns where each line of an order is danced.
func dancedLines(order *routine.OrderText, s *routine.Score) []dancedLine {
	list := make([]dancedLine, order.Len())
	lines := map[int]int{} // by their offsets
	line := func(at routine.Span) *dancedLine {
		i, ok := lines[at.Start.Offset]
		if !ok {
			i = order.At(at.Start.Offset)
			lines[at.Start.Offset] = i
		}
		if i < 0 {
			return &dancedLine{}
		}
		return &list[i]
	}
	for i := range s.Items {
		for _, at := range s.Items[i].Opens {
			l := line(at)
			l.begins = append(l.begins, i)
		}
		for _, at := range s.Items[i].Closes {
			l := line(at)
			l.ends = append(l.ends, i)
		}
	}
	return list
}
