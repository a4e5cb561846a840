package term_test

import (
	"fmt"
	"strings"
	"testing"

	"dance.example/slowquick/player/screen/term"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestTablesFit: at any width from 40 on, wide or stacked, no line of a session's table is too wide, every
// word is whole and in order, and columns begin where their heads do.
func TestTablesFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[A-Za-zäöü]{1,14}`), 1, 9)
		rows := [][]string{{"AT", "TIME", "DANCE", "SIDE", "BARS/MIN", "PASSES", "WHY"}}
		for n := range rapid.IntRange(1, 8).Draw(t, "rows") {
			rows = append(rows, []string{fmt.Sprintf("%d:00", 7*n), "0:30", strings.Join(words.Draw(t, "dance"), " "), "follower", "28.5 to 31.5", "3",
				strings.Join(words.Draw(t, "why"), " ")})
		}
		width := rapid.IntRange(40, 220).Draw(t, "width")
		lines, from := term.Table(rows, []int{2, 6}, width), 0
		if lines == nil {
			lines, from = term.Stack(rows, 2, width), 2
		}
		var read []string
		for _, line := range lines {
			if term.Width(line) > width {
				t.Fatalf("%d columns, not %d: %q", term.Width(line), width, line)
			}
			read = append(read, strings.Fields(line)...)
		}
		var written []string
		for _, row := range rows {
			written = append(written, strings.Fields(strings.Join(row, " "))...)
		}
		require.ElementsMatch(t, written, read)
		if from > 0 { // all is below each other, so that even the order is as it was
			require.Equal(t, written, read)
		}
		column := strings.Index(lines[0], "DANCE")
		for _, line := range lines[1:] {
			require.Equal(t, "  ", string([]rune(line + strings.Repeat(" ", width))[column-2:column]), "%q", line)
		}
	})
}

// TestNoTableIsNarrowedForNothing: it is as wide as it needs to be, and no word is broken for it.
func TestNoTableIsNarrowedForNothing(t *testing.T) {
	rows := [][]string{{"AT", "WHY"}, {"0:00", "it went wrong, for the follower"}}
	assert.Equal(t, []string{"AT    WHY", "0:00  it went wrong, for the follower"}, term.Table(rows, []int{1}, 37))
	assert.Equal(t, []string{"AT    WHY", "0:00  it went wrong, for the", "      follower"}, term.Table(rows, []int{1}, 36))
	assert.Equal(t, []string{"AT    WHY", "0:00  it went", "      wrong, for", "      the", "      follower"}, term.Table(rows, []int{1}, 16))
	assert.Nil(t, term.Table(rows, []int{1}, 13))
	assert.Nil(t, term.Table(rows, nil, 36))
	assert.Equal(t, []string{"Windja", "mmer", "step"}, term.Words("Windjammer step", 6))
}
