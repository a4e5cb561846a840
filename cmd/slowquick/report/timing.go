package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/tapping"
	"dance.example/slowquick/player/timing"
)

// Timing prints what was measured.
func Timing(p Page, title string, r timing.Result) {
	lines := slices.Concat([]string{harmless.Masked(title)}, tapping.Picture(r, p.Columns), r.Words(), []string{tapping.Doubt(r)})
	fmt.Fprintln(p, strings.Join(lines, "\n"))
}

// Timings lists how well steps were tapped, the last time first.
func Timings(p Page, l *library.Library, list []diary.Timed) {
	if len(list) == 0 {
		fmt.Fprintln(p, "No steps were tapped.")
		return
	}
	rows := [][]string{{"WHEN", "SHEET", "TEMPO", "COUNT: MS LATE ± SPREAD", "IN SILENCE"}}
	for _, t := range slices.Backward(list) {
		var counts []string
		for _, c := range t.Counts {
			counts = append(counts, fmt.Sprintf("%s:%+d±%d", harmless.Masked(c.Name), c.Median.Round(time.Millisecond).Milliseconds(), c.Spread.Round(time.Millisecond).Milliseconds()))
		}
		silence := "–"
		if t.Drift != nil {
			silence = fmt.Sprintf("%+.1f %%", *t.Drift*100)
		}
		rows = append(rows, []string{t.At.Local().Format("2006-01-02 15:04"), harmless.Masked(t.Sheet.Title), tempoText(l, t.Sheet.Dance, t.Tempo),
			strings.Join(counts, "  "), silence})
	}
	const sheet, counts = 1, 3
	fmt.Fprintln(p, strings.Join(p.table(rows, []int{sheet, counts}, rows, sheet), "\n"))
	fmt.Fprintln(p, "In milliseconds: + is late, − early. In silence + is slower.")
}
