package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// Marks lists marks, numbered for --clear.
func Marks(p Page, l *library.Library, marks []practice.OpenMark) {
	if len(marks) == 0 {
		fmt.Fprintln(p, "Nothing is marked.")
		return
	}
	rows := [][]string{{"", "WHAT", "PARTNER", "MARKED AT", "LAST", "TIMES"}}
	narrow := [][]string{{"", "WHAT"}}
	for i := range marks {
		m := &marks[i]
		number, what, tempo, last := strconv.Itoa(i+1), harmless.Masked(m.Piece.String()), tempoText(l, m.Figure.Dance, m.Tempo), m.At.Format(time.DateOnly)
		rows = append(rows, []string{number, what, m.Partner.String(), tempo, last, strconv.Itoa(m.Times)})
		narrow = append(narrow, []string{number, what, m.Partner.String() + ", " + tempo + ", " + last + ", " + times(m.Times)})
	}
	const what = 1
	fmt.Fprintln(p, strings.Join(p.table(rows, []int{what}, narrow, what), "\n"))
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// Merged says what was taken over.
func Merged(m diary.Merged) string {
	if m == (diary.Merged{}) {
		return "Nothing new: the diary had all of it."
	}
	var parts []string
	if m.RunThroughs > 0 || m.Practices > 0 {
		parts = append(parts, fmt.Sprintf("added %s of %s", routine.Plural(m.RunThroughs, "run-through"), routine.Plural(m.Practices, "new practice")))
	}
	if m.Timings > 0 {
		parts = append(parts, "added how steps were tapped "+times(m.Timings))
	}
	if m.TakenBack > 0 {
		parts = append(parts, "took "+routine.Plural(m.TakenBack, "mark")+" back")
	}
	text := strings.Join(parts, "; ")
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

// Diary prints how long was danced in each week, how well each figure is known, and how well steps were
// tapped lately.
func Diary(p Page, l *library.Library, r diary.Report, timings []diary.Timed) {
	printWeeks(p, r.Weeks)
	if len(r.Figures) > 0 {
		fmt.Fprintln(p)
		printKnown(p, l, r.Figures)
	}
	if len(timings) > 0 {
		const lately = 3
		fmt.Fprintln(p)
		Timings(p, l, timings[max(0, len(timings)-lately):])
	}
}

// printWeeks draws weeks as a chart that is as wide as the page.
func printWeeks(p Page, weeks []diary.Week) {
	most := 1.0 // minute
	for _, week := range weeks {
		most = max(most, week.Minutes)
	}
	const before = len("2026-09-07     0 min  ")
	fmt.Fprintln(p, "WEEK FROM   DANCED")
	for _, week := range weeks {
		minutes := fmt.Sprintf("%.0f", week.Minutes)
		if minutes == "0" && week.Minutes > 0 {
			minutes = "<1"
		}
		line := fmt.Sprintf("%s  %4s min  %s", week.Monday, minutes, term.Bar(week.Minutes/most, p.Columns-before-1))
		fmt.Fprintln(p, strings.TrimRight(line, " "))
	}
}

// printKnown lists the figures, dance by dance: how often they were danced and, of the times that a partner
// judged, how often they were clean, and how fast.
func printKnown(p Page, l *library.Library, figures []diary.Figure) {
	rows := [][]string{{"FIGURE", "DANCED", "LEADER CLEAN", "FOLLOWER CLEAN", "LAST"}}
	figures = slices.Clone(figures)
	slices.SortStableFunc(figures, func(x, y diary.Figure) int { return strings.Compare(x.Dance, y.Dance) })
	for i := range figures {
		k := &figures[i]
		unit, number := tempi(l, k.Dance)
		if i == 0 || k.Dance != figures[i-1].Dance {
			rows = append(rows, []string{harmless.Masked(k.Dance) + " (" + unit + ")", "", "", "", ""})
		}
		clean := func(partner routine.Partner) string {
			switch {
			case k.Judged[partner] == 0:
				return "not judged"
			case k.Clean[partner] == 0:
				return fmt.Sprintf("0 of %d", k.Judged[partner])
			}
			return fmt.Sprintf("%d of %d, %s", k.Clean[partner], k.Judged[partner], number(k.Best[partner]))
		}
		rows = append(rows, []string{harmless.Masked(k.Name), strconv.Itoa(k.RunThroughs), clean(routine.Leader), clean(routine.Follower), k.Last})
	}
	p.print(rows, 0)
}
