package term

import (
	"strconv"
	"strings"
)

// Join makes a screen of height lines: head, then body, with foot at the bottom.
// What there is no room for is left out, of body first.
func Join(height int, head, body, foot []string) string {
	lines := append(append(make([]string, 0, height), head...), body...)
	lines = lines[:min(len(lines), max(0, height-len(foot)))]
	for len(lines)+len(foot) < height {
		lines = append(lines, "")
	}
	lines = append(lines, foot...)
	return strings.Join(lines[:min(len(lines), height)], "\n")
}

// FirstSeen returns the index of the first of n lines to show in rows, so that
// the chosen one is seen, in the middle where possible.
func FirstSeen(n, chosen, rows int) int { return max(0, min(chosen-rows/2, n-rows)) }

// Decimal writes f with at most one decimal place.
func Decimal(f float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(f, 'f', 1, 64), ".0")
}
