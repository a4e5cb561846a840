package audio

import (
	"fmt"
	"math"
)

// Clock returns a length, or a place in a recording, in minutes and seconds, "3:07",
// or with hours if there are any, "1:00:00".
func Clock(seconds float64) string {
	n := int(math.Round(seconds))
	if n >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", n/3600, n/60%60, n%60)
	}
	return fmt.Sprintf("%d:%02d", n/60, n%60)
}
