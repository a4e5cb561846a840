package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/progress"
	"dance.example/slowquick/player/screen/term"
)

// besideTrend is the room for what stands beside a picture of weeks.
const besideTrend = 68

// Progress draws how the last weeks went, each picture with its numbers.
func Progress(p Page, l *library.Library, went progress.Progress, danced []diary.Week) {
	weeks := len(went.Mondays)
	seen := min(weeks, max(p.Columns-besideTrend, 4)) // weeks that are drawn
	head := fmt.Sprintf("Progress since %s, a column a week", went.Mondays[0].Format(time.DateOnly))
	if seen < weeks {
		head += fmt.Sprintf(" for the last %d", seen)
	}
	fmt.Fprintln(p, strings.Join(p.Lines(head), "\n")+"\n")
	minutes, marks := make([]float64, weeks), make([]float64, weeks)
	for i := range danced {
		minutes[i] = danced[i].Minutes
	}
	for i, n := range went.Marks {
		marks[i] = float64(n)
	}
	lines := [][]string{
		{"minutes", trend(minutes, seen), inNumbers(went, minutes)},
		{"marks", trend(marks, seen), inNumbers(went, marks)},
	}
	p.print(lines, 2)
	if len(went.Figures) == 0 {
		return
	}
	rows := [][]string{{"FIGURE", "CLEAN", "AT", "KNOWN TODAY", "MARKS"}}
	slices.SortStableFunc(went.Figures, func(x, y progress.Figure) int { return strings.Compare(x.Dance, y.Dance) })
	for i := range went.Figures {
		f := &went.Figures[i]
		if i == 0 || f.Dance != went.Figures[i-1].Dance {
			unit, _ := tempi(l, f.Dance)
			rows = append(rows, []string{harmless.Masked(f.Dance) + " (" + unit + ")", "", "", "", ""})
		}
		rows = append(rows, []string{harmless.Masked(f.Name), tempoTrend(f, seen), tempiInNumbers(l, f), known(f), strconv.Itoa(f.Open)})
	}
	fmt.Fprintln(p)
	p.print(rows, 0)
}

// trend draws the last of some values as columns; a dot stands for none.
func trend(values []float64, last int) string {
	return strings.ReplaceAll(term.Heights(values[len(values)-last:]), " ", "·")
}

// tempoTrend draws the tempi at which a figure was clean, from the slowest to the fastest.
func tempoTrend(f *progress.Figure, last int) string {
	slowest, fastest := math.Inf(1), 0.0
	for _, t := range f.Clean {
		if t > 0 {
			slowest, fastest = min(slowest, t.Float()), max(fastest, t.Float())
		}
	}
	heights := make([]float64, len(f.Clean))
	for i, t := range f.Clean {
		switch {
		case t > 0 && fastest > slowest:
			heights[i] = 1 + 7*(t.Float()-slowest)/(fastest-slowest)
		case t > 0:
			heights[i] = 8
		}
	}
	return trend(heights, last)
}

// inNumbers says what a picture of weeks shows.
func inNumbers(went progress.Progress, values []float64) string {
	most, all := 0, 0.0
	for i, v := range values {
		all += v
		if v > values[most] {
			most = i
		}
	}
	text := fmt.Sprintf("this week %.0f, in all %.0f", values[len(values)-1], all)
	if all > 0 {
		text += fmt.Sprintf(", most %.0f (%s)", values[most], went.Mondays[most].Format(time.DateOnly))
	}
	return text
}

// tempiInNumbers says from which tempo to which a figure was clean.
func tempiInNumbers(l *library.Library, f *progress.Figure) string {
	first, last, best := f.Span()
	_, number := tempi(l, f.Dance)
	switch {
	case best == 0:
		return "never"
	case first == last && last == best:
		return number(best)
	case best > last:
		return fmt.Sprintf("%s to %s, best %s", number(first), number(last), number(best))
	}
	return number(first) + " to " + number(last)
}

// known says how likely a figure is remembered.
func known(f *progress.Figure) string {
	if f.Known < 0 {
		return "not judged"
	}
	const wide = 6
	return fmt.Sprintf("%.0f %% %s", 100*f.Known, term.Bar(f.Known, wide))
}
