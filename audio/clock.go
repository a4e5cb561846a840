package audio

import (
	"fmt"
	"math"
)

// Clock writes a length, or a place in a recording, in minutes and seconds: "3:07".
// An hour is "60:00".
func Clock(seconds float64) string {
	n := int(math.Round(seconds))
	return fmt.Sprintf("%d:%02d", n/60, n%60)
}
