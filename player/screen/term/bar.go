package term

import (
	"math"
	"slices"
	"strings"
)

// Bar draws a share of a width, to the eighth of a column.
func Bar(share float64, width int) string {
	eighths := int(math.Round(share * float64(max(width, 1)) * 8))
	return strings.Repeat("█", eighths/8) + []string{"", "▏", "▎", "▍", "▌", "▋", "▊", "▉"}[eighths%8]
}

// Heights draws values as bars of eight heights, a column each; the highest is full.
func Heights(values []float64) string {
	const heights = " ▁▂▃▄▅▆▇█"
	steps := []rune(heights)
	most := max(slices.Max(values), 1e-9)
	var out strings.Builder
	for _, v := range values {
		out.WriteRune(steps[int(math.Round(v/most*float64(len(steps)-1)))])
	}
	return out.String()
}
