package report

import (
	"fmt"

	"dance.example/slowquick/library/choreography"
)

// Why prints how a routine is made, and its marks.
func Why(p Page, lines []string, score choreography.Score) {
	for _, line := range lines {
		fmt.Fprintln(p, p.Wrapped(line, "", "  "))
	}
	fmt.Fprintf(p, "Marks: %d of 100\n", score.Sum())
	for _, m := range score {
		fmt.Fprintf(p, "  %-8s %2d  %s\n", m.Of, m.Points, m.Why)
	}
}
