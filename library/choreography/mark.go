package choreography

import (
	"fmt"
	"math"
)

// Mark is one of the things by which a teacher would judge a routine.
type Mark struct {
	Of     string
	Points int // 0 to 10
	Why    string
}

// Score is what a teacher would say of a routine.
type Score []Mark

// Sum returns the score in hundredths: the mean of all marks.
func (s Score) Sum() int {
	sum := 0
	for _, m := range s {
		sum += m.Points
	}
	return (10*sum + len(s)/2) / max(1, len(s))
}

// add adds a mark of 0 to 1.
func (s *Score) add(of string, mark float64, why string, args ...any) {
	*s = append(*s, Mark{of, int(math.Round(10 * max(0, min(1, mark)))), fmt.Sprintf(why, args...)})
}
